"""What stands beside an amount of a care note: the guidance for the animal, and how good the evidence is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from service.domain.care.answer import CareEvidence, GuidanceBeside
from service.domain.common import Animal
from service.domain.dose_answer import PhaseDose
from service.domain.dosing import evidence_summary
from service.domain.errors import NoGuidance
from service.domain.guidance import check_age, guidance_rows, phase_doses
from service.reference.records import Guidance
from service.reference.release import Reference

LOADING, MAINTENANCE = "loading", "maintenance"
_WITHOUT_WEIGHT = "Without a body weight no range can be given."


@dataclass(frozen=True, slots=True)
class Guided:
    """Guidance on one ingredient for one animal; ``why_none`` where there are no amounts.

    ``reassess_row`` is the guidance row with the longest time until it should be judged, ``None`` where none says.
    """

    form: str | None
    phases: Mapping[str, PhaseDose]
    why_none: str | None
    reassess_row: Guidance | None


def guided(reference: Reference, animal: Animal, ingredient: str) -> Guided:
    """Find the guidance on one ingredient for one animal.

    Parameters
    ----------
    reference
        The release to answer from.
    animal
        The animal; without a weight there is no range, only the time until a judgement.
    ingredient
        Id of the ingredient.

    Returns
    -------
    Guided
        Ranges in mg per day of ``form``, by phase.
    """
    try:
        rows = guidance_rows(reference, ingredient, animal.species)
        check_age(reference, ingredient, animal, rows)
    except NoGuidance as reason:
        return Guided(None, MappingProxyType({}), str(reason), None)
    form = rows[0].form_id
    told = [row for row in rows if row.reassess_after_days is not None]
    longest = max(told, key=lambda row: row.reassess_after_days or 0, default=None)
    if animal.weight_kg is None:
        return Guided(form, MappingProxyType({}), _WITHOUT_WEIGHT, longest)
    phases = {phase.phase: phase for phase in phase_doses(reference, rows, animal.weight_kg, form)}
    return Guided(form, MappingProxyType(phases), None, longest)


def phase_for(guidance: Guided, low_mg: Decimal, days: int | None, *, is_first: bool) -> str:
    """Choose the phase of the guidance that an amount is held against.

    Parameters
    ----------
    guidance
        The guidance of its ingredient.
    low_mg
        The amount a day, on the low reading.
    days
        How long it is given; ``None`` without an end.
    is_first
        Whether it is the first amount of this ingredient.

    Returns
    -------
    str
        ``loading`` for a first amount above maintenance that ends in the time of a loading phase, else
        ``maintenance``: the higher range is no excuse for an amount that stays. A rule of ours.
    """
    loading, maintenance = guidance.phases.get(LOADING), guidance.phases.get(MAINTENANCE)
    if loading is None or maintenance is None or not is_first or days is None:
        return LOADING if maintenance is None else MAINTENANCE
    longest = loading.days_high if loading.days_high is not None else loading.days_low
    fits = longest is not None and days <= longest
    return LOADING if fits and low_mg > maintenance.high_mg else MAINTENANCE


def beside(guidance: Guided, phase: str) -> GuidanceBeside | None:
    """Give the range of one phase as the note shows it.

    Parameters
    ----------
    guidance
        The guidance of the ingredient.
    phase
        ``loading`` or ``maintenance``.

    Returns
    -------
    GuidanceBeside or None
        ``None`` where the phase has no range.
    """
    dose = guidance.phases.get(phase)
    if dose is None:
        return None
    return GuidanceBeside(
        phase=dose.phase,
        low_mg=dose.low_mg,
        high_mg=dose.high_mg,
        divided_doses=dose.divided_doses,
        days_low=dose.days_low,
        days_high=dose.days_high,
        guidance_id=dose.guidance_id,
        origin=dose.origin,
        note=dose.note,
        source_ids=dose.source_ids,
    )


def position_of(low_mg: Decimal | None, high_mg: Decimal | None, at_least: bool, range_: GuidanceBeside | None) -> str:
    """Say where an amount lies in a range.

    Parameters
    ----------
    low_mg, high_mg
        The amount a day: low and high reading of the labels; ``None`` where none could be counted.
    at_least
        Whether more of it is given than could be counted.
    range_
        The range, ``None`` where there is none.

    Returns
    -------
    str
        ``no_guidance``, ``not_known``, ``above`` (also the low reading), ``below`` (also the high reading, and nothing
        is missing), ``within`` (both readings, and nothing is missing) or ``open``.

    Examples
    --------
    By hand, against 500 to 1000 mg: 480 is below; 500 and 1000 are within; 450 to 600 is open; at least 600 is open,
    since it may be more than 1000; at least 1200 is above.
    """
    if range_ is None:
        return "no_guidance"
    if low_mg is None or high_mg is None:
        return "not_known"
    if low_mg > range_.high_mg:
        return "above"
    if at_least:
        return "open"
    if high_mg < range_.low_mg:
        return "below"
    return "within" if low_mg >= range_.low_mg and high_mg <= range_.high_mg else "open"


def evidence_for(reference: Reference, ingredients: Iterable[str]) -> tuple[CareEvidence, ...]:
    """Gather how good the evidence is for what is given for an effect.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredients
        Ids of ingredients.

    Returns
    -------
    tuple of CareEvidence
        Of actives, and of whatever else the release has a verdict on; ``untested`` where it has none.
    """
    found = []
    for id_ in dict.fromkeys(ingredients):
        row = reference.ingredients[id_]
        if row.kind == "active" or id_ in reference.evidence:
            summary = evidence_summary(reference, id_)
            found.append(
                CareEvidence(id_, row.name, summary.verdict, summary.summary, summary.dissent, summary.source_ids)
            )
    return tuple(found)
