"""What was eaten: one name in plain words, or an id, to the harmful substances in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from service.domain.errors import InvalidInput, Issue, UnknownSubstance
from service.domain.fact_names import FactReading, read_fact_name
from service.domain.label_text import words
from service.domain.near_misses import NearMiss
from service.domain.resolving import resolver_for
from service.domain.screening_medicine_names import read_medicines
from service.reference.records import Form, Hazard
from service.reference.release import Reference


@dataclass(frozen=True, slots=True)
class Substance:
    """One thing that was eaten. ``hazards`` is empty for what is known but not recorded as harmful.

    ``not_understood`` are words of the text that mean nothing here; ``possible`` hazards that they come close to.
    """

    text: str
    reading: FactReading
    hazards: tuple[Hazard, ...]
    not_understood: tuple[str, ...]
    possible: tuple[NearMiss, ...]

    @property
    def ingredient(self) -> str | None:
        """Id of the ingredient that the amount is of."""
        return self.reading.ingredient or (self.hazards[0].ingredient_id if self.hazards else None)


def find_substance(reference: Reference, text: str) -> Substance:
    """Say what a substance is.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        Id or name of a hazard, an ingredient or a chemical form, a material with a content factor, or plain words
        such as ``70 % dark chocolate`` and ``ibuprofen 200 mg tablet``.

    Returns
    -------
    Substance
        An id or a recorded material first, else what the words mean. A hazard that stands among words which are not
        understood is found, and the words are named.

    Raises
    ------
    UnknownSubstance
        If the text means nothing here, or only comes close to something.
    InvalidInput
        If the text only says what is not in it.
    """
    key = " ".join(text.split()).casefold()
    form = reference.forms.get(key)
    reading = _of_form(read_fact_name(reference, form.name), form) if form is not None else None
    reading = reading or read_fact_name(reference, text)
    if (hazard := _hazard_called(reference, key)) is not None:
        # "vitamin-d3" leads to its form, and so to its units; of an id that is no name the hazard itself is known.
        found = reading if hazard in _hazards(reference, reading) else _of_hazard(reading, hazard)
        return Substance(text, found, (hazard,), (), ())
    whole = reading.resolution
    if whole.negated:
        raise InvalidInput(Issue("substance", f"{text[:80]!r} says what is not in it; name what was eaten"))
    hazards = _hazards(reference, reading)
    if form is None and (whole.match != "exact" or not (hazards or reading.ingredient)):
        raise UnknownSubstance(text, whole.nearest, _medicine_called(reference, text))
    left_over = tuple(word for word in whole.not_understood if not _counts_pieces(reference, word))
    possible = tuple(miss for miss in whole.possible if miss.hazard not in {hazard.id for hazard in hazards})
    return Substance(text, reading, hazards, left_over, possible if left_over else ())


def _hazard_called(reference: Reference, key: str) -> Hazard | None:
    """Find the hazard of an id, a full name or a material that the table of content factors names."""
    if key in reference.hazards:
        return reference.hazards[key]
    if (named := next((row for row in reference.hazards.values() if row.name.casefold() == key), None)) is not None:
        return named
    if resolver_for(reference).resolve(key, suggest=False).match == "exact":
        return None
    materials = (row for rows in reference.content_factors_of.values() for row in rows)
    found = next((row.hazard_id for row in materials if row.material.casefold() == key), None)
    return reference.hazards[found] if found is not None else None


def _medicine_called(reference: Reference, text: str) -> str | None:
    """Give the name of the medicine that the words mean, if this release knows it as one to be screened against."""
    read = read_medicines(reference, text)
    ids = [found.id for found in read.recognised if found.kind == "medication" and found.id is not None]
    return reference.medications[ids[0]].name if ids else None


def _of_form(reading: FactReading, form: Form) -> FactReading:
    if reading.form is not None and reading.form.id == form.id:
        return reading
    return replace(
        reading,
        ingredient=form.ingredient_id,
        form=form,
        moiety=form.moiety,
        share_low=form.share_low,
        share_high=form.share_high,
    )


def _of_hazard(reading: FactReading, hazard: Hazard) -> FactReading:
    return replace(
        reading, ingredient=hazard.ingredient_id, form=None, moiety=None, share_low=None, share_high=None, flags=()
    )


def _hazards(reference: Reference, reading: FactReading) -> tuple[Hazard, ...]:
    """Hazards that the words mean; those of the ingredient itself, mild ones included, where they mean none."""
    if reading.hazards:
        return tuple(reference.hazards[meaning.hazard] for meaning in reading.hazards if meaning.hazard is not None)
    if reading.ingredient is None:
        return ()
    own = reference.hazards_of.get(reading.ingredient, ())
    brought = (
        hazard
        for screened_as in reference.ingredients[reading.ingredient].screened_as_ids
        for hazard in reference.hazards_of.get(screened_as, ())
    )
    return own or tuple(brought)


def _counts_pieces(reference: Reference, word: str) -> bool:
    """``Tablet`` and ``capsule`` say in what pieces something comes, not what it is."""
    unit = reference.units_any_case.get(word)
    return unit is not None and unit.dimension == "count" and words(word) != ()
