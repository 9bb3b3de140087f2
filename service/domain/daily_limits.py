"""Recorded limits as mg per day of one animal, and the metabolic weight that many of them count.

A limit per 1,000 kcal is taken at the energy that the animal needs for maintenance: 130 kcal per kg^0.75 for a dog,
at which the two forms of one published limit agree (source fediaf21q, and the note of limit epa-dha-dog-nrc), and 100
kcal per kg^0.67 for a cat (fediaf2016, page 155). A limit per dry matter holds for the whole diet; 4.0 kcal/g are
taken, as the publishers of those limits do (aafco2014; fediaf2016, page 155: 25 g per 100 g are 62.5 g per 1,000 kcal).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.reference.records import Limit

# Retinol equivalents are micrograms of retinol.
MG_PER_UNIT = {"mg": Decimal(1), "g": Decimal(1000), "ug": Decimal("0.001"), "ug RE": Decimal("0.001")}
INTAKE, WHOLE_DIET = "intake", "whole_diet"
_MAINTENANCE = {"dog": (Decimal(130), Decimal("0.75")), "cat": (Decimal(100), Decimal("0.67"))}
_ENERGY_SOURCE = {"dog": ("fediaf21q",), "cat": ("fediaf2016",)}
_KCAL_PER_G_DRY_MATTER = Decimal("4.0")
_G_PER_1000_KCAL = 1000 / _KCAL_PER_G_DRY_MATTER
# Grams of dry matter that the amount of a limit is for.
_DRY_MATTER_G = {"per_kg_dry_matter": Decimal(1000), "per_100_g_dry_matter": Decimal(100)}
_PERCENT_OF_DRY_MATTER = "percent_of_dry_matter"
# One IU of these vitamins in mg: 0.025 ug of cholecalciferol, 0.3 ug of retinol (rows iu of table units and forms).
_MG_PER_IU = {"vitamin-d": Decimal("0.000025"), "vitamin-a": Decimal("0.0003")}


@dataclass(frozen=True, slots=True)
class DailyLimit:
    """One limit as mg per day. ``covers``: ``intake``, or ``whole_diet`` where the food counts too."""

    mg_per_day: Decimal
    covers: str
    rule: str
    source_ids: tuple[str, ...] = ()


def metabolic_weight(weight_kg: Decimal) -> Decimal:
    """Raise a body weight to the power 0.75.

    Parameters
    ----------
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal
        kg^0.75. Two square roots are quicker than a general power and as exact: x^0.75 = sqrt(x) * sqrt(sqrt(x)).
    """
    root = weight_kg.sqrt()
    return root * root.sqrt()


def limit_mg_per_day(limit: Limit, weight_kg: Decimal) -> Decimal | None:
    """Turn a limit into mg per day for one animal.

    Parameters
    ----------
    limit
        A row of table ``limits``.
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal or None
        mg per day; ``None`` where the limit's basis cannot be turned into a daily amount of the supplement alone.
    """
    if limit.amount is None or limit.unit not in MG_PER_UNIT:
        return None
    amount = limit.amount * MG_PER_UNIT[limit.unit]
    if limit.basis == "per_kg075_per_day":
        return amount * metabolic_weight(weight_kg)
    if limit.basis == "per_kg_per_day":
        return amount * weight_kg
    return amount if limit.basis == "per_day" else None


def maintenance_kcal(species: str, weight_kg: Decimal) -> Decimal:
    """Energy that an animal of ordinary activity needs in a day.

    Parameters
    ----------
    species
        ``dog`` or ``cat``.
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal
        kcal per day.
    """
    factor, power = _MAINTENANCE[species]
    return factor * (metabolic_weight(weight_kg) if species == "dog" else weight_kg**power)


def daily_limit(limit: Limit, weight_kg: Decimal) -> DailyLimit | None:
    """Turn a limit into mg per day for one animal, those of the whole diet included.

    Parameters
    ----------
    limit
        A row of table ``limits`` for dogs or cats.
    weight_kg
        Body weight in kg.

    Returns
    -------
    DailyLimit or None
        With the rule in words; ``None`` where the limit cannot become a daily amount.
    """
    direct = limit_mg_per_day(limit, weight_kg)
    if direct is not None:
        return DailyLimit(direct, INTAKE, _RULES[limit.basis])
    per_1000_kcal = _mg_per_1000_kcal(limit)
    if per_1000_kcal is None or limit.species not in _MAINTENANCE:
        return None
    factor, power = _MAINTENANCE[limit.species]
    mg = per_1000_kcal * maintenance_kcal(limit.species, weight_kg) / 1000
    sources = _ENERGY_SOURCE[limit.species]
    energy = f"at a maintenance need of {factor} kcal x kg^{power} a day"
    if limit.basis != "per_1000_kcal":
        return DailyLimit(mg, WHOLE_DIET, f"amount in dry matter at {_KCAL_PER_G_DRY_MATTER} kcal/g, {energy}", sources)
    covers = WHOLE_DIET if limit.kind.startswith("diet_") else INTAKE
    return DailyLimit(mg, covers, f"amount per 1,000 kcal {energy}", sources)


_RULES = {
    "per_kg_per_day": "amount x kg body weight",
    "per_kg075_per_day": "amount x kg^0.75",
    "per_day": "amount a day, whatever the weight",
}


def _mg_per_1000_kcal(limit: Limit) -> Decimal | None:
    factor = _MG_PER_IU.get(limit.ingredient_id) if limit.unit == "IU" else MG_PER_UNIT.get(limit.unit)
    if limit.amount is None:
        return None
    if limit.basis == _PERCENT_OF_DRY_MATTER:
        return limit.amount / 100 * _G_PER_1000_KCAL * 1000
    if factor is None:
        return None
    if limit.basis == "per_1000_kcal":
        return limit.amount * factor
    per_g = _DRY_MATTER_G.get(limit.basis)
    return limit.amount * factor / per_g * _G_PER_1000_KCAL if per_g else None
