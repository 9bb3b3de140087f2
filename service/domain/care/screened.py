"""The screen of everything that is given, over all stretches of the course."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from itertools import chain
from typing import TypeVar

from service.domain.care.answer import CareFinding, CareScreen, ReasonCount, Told
from service.domain.care.naming import name_of
from service.domain.care.request import CareRequest
from service.domain.common import Caution
from service.domain.products import Product
from service.domain.screening import ScreenRequest, screen
from service.domain.screening_answers import Finding, NotAssessed, ScreenAnswer, highest, rank
from service.reference.release import Reference

VERDICTS = ("stop", "ask_veterinarian", "incomplete", "nothing_found")
Units = Mapping[int, Decimal | None]
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Screened:
    """What all screens say together, and what words were taken as."""

    screen: CareScreen
    medications: tuple[Told, ...]
    conditions: tuple[Told, ...]
    traits: tuple[Told, ...]
    cautions: tuple[Caution, ...]


def screen_course(reference: Reference, request: CareRequest, course: Sequence[Units]) -> Screened:
    """Screen every stretch of days that is not contained in another.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        The animal and everything that goes with it.
    course
        For each stretch, units a day by position of the product; ``None`` where nobody says how many.

    Returns
    -------
    Screened
        The gravest verdict; findings, gaps and cautions of all screens, each once.

    Raises
    ------
    InvalidInput
        If an amount on a label cannot be read.
    """
    answers = [_screen(reference, request, units) for units in maximal(course)]
    names = _names_of_products(request)
    findings = [_named(reference, finding, names) for finding in _once(answer.findings for answer in answers)]
    findings.sort(key=lambda finding: -rank(finding.level))
    gaps = _once(answer.not_assessed for answer in answers)
    shown = CareScreen(
        verdict=min((answer.verdict for answer in answers), key=VERDICTS.index),
        highest_level=highest(finding.level for finding in findings) if findings else None,
        findings=tuple(findings),
        unrecognised=_once(answer.unrecognised for answer in answers),
        not_assessed=tuple(gap for gap in gaps if not _is_of_two_ingredients(reference, gap)),
        not_assessed_counts=_counts(gaps),
    )
    return Screened(
        screen=shown,
        medications=_told(request.medications, "medications", answers),
        conditions=_told(request.conditions, "conditions", answers),
        traits=_told(request.traits, "traits", answers),
        cautions=_once(answer.cautions for answer in answers),
    )


def maximal(course: Sequence[Units]) -> list[Units]:
    """Leave out the stretches on which no product is given more than on another one.

    Parameters
    ----------
    course
        For each stretch, units a day by position of the product.

    Returns
    -------
    list of Mapping
        What a smaller amount brings is found with the larger one too, so maintenance is judged with its loading.
    """
    found: list[Units] = []
    for units in course:
        if not any(_contains(other, units) for other in found):
            found = [other for other in found if not _contains(units, other)]
            found.append(units)
    return found


def _contains(larger: Units, smaller: Units) -> bool:
    return all(place in larger and _at_least(larger[place], times) for place, times in smaller.items())


def _at_least(larger: Decimal | None, smaller: Decimal | None) -> bool:
    return larger == smaller if larger is None or smaller is None else larger >= smaller


def _screen(reference: Reference, request: CareRequest, units: Units) -> ScreenAnswer:
    given: list[Product] = [
        replace(request.products[place].product, units_per_day=times) for place, times in sorted(units.items())
    ]
    return screen(
        reference,
        ScreenRequest(
            animal=request.animal,
            products=tuple(given),
            other_supplements=request.other_supplements,
            medications=request.medications,
            conditions=request.conditions,
            traits=request.traits,
        ),
    )


def _once(several: Iterable[Sequence[_T]]) -> tuple[_T, ...]:
    return tuple(dict.fromkeys(chain.from_iterable(several)))


def _names_of_products(request: CareRequest) -> dict[str, str]:
    every = [*(told.product for told in request.products), *request.other_supplements]
    return {product.id: product.name for product in every if product.name is not None}


def _named(reference: Reference, finding: Finding, names: Mapping[str, str]) -> CareFinding:
    members = {field.name: getattr(finding, field.name) for field in fields(Finding)}
    return CareFinding(**members, subject_names=tuple(name_of(reference, id_, names) for id_ in finding.subjects))


def _is_of_two_ingredients(reference: Reference, gap: NotAssessed) -> bool:
    return gap.a in reference.ingredients and gap.b in reference.ingredients


def _counts(gaps: Sequence[NotAssessed]) -> tuple[ReasonCount, ...]:
    reasons = dict.fromkeys(gap.reason for gap in gaps)
    return tuple(ReasonCount(reason, sum(gap.reason == reason for gap in gaps)) for reason in reasons)


def _told(texts: Sequence[str], where: str, answers: Sequence[ScreenAnswer]) -> tuple[Told, ...]:
    taken = [one for one in _once(answer.taken_as for answer in answers) if one.where == where]
    denied = [one.text for answer in answers for one in answer.statements if one.where == where]
    unknown = [one.text for answer in answers for one in answer.unrecognised if one.where == where]
    parts = {*denied, *unknown, *(one.text for one in taken)}
    found = []
    for text in texts:
        # The screen takes "insulin, carprofen" apart; a text that it left whole is not looked for inside others.
        own = {text} if text in parts else {part for part in parts if part in text}
        understood = bool(own) and not own & {*unknown}
        found.append(Told(text, understood, tuple(one for one in taken if one.text in own)))
    return tuple(found)
