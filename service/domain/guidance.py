"""From guidance rows to amounts at a weight: bands, scaling, forms, ceilings."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.daily_limits import MG_PER_UNIT, limit_mg_per_day, metabolic_weight
from service.domain.dose_answer import Band, PhaseDose, UpperLimit
from service.domain.errors import KnownInstead, NoGuidance, UnknownIngredient
from service.domain.rounding import amount_range
from service.domain.suggesting import nearest_ids
from service.reference.records import Guidance, Hazard
from service.reference.release import Reference

_PHASE_ORDER = {"loading": 0, "maintenance": 1}


def guidance_rows(reference: Reference, ingredient_id: str, species: str) -> tuple[Guidance, ...]:
    """Guidance rows of an ingredient for a species.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id, species
        For example ``glucosamine`` and ``dog``.

    Returns
    -------
    tuple of Guidance
        At least one row.

    Raises
    ------
    UnknownIngredient
        If no ingredient has the id.
    NoGuidance
        If the dataset holds no amount for the species; carries what is known.
    """
    if ingredient_id not in reference.ingredients:
        raise UnknownIngredient(ingredient_id, nearest_ids(ingredient_id, reference.ingredients))
    rows = reference.guidance_of.get((ingredient_id, species))
    if not rows:
        raise NoGuidance(_why_none(reference, ingredient_id, species), known_instead(reference, ingredient_id, species))
    return rows


def _hazards(reference: Reference, ingredient_id: str, species: str) -> list[Hazard]:
    """Hazards that the ingredient is for the species."""
    kind = "kind_dog" if species == "dog" else "kind_cat"
    return [row for row in reference.hazards_of.get(ingredient_id, ()) if getattr(row, kind) != "benign"]


def _why_none(reference: Reference, ingredient_id: str, species: str) -> str:
    row = reference.ingredients[ingredient_id]
    name = f"{row.name[:1].upper()}{row.name[1:]}"
    if row.kind == "hazard" and _hazards(reference, ingredient_id, species):
        return f"{name} is recorded as a hazard for a {species}; no amount of it is to be given."
    return f"{name} is known, but this release holds no amount of it for a {species}."


def known_instead(reference: Reference, ingredient_id: str, species: str) -> KnownInstead:
    """Gather what is known of an ingredient where no amount is.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        Id of an ingredient.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    KnownInstead
        Evidence, regimens, hazards and limits, with their sources.
    """
    evidence = reference.evidence.get(ingredient_id)
    regimens = [row for row in reference.regimens_of.get(ingredient_id, ()) if species in row.species.split(";")]
    hazards = _hazards(reference, ingredient_id, species)
    limits = reference.limits_of.get((ingredient_id, species), ())
    own = evidence.source_ids if evidence else ()
    return KnownInstead(
        ingredient=ingredient_id,
        species=species,
        evidence_verdict=evidence.verdict if evidence else None,
        evidence_summary=evidence.summary if evidence else None,
        regimen_ids=tuple(row.id for row in regimens),
        hazard_ids=tuple(row.id for row in hazards),
        limit_ids=tuple(row.id for row in limits),
        source_ids=tuple(
            dict.fromkeys((*own, *(id_ for row in (*regimens, *hazards, *limits) for id_ in row.source_ids)))
        ),
    )


def check_age(reference: Reference, ingredient_id: str, animal: Animal, rows: tuple[Guidance, ...]) -> None:
    """Refuse an amount for an animal under one year where the literature has adults only.

    Parameters
    ----------
    reference, ingredient_id
        The release to answer from, and what is to be given.
    animal
        Its age in years, where known.
    rows
        Guidance rows of the ingredient for the species.

    Raises
    ------
    NoGuidance
        If the animal is under one year and every row describes adults.
    """
    if animal.age_years is not None and animal.age_years < 1 and all(row.adults_only for row in rows):
        raise NoGuidance(
            f"The published amounts of {reference.ingredients[ingredient_id].name} are for adults only; "
            "nothing is published for an animal under one year. Ask a veterinarian.",
            known_instead(reference, ingredient_id, animal.species),
        )


def band_rows(rows: tuple[Guidance, ...], weight_kg: Decimal) -> list[Guidance]:
    """Pick the row of each phase whose band holds the weight, loading first.

    Parameters
    ----------
    rows
        Guidance of one ingredient for one species.
    weight_kg
        Body weight in kg.

    Returns
    -------
    list of Guidance
        At most one row per phase; empty where no band holds the weight.
    """
    held = [row for row in rows if row.from_kg <= weight_kg and (row.to_kg is None or weight_kg < row.to_kg)]
    return sorted(held, key=lambda row: _PHASE_ORDER.get(row.phase, 9))


def scaled(amount: Decimal, basis: str, weight_kg: Decimal, at_weight_kg: Decimal) -> Decimal:
    """Scale a guidance amount to a body weight.

    Parameters
    ----------
    amount
        Amount per day at ``at_weight_kg``, any unit.
    basis
        ``fixed`` (no scaling), ``per_kg``, or ``per_kg075`` (metabolic weight, kg to the power 0.75).
    weight_kg, at_weight_kg
        The animal's weight and the weight the amount is stated at.

    Returns
    -------
    Decimal
        Amount per day at ``weight_kg``, exact but for the fourth root.
    """
    if basis == "fixed":
        return amount
    if basis == "per_kg075":
        return amount * metabolic_weight(weight_kg / at_weight_kg)
    # Multiply first: 500 * 34 / 34 is 500 exactly.
    return amount * weight_kg / at_weight_kg


def phase_doses(
    reference: Reference, rows: tuple[Guidance, ...], weight_kg: Decimal, form_id: str
) -> tuple[PhaseDose, ...]:
    """Compute the amount of every phase at a weight.

    Parameters
    ----------
    reference
        The release to answer from.
    rows
        Guidance rows of one ingredient and species.
    weight_kg
        Body weight in kg.
    form_id
        The form to state the amount in.

    Returns
    -------
    tuple of PhaseDose
        Loading before maintenance.
    """
    held = band_rows(rows, weight_kg)
    ceiling = upper_limit(reference, rows[0].ingredient_id, rows[0].species, weight_kg)
    return tuple(_phase_dose(reference, row, weight_kg, form_id, ceiling) for row in held)


def _phase_dose(
    reference: Reference, row: Guidance, weight_kg: Decimal, form_id: str, ceiling: UpperLimit | None
) -> PhaseDose:
    stated_share = reference.forms[row.form_id].share_low or Decimal(1)
    share = reference.forms[form_id].share_low or Decimal(1)
    unit = MG_PER_UNIT[row.unit]
    low = scaled(row.amount_low, row.basis, weight_kg, row.at_weight_kg) * unit
    high = scaled(row.amount_high, row.basis, weight_kg, row.at_weight_kg) * unit
    if ceiling is not None:
        low, high = min(low, ceiling.amount_mg), min(high, ceiling.amount_mg)
    low_mg, high_mg = amount_range(low * stated_share / share, high * stated_share / share)
    moiety_low_mg, moiety_high_mg = amount_range(low * stated_share, high * stated_share)
    return PhaseDose(
        phase=row.phase,
        low_mg=low_mg,
        high_mg=high_mg,
        per="day",
        divided_doses=row.divided_doses,
        days_low=row.days_low,
        days_high=row.days_high,
        moiety_low_mg=moiety_low_mg,
        moiety_high_mg=moiety_high_mg,
        band=Band(row.from_kg, row.to_kg),
        basis=row.basis,
        rule=row.rule_id,
        guidance_id=row.id,
        regimen_ids=row.regimen_ids,
        origin=row.origin,
        source_ids=row.source_ids,
        note=row.note,
    )


def upper_limit(reference: Reference, ingredient_id: str, species: str, weight_kg: Decimal) -> UpperLimit | None:
    """Find the published daily ceiling of an ingredient for one animal.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id, species
        For example ``epa-dha`` and ``dog``.
    weight_kg
        Body weight in kg.

    Returns
    -------
    UpperLimit or None
        In mg per day; ``None`` where no ceiling on the supplement itself is recorded.
    """
    found = []
    for limit in reference.limits_of.get((ingredient_id, species), ()):
        amount = limit_mg_per_day(limit, weight_kg) if limit.enforced else None
        if amount is not None:
            found.append((amount, limit))
    if not found:
        return None
    # The published ceiling caps the range; an advisory maximum below it is already the range's high end.
    amount, limit = min(found, key=lambda pair: (pair[1].kind != "safe_upper_limit", pair[0]))
    return UpperLimit(
        limit_id=limit.id,
        amount_mg=amount_range(Decimal(0), amount)[1],
        basis=limit.basis,
        kind=limit.kind,
        origin=limit.origin,
        source_ids=limit.source_ids,
        note=limit.note,
    )
