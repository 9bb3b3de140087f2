"""Amounts per day as functions of body weight: the guidance of each phase, and every published regimen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.daily_limits import MG_PER_UNIT, metabolic_weight
from service.domain.dosing import can_state
from service.domain.guidance import guidance_rows, phase_doses, upper_limit
from service.domain.rounding import amount, amount_range
from service.domain.weights import KG_PER_UNIT
from service.reference.records import Form, Guidance, Regimen
from service.reference.release import Reference

# Between the ends of a band an amount may bend where a ceiling begins to hold; so many parts show it well enough.
_PARTS_OF_BAND = 16
_PHASE_ORDER = ("loading", "maintenance")
_FINDINGS = ("positive", "mixed", "negative")
_PER_DAY = ("per_day", "per_day_average")
_OTHER_BASES = {
    "diet_inclusion": "stated as a share of the food",
    "multiple_of_label": "stated as a multiple of what a label says",
    "multiple_of_maintenance": "stated as a multiple of the maintenance amount",
    "per_dose_per_kg": "stated per dose, not per day",
    "single_dose_per_kg": "given once, not every day",
    "per_joint_single": "given into a joint",
    "weight_banded_not_captured": "stated by weight bands that were not seen",
}
_GIVEN_FOR_HARM = "given to look for harm, not as an amount to give"
_NO_AMOUNT = "no amount was seen"


@dataclass(frozen=True, slots=True)
class AmountAtWeight:
    """The amount per day at one body weight, in mg of the form asked for."""

    weight_kg: Decimal
    low_mg: Decimal
    high_mg: Decimal


@dataclass(frozen=True, slots=True)
class PhaseCurve:
    """The amounts of one phase over the weights that its rows cover without a gap.

    A weight that stands twice is where an amount jumps from one band to the next.
    """

    phase: str
    guidance_ids: tuple[str, ...]
    points: tuple[AmountAtWeight, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PublishedAmount:
    """One regimen with the amounts that it means over body weight, or the reason why it means none.

    ``points`` are the lightest and the heaviest animal that the amounts hold for, within the weights asked for; where
    ``weights_recorded`` is false, no weight was recorded and they are those weights themselves. ``finding`` is
    ``positive``, ``mixed``, ``negative`` or ``not_told``.
    """

    regimen_id: str
    phase: str
    material: str | None
    amount_low: Decimal | None
    amount_high: Decimal | None
    unit: str | None
    basis: str | None
    weight_from_kg: Decimal | None
    weight_to_kg: Decimal | None
    outcome: str | None
    finding: str
    points: tuple[AmountAtWeight, ...]
    follows_weight: bool
    weights_recorded: bool
    why_not: str | None
    origin: str
    source_ids: tuple[str, ...]


def phase_curves(
    reference: Reference, ingredient_id: str, species: str, form_id: str, from_kg: Decimal, to_kg: Decimal
) -> tuple[PhaseCurve, ...]:
    """Give the guidance of an ingredient over body weight.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id, species, form_id
        What for whom, and the form that amounts are stated in, which must be able to state them.
    from_kg, to_kg
        Ends of the weights wanted, in kg.

    Returns
    -------
    tuple of PhaseCurve
        Loading before maintenance.

    Raises
    ------
    UnknownIngredient
        If no ingredient has the id.
    NoGuidance
        If the dataset holds no amount for the species.
    """
    rows = [
        row
        for row in guidance_rows(reference, ingredient_id, species)
        if row.from_kg < to_kg and (row.to_kg is None or row.to_kg > from_kg)
    ]
    rows.sort(key=lambda row: (_PHASE_ORDER.index(row.phase) if row.phase in _PHASE_ORDER else 9, row.from_kg))
    runs: list[list[Guidance]] = []
    for row in rows:
        if runs and runs[-1][-1].phase == row.phase and runs[-1][-1].to_kg == row.from_kg:
            runs[-1].append(row)
        else:
            runs.append([row])
    return tuple(_curve(reference, run, form_id, from_kg, to_kg) for run in runs)


def _curve(reference: Reference, rows: list[Guidance], form_id: str, from_kg: Decimal, to_kg: Decimal) -> PhaseCurve:
    points = []
    for row in rows:
        # Up to the very end of the band, which belongs to the next one.
        open_row = replace(row, to_kg=None)
        end = to_kg if row.to_kg is None else min(row.to_kg, to_kg)
        for weight_kg in _spaced(max(row.from_kg, from_kg), end):
            dose = phase_doses(reference, (open_row,), weight_kg, form_id)[0]
            points.append(AmountAtWeight(weight_kg, dose.low_mg, dose.high_mg))
    return PhaseCurve(
        phase=rows[0].phase,
        guidance_ids=tuple(row.id for row in rows),
        points=tuple(points),
        source_ids=tuple(dict.fromkeys(id_ for row in rows for id_ in row.source_ids)),
    )


def _spaced(start: Decimal, end: Decimal) -> list[Decimal]:
    """Give weights from start to end, each the same factor above the one before."""
    factor = (end / start) ** (1 / Decimal(_PARTS_OF_BAND))
    return [start, *(amount(start * factor**part) for part in range(1, _PARTS_OF_BAND)), end]


def upper_limits(
    reference: Reference, ingredient_id: str, species: str, form_id: str, from_kg: Decimal, to_kg: Decimal
) -> tuple[AmountAtWeight, ...]:
    """Give the published daily ceiling over body weight.

    Parameters
    ----------
    reference, ingredient_id, species, form_id, from_kg, to_kg
        As in :func:`phase_curves`.

    Returns
    -------
    tuple of AmountAtWeight
        Its low and high ends are the same; empty where no ceiling on the supplement itself is recorded.
    """
    rows = guidance_rows(reference, ingredient_id, species)
    factor = _factor(reference.forms[rows[0].form_id], reference.forms[form_id])
    found = []
    for weight_kg in _spaced(from_kg, to_kg):
        limit = upper_limit(reference, ingredient_id, species, weight_kg)
        if limit is not None:
            most = amount_range(Decimal(0), limit.amount_mg * factor)[1]
            found.append(AmountAtWeight(weight_kg, most, most))
    return tuple(found)


def published_amounts_by_weight(
    reference: Reference, ingredient_id: str, species: str, form_id: str, from_kg: Decimal, to_kg: Decimal
) -> tuple[PublishedAmount, ...]:
    """Turn every regimen of an ingredient into amounts over body weight, or say why that cannot be done.

    Parameters
    ----------
    reference, ingredient_id, species, form_id, from_kg, to_kg
        As in :func:`phase_curves`.

    Returns
    -------
    tuple of PublishedAmount
        All regimens of the species in the release's order; none is left out.
    """
    form = reference.forms[form_id]
    return tuple(
        _published(reference, row, form, from_kg, to_kg)
        for row in reference.regimens_of.get(ingredient_id, ())
        if species in row.species.split(";")
    )


def _published(reference: Reference, row: Regimen, form: Form, from_kg: Decimal, to_kg: Decimal) -> PublishedAmount:
    why_not = _why_not(reference, row, form, from_kg, to_kg)
    return PublishedAmount(
        regimen_id=row.id,
        phase=row.phase,
        material=row.material,
        amount_low=row.amount_low,
        amount_high=row.amount_high,
        unit=row.unit,
        basis=row.basis,
        weight_from_kg=row.weight_from_kg,
        weight_to_kg=row.weight_to_kg,
        outcome=row.outcome,
        finding=next((word for word in _FINDINGS if (row.outcome or "").startswith(word)), "not_told"),
        points=() if why_not else _points(reference, row, form, from_kg, to_kg),
        follows_weight=row.basis not in _PER_DAY,
        weights_recorded=row.weight_from_kg is not None or row.weight_to_kg is not None,
        why_not=why_not,
        origin=row.origin,
        source_ids=row.source_ids,
    )


def _why_not(reference: Reference, row: Regimen, form: Form, from_kg: Decimal, to_kg: Decimal) -> str | None:
    if row.basis is None or (row.amount_low is None and row.amount_high is None and row.basis not in _OTHER_BASES):
        return _NO_AMOUNT
    if row.phase.startswith("safety"):
        return _GIVEN_FOR_HARM
    if row.basis not in _PER_DAY and row.basis not in _WEIGHT_FACTORS:
        return _OTHER_BASES.get(row.basis, f"stated {row.basis.replace('_', ' ')}")
    if _mg_per_unit(row) is None:
        return f"stated in {row.unit}" if row.unit else "stated without a unit"
    if not (row.amount_low or row.amount_high):
        return "an amount of nothing"
    if (other := _why_not_of_form(reference, row, form)) is not None:
        return other
    if (row.weight_from_kg or from_kg) > to_kg or (row.weight_to_kg or to_kg) < from_kg:
        return "for animals of other weights"
    return None


def _why_not_of_form(reference: Reference, row: Regimen, form: Form) -> str | None:
    if row.form_id is None:
        return "its chemical form is not recorded"
    own = reference.forms[row.form_id]
    if own.id == form.id or can_state(own, form):
        return None
    return "its chemical form is left open" if own.kind == "open" else f"of another material: {own.name}"


def _mg_per_unit(row: Regimen) -> Decimal | None:
    """Give mg per unit; ``mg extract`` is mg of what the regimen's own form names."""
    return MG_PER_UNIT.get((row.unit or "").partition(" ")[0])


