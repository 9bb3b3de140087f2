"""The rules by which every row of the table ``guidance`` follows from the table ``regimens``.

``dataset/README.md`` states each rule in words and as a formula; this module states it a second time, in code, so
that a test can recompute every published row. Nothing here runs while a question is answered.

All amounts are milligrams a day for a dog of ``at_weight_kg``. Amounts are cut to six significant digits towards the
inside of the range, so that rounding never widens what the regimens allow.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Context, Decimal

from service.reference.records import Guidance, Regimen

Regimens = Mapping[str, Regimen]
AmountRange = tuple[Decimal, Decimal]
Rule = Callable[[Regimens, Guidance, Sequence[Guidance]], AmountRange]

SIGNIFICANT_DIGITS = 6
METABOLIC_EXPONENT = Decimal("0.75")

# A day's food of an adult dog, for shares of a diet: energy need as the feeding tables of `fediaf2016` assume it,
# energy density of dry food as the nutrient profiles of `aafcoold` (3.5) and their revision (4.0) assume it.
DAILY_ENERGY_KCAL_PER_KG075 = (Decimal(95), Decimal(110))
FOOD_DENSITY_KCAL_PER_G = (Decimal("3.5"), Decimal("4.0"))

# Cap of EPA and DHA together, as in the row `epa-dha-dog-nrc` of the table ``limits`` (`clib2013`, `nrc2006`).
EPA_DHA_LIMIT_MG_PER_KG075 = Decimal(370)

# The regimen whose trial says how long to wait before judging, and nothing else, for each ingredient.
REASSESSMENT_REGIMEN = {
    "boswellia-serrata": "d082",
    "cannabidiol": "d105",
    "chondroitin-sulfate": "d003",
    "devils-claw": "d118",
    "eggshell-membrane": "d088",
    "elk-velvet-antler": "d124",
    "epa-dha": "d058",
    "glucosamine": "d003",
    "green-lipped-mussel": "d038",
    "hydrolysed-collagen": "d053",
    "msm": "d003",
    "turmeric": "d085",
    "undenatured-type-ii-collagen": "d046",
}


class RuleError(ValueError):
    """A guidance row names regimens that its rule cannot work with."""


def recompute(regimens: Regimens, guidance_row: Guidance, all_guidance: Sequence[Guidance]) -> AmountRange:
    """Amounts that a guidance row must carry, computed anew from the regimens it names.

    Parameters
    ----------
    regimens
        All regimens by id.
    guidance_row
        The row to recompute; its own amounts are not looked at.
    all_guidance
        All rows, for the rules that build on another ingredient's row.

    Returns
    -------
    tuple of Decimal
        Low and high amount in milligrams a day at ``guidance_row.at_weight_kg``.

    Raises
    ------
    RuleError
        If the rule is unknown or does not fit the regimens named.
    """
    rule = RULES.get(guidance_row.rule_id)
    if rule is None:
        raise RuleError(f"{guidance_row.id}: no rule {guidance_row.rule_id!r}")
    low, high = rule(regimens, guidance_row, all_guidance)
    inwards = (Context(SIGNIFICANT_DIGITS, ROUND_CEILING), Context(SIGNIFICANT_DIGITS, ROUND_FLOOR))
    if low == high:
        # Nothing lies inside a single value: both ends are cut the same way, so that they stay equal.
        inwards = (inwards[1], inwards[1])
    return inwards[0].plus(low), inwards[1].plus(high)


def recompute_reassessment_days(regimens: Regimens, guidance_row: Guidance) -> int:
    """Days after which to judge: the later of time to effect and end of trial in the ingredient's chosen regimen.

    Parameters
    ----------
    regimens
        Regimens by id.
    guidance_row
        The row to recompute.

    Returns
    -------
    int
        Days; 0 where the regimen states neither.
    """
    regimen = regimens[REASSESSMENT_REGIMEN[guidance_row.ingredient_id]]
    return max(int(regimen.duration_days or 0), regimen.time_to_effect_days_high or 0)


def _amounts_mg(regimen: Regimen) -> AmountRange:
    """Both ends of a regimen in milligrams; a missing low end is the high end."""
    high = regimen.amount_high if regimen.amount_high is not None else regimen.amount_low
    if high is None or regimen.unit is None:
        raise RuleError(f"regimen {regimen.id} carries no amount")
    factor = {"mg": Decimal(1), "g": Decimal(1000)}.get(regimen.unit.split()[0])
    if factor is None:
        raise RuleError(f"regimen {regimen.id} is in {regimen.unit}, not in a unit of mass")
    low = regimen.amount_low if regimen.amount_low is not None else high
    return low * factor, high * factor


def _require_basis(regimen: Regimen, *allowed: str) -> None:
    if regimen.basis not in allowed:
        raise RuleError(f"regimen {regimen.id} has the basis {regimen.basis}, expected one of {allowed}")


def _first(regimens: Regimens, guidance_row: Guidance) -> Regimen:
    return regimens[guidance_row.regimen_ids[0]]


def _trade_rule_per_kg(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """Amount for one size of dog, scaled by weight (`trade`, common practice, no source)."""
    regimen = _first(regimens, guidance_row)
    _require_basis(regimen, "per_day")
    if regimen.weight_from_kg is None:
        raise RuleError(f"regimen {regimen.id} does not say for which weight it is")
    scale = guidance_row.at_weight_kg / regimen.weight_from_kg
    low, high = _amounts_mg(regimen)
    return low * scale, high * scale


def _per_kg(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """Amount per kilogram as stated (`trade` for MSM; `ruff2016`, `gamb2018`, `trip2026`, `more2004`).

    A regimen stated per dose "once or twice a day" (`more2004`) runs from one small to two large doses.
    """
    regimen = _first(regimens, guidance_row)
    _require_basis(regimen, "per_kg_per_day", "per_dose_per_kg")
    low, high = _amounts_mg(regimen)
    most_doses = 2 if regimen.basis == "per_dose_per_kg" else 1
    return low * guidance_row.at_weight_kg, high * most_doses * guidance_row.at_weight_kg


def _paired_ratio(regimens: Regimens, guidance_row: Guidance, all_guidance: Sequence[Guidance]) -> AmountRange:
    """Ratio of chondroitin to glucosamine in trials that state both (`dalt2007`, `adeb2002`), times the partner row."""
    ids = guidance_row.regimen_ids
    ratios = {_amounts_mg(regimens[own])[0] / _amounts_mg(regimens[partner])[0] for own, partner in _pairs(ids)}
    if len(ratios) != 1:
        raise RuleError(f"{guidance_row.id}: the regimens {ids} do not share one ratio")
    partners = [row for row in all_guidance if row.ingredient_id == "glucosamine" and _band(row) == _band(guidance_row)]
    if len(partners) != 1:
        raise RuleError(f"{guidance_row.id}: {len(partners)} glucosamine rows for the same band, expected one")
    ratio = ratios.pop()
    return partners[0].amount_low * ratio, partners[0].amount_high * ratio


def _band(row: Guidance) -> tuple[str, str, Decimal, Decimal | None, Decimal]:
    return row.species, row.phase, row.from_kg, row.to_kg, row.at_weight_kg


def _pairs(ids: Sequence[str]) -> list[tuple[str, str]]:
    return list(zip(ids[::2], ids[1::2], strict=True))


def _trial_per_kg_to_metabolic(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """Average intake of a positive trial up to the published daily maximum, capped (`mehl2016`, `care`, `clib2013`).

    The trial's mg/kg becomes an amount at ``at_weight_kg``; that this weight is 30 kg is common practice.
    """
    trial, maximum = (regimens[key] for key in guidance_row.regimen_ids)
    _require_basis(trial, "per_kg_per_day")
    _require_basis(maximum, "per_kg075_per_day")
    per_kg075 = min(_amounts_mg(maximum)[1], EPA_DHA_LIMIT_MG_PER_KG075)
    return (
        _amounts_mg(trial)[0] * guidance_row.at_weight_kg,
        per_kg075 * guidance_row.at_weight_kg**METABOLIC_EXPONENT,
    )


def _fixed_trial_amount(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """The one amount that all trials share or found better (`dalt2007`, `gupt2012`, `peal2007`, `depa2005`)."""
    rows = [regimens[key] for key in guidance_row.regimen_ids]
    for row in rows:
        _require_basis(row, "per_day")
    amounts = {_amounts_mg(row)[1] for row in rows}
    if len(amounts) != 1:
        raise RuleError(f"{guidance_row.id}: the trials do not share one amount")
    amount = amounts.pop()
    return amount, amount


def _published_bands(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """Weight bands of one trial (`more2014`); the lowest, open downwards, is scaled from its upper edge.

    The trial's bands touch at whole kilograms ("to 24.9", "from 25"), so a band is found by its lower edge.
    """
    lower_edge = None if guidance_row.basis == "per_kg" else guidance_row.from_kg
    found = [regimens[key] for key in guidance_row.regimen_ids if regimens[key].weight_from_kg == lower_edge]
    if len(found) != 1:
        raise RuleError(f"{guidance_row.id}: {len(found)} published bands begin at {lower_edge}")
    _require_basis(found[0], "per_day")
    return _amounts_mg(found[0])


def _fixed_amount_by_food_share(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """A fixed trial amount that its authors tie to food intake (`beyn2010`); 30 kg is common practice."""
    regimen = _first(regimens, guidance_row)
    _require_basis(regimen, "per_day")
    return _amounts_mg(regimen)


def _food_share(regimens: Regimens, guidance_row: Guidance, _: Sequence[Guidance]) -> AmountRange:
    """A share of a trial diet (`bui2001`) times the least and the most dry food of a day (`fediaf2016`, `aafcoold`)."""
    regimen = _first(regimens, guidance_row)
    _require_basis(regimen, "diet_inclusion")
    if regimen.amount_low is None or regimen.amount_high is None:
        raise RuleError(f"regimen {regimen.id} carries no share of the diet")
    metabolic_weight = guidance_row.at_weight_kg**METABOLIC_EXPONENT
    least_food_g = DAILY_ENERGY_KCAL_PER_KG075[0] / FOOD_DENSITY_KCAL_PER_G[1] * metabolic_weight
    most_food_g = DAILY_ENERGY_KCAL_PER_KG075[1] / FOOD_DENSITY_KCAL_PER_G[0] * metabolic_weight
    mg_per_g_and_percent = 10
    return (
        regimen.amount_low * mg_per_g_and_percent * least_food_g,
        regimen.amount_high * mg_per_g_and_percent * most_food_g,
    )


RULES: Mapping[str, Rule] = {
    "trade-rule-per-kg": _trade_rule_per_kg,
    "customary-per-kg": _per_kg,
    "trial-per-kg": _per_kg,
    "paired-ratio": _paired_ratio,
    "trial-per-kg-to-metabolic": _trial_per_kg_to_metabolic,
    "fixed-trial-amount": _fixed_trial_amount,
    "published-bands": _published_bands,
    "fixed-trial-amount-by-food-share": _fixed_amount_by_food_share,
    "food-share-of-trial-diet": _food_share,
}
