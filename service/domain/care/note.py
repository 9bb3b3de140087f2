"""The care note as a whole: everything told, counted, screened, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from service.domain.care.amounts import Course, amount_rows
from service.domain.care.answer import (
    AmountRow,
    CareAnimal,
    CareNote,
    GivenProduct,
    Reproduction,
)
from service.domain.care.beside import MAINTENANCE, Guided, evidence_for, guided
from service.domain.care.counting import Label, ingredients_of, label_of
from service.domain.care.doses import units_of
from service.domain.care.given import given_beside, given_product
from service.domain.care.questions import Grounds, questions_for
from service.domain.care.reassessing import reassessments
from service.domain.care.request import CareRequest
from service.domain.care.schedule import Span, day_count, spans_of, stretches_of
from service.domain.care.screened import Screened, screen_course
from service.domain.care.watching import watch_for
from service.domain.common import Animal, Caution, origin_cautions
from service.domain.normalising import read_facts
from service.domain.rounding import significant
from service.reference.release import Reference

_AS_TOLD = Caution(
    "as_told", "caution", "What is given is written down as told; nobody compared it with the packs or saw the animal."
)
_WEIGHT_DIGITS = 9


class _Rests(Protocol):
    """A part of the note that rests on sources."""

    @property
    def source_ids(self) -> tuple[str, ...]:
        """Ids of the sources."""
        ...


@dataclass(frozen=True, slots=True)
class _Read:
    """The request, read: labels of products and then of other supplements, spans and units of the products."""

    labels: tuple[Label, ...]
    spans: tuple[tuple[Span, ...], ...]
    units: tuple[tuple[Decimal | None, ...], ...]
    guidance: Mapping[str, Guided]
    course: Course


def care_note(reference: Reference, request: CareRequest) -> CareNote:
    """Write the care note of one animal.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        The animal, what it is given from when, its medicines and conditions, and what its carer says.

    Returns
    -------
    CareNote
        The same for the same request and release: nothing in it comes from a clock.

    Raises
    ------
    InvalidInput
        If an amount cannot be read, or dates and phases contradict each other.
    UnknownIngredient, UnknownForm
        If a phase counts an amount of something that the release does not know.
    """
    read = _read(reference, request)
    products = len(request.products)
    rows = amount_rows(reference, read.course, read.guidance)
    screened = screen_course(
        reference,
        request,
        [{place: times for place, times in units.items() if place < products} for units in read.course.units],
    )
    given = tuple(_given(reference, request.animal, read, place) for place in range(products))
    evidence = evidence_for(reference, (row.ingredient for row in rows))
    again = reassessments(rows, _begins(reference, read), read.guidance, read.course.count)
    grounds = Grounds(request.animal, given, rows, evidence, screened.screen, again)
    questions = questions_for(reference, grounds, request.questions)
    signs = watch_for(reference, screened.screen.findings, screened.conditions, request.animal)
    first = again[0] if again else None
    resting: tuple[_Rests, ...] = (*screened.screen.findings, *signs, *again, *evidence, *questions)
    return CareNote(
        note_date=request.note_date,
        start_date=read.course.count.start,
        animal=_animal(request),
        given=given,
        amounts=rows,
        evidence=evidence,
        medications=screened.medications,
        other_supplements=tuple(given_beside(reference, label) for label in read.labels[products:]),
        conditions=screened.conditions,
        traits=screened.traits,
        observations=request.observations,
        screen=screened.screen,
        questions=questions,
        reassess_on=first.on_date if first else None,
        reassess_on_day=first.on_day if first else None,
        reassess_after_days=first.after_days if first else None,
        reassessments=again,
        watch_for=signs,
        reproduce=_reproduction(reference, request),
        cautions=_cautions(screened, rows),
        source_ids=_sources(rows, resting),
    )


def _sources(rows: Iterable[AmountRow], resting: Iterable[_Rests]) -> tuple[str, ...]:
    """Join the sources of guidance and of everything else, each once."""
    named = [row.guidance.source_ids for row in rows if row.guidance is not None]
    named += [one.source_ids for one in resting]
    return tuple(dict.fromkeys(id_ for ids in named for id_ in ids))


def _read(reference: Reference, request: CareRequest) -> _Read:
    count = day_count(request)
    told = [(one.product, f"products/{index}") for index, one in enumerate(request.products)]
    told += [(product, f"other_supplements/{index}") for index, product in enumerate(request.other_supplements)]
    labels = tuple(
        label_of(reference, product, read_facts(reference, product, where), where) for product, where in told
    )
    every = {id_ for label in labels for id_ in ingredients_of(reference, label)}
    spans = tuple(spans_of(one, index, count) for index, one in enumerate(request.products))
    every |= {span.told.ingredient for row in spans for span in row if span.told and span.told.ingredient}
    known = [id_ for id_ in sorted(every) if id_ in reference.ingredients]
    guidance = {id_: guided(reference, request.animal, id_) for id_ in known}
    units = tuple(
        tuple(_units(reference, request.animal, label, span, guidance) for span in row)
        for label, row in zip(labels, spans, strict=False)
    )
    return _Read(labels, spans, units, guidance, _course(labels, spans, units, request))


def _units(
    reference: Reference, animal: Animal, label: Label, span: Span, guidance: Mapping[str, Guided]
) -> Decimal | None:
    told = guidance.get(span.told.ingredient or "") if span.told is not None else None
    form = told.form if told is not None else None
    return units_of(reference, animal, label.product, label.facts, span, form)


def _course(
    labels: tuple[Label, ...],
    spans: Sequence[Sequence[Span]],
    units: Sequence[Sequence[Decimal | None]],
    request: CareRequest,
) -> Course:
    of_span: dict[Span, Decimal | None] = {}
    for row, amounts in zip(spans, units, strict=True):
        of_span.update(zip(row, amounts, strict=True))
    stretches = stretches_of(span for row in spans for span in row)
    # What else the animal gets has no dates of its own: it is given all along.
    always = {
        len(request.products) + index: product.units_per_day for index, product in enumerate(request.other_supplements)
    }
    per_stretch = tuple(
        {**{place: of_span[span] for place, span in stretch.spans.items()}, **always} for stretch in stretches
    )
    return Course(labels, stretches, per_stretch, day_count(request))


def _begins(reference: Reference, read: _Read) -> dict[str, int]:
    """Find the first day, from 0, on which each ingredient is given."""
    found: dict[str, int] = {}
    for stretch, units in zip(read.course.stretches, read.course.units, strict=True):
        for place in units:
            for id_ in ingredients_of(reference, read.labels[place]):
                found.setdefault(id_, stretch.from_day)
    return found


def _given(reference: Reference, animal: Animal, read: _Read, place: int) -> GivenProduct:
    label = read.labels[place]
    doses = [
        phase.divided_doses
        for id_ in ingredients_of(reference, label)
        if (phase := read.guidance[id_].phases.get(MAINTENANCE)) is not None
    ]
    spans = tuple(zip(read.spans[place], read.units[place], strict=True))
    return given_product(reference, label, spans, max(doses, default=1), read.course.count)


def _animal(request: CareRequest) -> CareAnimal:
    animal = request.animal
    weight = animal.weight_kg
    return CareAnimal(
        name=request.name,
        identification=request.identification,
        species=animal.species,
        weight_kg=significant(weight, _WEIGHT_DIGITS).normalize() if weight is not None else None,
        age_years=animal.age_years,
        traits=request.traits,
    )


def _reproduction(reference: Reference, request: CareRequest) -> Reproduction:
    version = reference.stamp.version
    return Reproduction(
        dataset=version,
        inputs_sha256=request.inputs_sha256,
        text=(
            f"Nothing was stored. The same inputs give this note again, byte for byte, from dataset release {version}; "
            "the checksum tells whether inputs are the same."
        ),
    )


def _cautions(screened: Screened, rows: Iterable[AmountRow]) -> tuple[Caution, ...]:
    origins = {row.guidance.origin for row in rows if row.guidance is not None}
    return tuple(dict.fromkeys((_AS_TOLD, *screened.cautions, *origin_cautions(origins | {"common_practice"}))))