_WEIGHT_FACTORS = {
    "per_kg_per_day": lambda weight_kg: weight_kg,
    "per_lb_per_day": lambda weight_kg: weight_kg / KG_PER_UNIT["lb"],
    "per_kg075_per_day": metabolic_weight,
}


def _points(
    reference: Reference, row: Regimen, form: Form, from_kg: Decimal, to_kg: Decimal
) -> tuple[AmountAtWeight, ...]:
    # "At most", or "nothing up to": what is stated is the high end alone.
    given = [value for value in (row.amount_low, row.amount_high) if value]
    factor = (_mg_per_unit(row) or Decimal(1)) * _factor(reference.forms[row.form_id or form.id], form)
    first = max(row.weight_from_kg or from_kg, from_kg)
    last = min(row.weight_to_kg or to_kg, to_kg)
    points = []
    for weight_kg in dict.fromkeys((first, last)):
        per_weight = _WEIGHT_FACTORS.get(row.basis or "")
        scale = factor * per_weight(weight_kg) if per_weight else factor
        low_mg, high_mg = amount_range(given[0] * scale, given[-1] * scale)
        points.append(AmountAtWeight(weight_kg, low_mg, high_mg))
    return tuple(points)


def _factor(stated: Form, form: Form) -> Decimal:
    """Give mg of a form per mg of the one that an amount is stated in."""
    return (stated.share_low or Decimal(1)) / (form.share_low or Decimal(1))
