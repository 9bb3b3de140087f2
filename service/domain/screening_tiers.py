"""The published tiers of a hazard: which apply to a species, which an amount reaches, what an unknown amount means."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.daily_limits import MG_PER_UNIT
from service.domain.screening_answers import highest, rank
from service.reference.records import Hazard, Limit, Threshold
from service.reference.release import Reference

# Tiers from "severe" upward mean "do not give". An LD50 is no limit to stay under, but an amount that reaches one
# is not to be given either.
LEVEL_OF_SEVERITY = {
    "signs_mild": "veterinarian",
    "signs_moderate": "avoid",
    "signs_severe": "avoid",
    "potentially_lethal": "avoid",
    "ld50": "avoid",
}
# Limits of one ingredient that say where risk begins stand beside the tiers of its hazard.
_LIMIT_KINDS = frozenset({"risk_threshold", "toxic_threshold"})
_LIMIT_BASES = frozenset({"per_kg_per_day", "single_dose_per_kg"})
_MG_PER_ANIMAL = {"mg_total": Decimal(1), "g_total": Decimal(1000)}
_DRUG = "drug"
_LEVEL_OF_ACTION = {"contact_now": "avoid", "avoid": "avoid", "ask_veterinarian": "veterinarian", "none": "note"}
# Severities that make an unknown amount unacceptable.
_WORST = frozenset({"potentially_lethal", "any_exposure"})


@dataclass(frozen=True, slots=True)
class Reached:
    """A tier that an amount reaches."""

    row: Threshold
    level: str
    mg_per_kg: Decimal


def delegate_of(reference: Reference, hazard_id: str, species: str) -> str | None:
    """Hazard whose tiers apply after conversion (cocoa: methylxanthines), ``None`` for a hazard with its own.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    str or None
        Id of the other hazard.
    """
    rows = reference.thresholds_of.get((hazard_id, species), ())
    return next((row.delegates_to for row in rows if row.use == "primary" and row.delegates_to is not None), None)


def kind_for(hazard: Hazard, species: str) -> str:
    """Kind of a hazard for a species: ``toxic_any_amount``, ``threshold``, ``caution``, ``nuisance``, ``benign``.

    Parameters
    ----------
    hazard
        A row of table ``hazards``.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    str
        One of the five words.
    """
    return hazard.kind_dog if species == "dog" else hazard.kind_cat


def unquantified_action(hazard: Hazard, species: str) -> str:
    """Give the recorded action for an unknown amount: ``contact_now``, ``avoid``, ``ask_veterinarian`` or ``none``.

    Parameters
    ----------
    hazard
        A row of table ``hazards``.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    str
        One of the four words.
    """
    return hazard.unquantified_dog if species == "dog" else hazard.unquantified_cat


def least_level(reference: Reference, hazard: Hazard, species: str) -> str:
    """Level below which no stated amount of a hazard brings it.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard, species
        What it is and for whom.

    Returns
    -------
    str
        ``veterinarian`` for a medicine and for whatever is to be avoided or an emergency while its amount is not known:
        an amount below all published tiers does not make it food. Else ``note``.
    """
    if reference.ingredients[hazard.ingredient_id].kind == "nutrient":
        return "note"
    action = _LEVEL_OF_ACTION[unquantified_action(hazard, species)]
    return "veterinarian" if action == "avoid" or hazard.group == _DRUG else "note"


def unknown_amount_level(reference: Reference, hazard: Hazard, species: str) -> str:
    """Level of a hazard whose amount is not known.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard, species
        What it is and for whom.

    Returns
    -------
    str
        ``note`` for a nutrient, since every ordinary product would alarm. Else ``avoid`` where any amount is toxic or
        a primary tier, its delegate's included, is life-threatening; else by the recorded action.
    """
    if reference.ingredients[hazard.ingredient_id].kind == "nutrient":
        return "note"
    kind = kind_for(hazard, species)
    if kind in ("benign", "nuisance"):
        return "note"
    if kind == "toxic_any_amount" or worst_rows(reference, hazard, species):
        return "avoid"
    return highest((_LEVEL_OF_ACTION[unquantified_action(hazard, species)], least_level(reference, hazard, species)))


def worst_rows(reference: Reference, hazard: Hazard, species: str) -> list[Threshold]:
    """Primary tiers, those of its delegate included, that make an unknown amount unacceptable.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        A row of table ``hazards``.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    list of Threshold
        Empty where no tier is life-threatening.
    """
    return [
        row
        for row in primary_rows(reference, chain_of(reference, hazard.id, species), species)
        if row.severity in _WORST
    ]


def primary_rows(reference: Reference, hazard_ids: Iterable[str], species: str) -> list[Threshold]:
    """Rows meant for screening, not for comparison only.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_ids
        Ids of hazards.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    list of Threshold
        In the order of the hazards.
    """
    rows = [row for id_ in hazard_ids for row in reference.thresholds_of.get((id_, species), ())]
    return [row for row in rows if row.use == "primary"]


def chain_of(reference: Reference, hazard_id: str, species: str) -> tuple[str, ...]:
    """List a hazard and those whose tiers it shares, in order of delegation.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of str
        Ids, the hazard itself first.
    """
    chain = [hazard_id]
    while (target := delegate_of(reference, chain[-1], species)) is not None and target not in chain:
        chain.append(target)
    return tuple(chain)


def tiers_of(reference: Reference, hazard_id: str, species: str) -> tuple[Threshold, ...]:
    """Tiers that an amount can be compared with: primary rows with an amount per kg, or per animal.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of Threshold
        In mg per kg, or in mg per animal.
    """
    return tuple(
        row
        for row in reference.thresholds_of.get((hazard_id, species), ())
        if row.use == "primary"
        and row.severity in LEVEL_OF_SEVERITY
        and (row.mg_per_kg_low is not None or row.unit == "mg_total")
    )


def threshold_limits(reference: Reference, hazard: Hazard, species: str) -> tuple[tuple[Decimal, Limit], ...]:
    """Limits that say from where on a hazard's ingredient is a risk, as mg per kg, the lowest first.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        A row of table ``hazards``.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of tuple
        mg per kg and the row it comes from.
    """
    rows = [
        (row.amount * MG_PER_UNIT[row.unit], row)
        for row in reference.limits_of.get((hazard.ingredient_id, species), ())
        if row.kind in _LIMIT_KINDS and row.basis in _LIMIT_BASES and row.unit in MG_PER_UNIT and row.amount is not None
    ]
    return tuple(sorted(rows, key=lambda pair: pair[0]))


def starts_at_mg(row: Threshold, weight_kg: Decimal) -> Decimal | None:
    """Give the amount at which a tier starts for one animal.

    Parameters
    ----------
    row
        A tier per kg of body weight, or per animal.
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal or None
        In mg of the substance that the tier counts; ``None`` where the tier cannot be compared with an amount of the
        substance (a share of the food, ...).
    """
    # Multiplied, not divided: 20 mg/kg of a weight in pounds must reach 20 mg/kg, whatever the last digit.
    if row.mg_per_kg_low is not None:
        return row.mg_per_kg_low * weight_kg
    if row.unit in _MG_PER_ANIMAL and row.amount_low is not None:
        return row.amount_low * _MG_PER_ANIMAL[row.unit]
    return None


def is_reached(row: Threshold, mg: Decimal, weight_kg: Decimal) -> bool | None:
    """Say whether an amount reaches a tier, from its low end on.

    Parameters
    ----------
    row
        A tier per kg of body weight, or per animal.
    mg
        The amount in the substance that the tier counts.
    weight_kg
        Body weight in kg.

    Returns
    -------
    bool or None
        ``None`` where the tier cannot be compared with an amount of the substance (a share of the food, ...).
    """
    start = starts_at_mg(row, weight_kg)
    if start is None:
        return None
    return mg > start if row.comparison == ">" else mg >= start


def reached_tier(
    reference: Reference, hazard_ids: Iterable[str], mg_per_day: Mapping[str, Decimal], species: str, weight_kg: Decimal
) -> Reached | None:
    """Find the highest tier that the amounts reach.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_ids
        The hazard and those whose tiers it shares.
    mg_per_day
        Amounts by hazard id.
    species, weight_kg
        The animal.

    Returns
    -------
    Reached or None
        The tier of the highest level, and among those the one that starts highest. A tier of a single intake and
        one of a daily intake are both compared with the amount of a day.
    """
    found: list[tuple[Decimal, Reached]] = []
    for hazard_id in hazard_ids:
        mg = mg_per_day.get(hazard_id)
        if mg is None:
            continue
        for row in tiers_of(reference, hazard_id, species):
            start = row.amount_low if row.mg_per_kg_low is None else row.mg_per_kg_low
            if start is not None and is_reached(row, mg, weight_kg):
                found.append((start, Reached(row, LEVEL_OF_SEVERITY[row.severity], mg / weight_kg)))
    if not found:
        return None
    return max(found, key=lambda pair: (rank(pair[1].level), pair[0]))[1]
