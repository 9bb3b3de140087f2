"""Several products for one animal: how many units a day, what they cost, and what speaks against them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.common import Animal, Caution, origin_cautions
from service.domain.compare_answer import CompareAnswer, CompareRow, TargetRange, TargetResult
from service.domain.currencies import minor_digits
from service.domain.dosing import age_cautions
from service.domain.errors import InvalidInput, Issue
from service.domain.normalising import cost_per_unit, read_facts
from service.domain.practicality import has_unknown_cost, impracticalities, resting_energy_kcal
from service.domain.products import STEP_OF, Product
from service.domain.ranking import Candidate, ranked
from service.domain.rounding import amount, money_per_day, money_rate, money_total, significant
from service.domain.screening import ScreenRequest, screen
from service.domain.targets import Target, known_weight, mg_in_unit, settle_target
from service.domain.unit_counting import count_units
from service.reference.release import Reference

_AIMS = ("low", "middle", "high")
# Converting to moiety and back leaves a tail far beyond any printed digit.
_NOISE_DIGITS = 15
_NO_LIST = "other_ingredients_not_given"
_FLAG_WORDS = {
    "high_reading_above_range": "On the high reading of its label a product passes the high end of a range: it "
    "lies in the range only if the low reading is the true one.",
    _NO_LIST: "A product came without its list of other ingredients: nothing is known about what else is in it, and "
    "the screen saw its facts alone.",
}


@dataclass(frozen=True, slots=True)
class CompareRequest:
    """What to compare and for which animal."""

    animal: Animal
    targets: tuple[Target, ...]
    products: tuple[Product, ...]
    aim: str = "low"
    rank_by: str = "cost_per_day"


def compare(reference: Reference, request: CompareRequest) -> CompareAnswer:
    """Rank products for one animal.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Animal, targets, products, aim and order.

    Returns
    -------
    CompareAnswer
        One row per product, best first; a product that something speaks against comes last with the reason.

    Raises
    ------
    InvalidInput
        If an amount cannot be read, prices are in several currencies, an ingredient is a target twice, or a target's
        range runs downwards.
    NoGuidance
        If a target has no amounts of its own and none is known.
    """
    weight_kg = known_weight(request.animal)
    check_products(request.products)
    check_targets(request.targets)
    ranges = tuple(
        settle_target(reference, request.animal, target, request.aim, f"targets/{index}")
        for index, target in enumerate(request.targets)
    )
    resting = resting_energy_kcal(weight_kg)
    found = [
        _candidate(reference, request, ranges, product, index, resting)
        for index, product in enumerate(request.products)
    ]
    rows = ranked(found, request.rank_by)
    ids = dict.fromkeys(id_ for wanted in ranges for id_ in wanted.source_ids)
    return CompareAnswer(
        species=request.animal.species,
        weight_kg=significant(weight_kg, 9).normalize(),
        aim=request.aim,
        rank_by=request.rank_by,
        resting_energy_kcal_per_day=amount(resting),
        targets=ranges,
        rows=rows,
        cautions=_cautions(request.animal, ranges, rows),
        source_ids=tuple(ids),
    )


def check_products(products: tuple[Product, ...]) -> None:
    """Refuse products whose costs or answers could not be told apart.

    Parameters
    ----------
    products
        All products of a request.

    Raises
    ------
    InvalidInput
        If prices are in several currencies, or an id is used twice.
    """
    currencies = {product.currency for product in products if product.price is not None}
    if len(currencies) > 1:
        shown = ", ".join(sorted(str(code) for code in currencies))
        raise InvalidInput(Issue("products", f"prices are in several currencies ({shown}); convert them to one first"))
    seen: set[str] = set()
    for index, product in enumerate(products):
        if product.id in seen:
            raise InvalidInput(
                Issue(f"products/{index}/id", f"{product.id!r} is used twice; give each product its own id")
            )
        seen.add(product.id)


def check_targets(targets: tuple[Target, ...]) -> None:
    """Refuse an ingredient that is a target twice.

    Parameters
    ----------
    targets
        All targets of a request.

    Raises
    ------
    InvalidInput
        Naming the second one.
    """
    seen: set[str] = set()
    for index, target in enumerate(targets):
        if target.ingredient in seen:
            detail = f"{target.ingredient!r} is a target already; give each ingredient one range"
            raise InvalidInput(Issue(f"targets/{index}/ingredient", detail))
        seen.add(target.ingredient)


def _candidate(
    reference: Reference,
    request: CompareRequest,
    ranges: tuple[TargetRange, ...],
    product: Product,
    index: int,
    resting: Decimal,
) -> Candidate:
    facts = read_facts(reference, product, f"products/{index}")
    per_unit = [mg_in_unit(reference, facts, wanted) for wanted in ranges]
    step = STEP_OF[product.divisible]
    counted = count_units(per_unit, [(wanted.aim_mg, wanted.high_mg) for wanted in ranges], step)
    units = counted.units
    screened = screen(
        reference, ScreenRequest(animal=request.animal, products=(replace(product, units_per_day=units),))
    )
    unit_cost = cost_per_unit(product)
    digits = minor_digits(product.currency or "")
    digits = 2 if digits is None else digits
    cost = unit_cost * units if unit_cost is not None and units is not None else None
    energy = product.unit_energy_kcal * units if product.unit_energy_kcal is not None and units is not None else None
    results = tuple(_result(wanted, pair, units) for wanted, pair in zip(ranges, per_unit, strict=True))
    # The nearest count to a high aim can still lie inside every range: then nothing speaks against it.
    meets = counted.meets or (units is not None and all(_inside(*pair) for pair in zip(ranges, results, strict=True)))
    # Per gram of the form that the target counts: what normalise gives for a label that states this form.
    first_mg = significant(per_unit[0][0], _NOISE_DIGITS)
    cost_per_g = unit_cost * 1000 / first_mg if unit_cost is not None and first_mg else None
    lasts = product.unit_count / units if product.unit_count is not None and units else None
    flags = dict.fromkeys(flag for fact in facts for flag in fact.flags)
    if product.serving_units is None and product.facts:
        flags["serving_not_stated"] = None
    flags.update(dict.fromkeys(counted.flags))
    if product.other_ingredients is None:
        flags[_NO_LIST] = None
    row = CompareRow(
        product_id=product.id,
        name=product.name,
        rank=0,
        units_per_day=units,
        unit=product.unit,
        meets_target=meets,
        targets=results,
        cost_per_day=money_per_day(cost) if cost is not None else None,
        cost_per_30_days=money_total(cost * 30, digits) if cost is not None else None,
        cost_per_365_days=money_total(cost * 365, digits) if cost is not None else None,
        cost_per_g=money_rate(cost_per_g) if cost_per_g is not None else None,
        currency=product.currency,
        container_lasts_days=significant(lasts, 4) if lasts is not None else None,
        energy_kcal_per_day=amount(energy) if energy is not None else None,
        energy_share_of_resting_need=significant(energy / resting, 4) if energy is not None else None,
        verdict=screened.verdict,
        efficient=False,
        label_flags=tuple(flags),
        why_not=_why_not(product, ranges, per_unit, units, meets, screened.verdict, known_weight(request.animal)),
    )
    return Candidate(row, cost, cost_per_g, index)


def _result(wanted: TargetRange, per_unit: tuple[Decimal, Decimal], units: Decimal | None) -> TargetResult:
    low, high = (significant(value * (units or Decimal(0)), _NOISE_DIGITS) for value in per_unit)
    return TargetResult(
        ingredient=wanted.ingredient,
        achieved_mg=amount(low),
        achieved_high_mg=amount(high),
        share_of_low=significant(low / wanted.low_mg, 4) if wanted.low_mg else Decimal(0),
        in_range=wanted.low_mg <= low <= wanted.high_mg,
    )


def _inside(wanted: TargetRange, result: TargetResult) -> bool:
    return result.in_range and result.achieved_high_mg <= wanted.high_mg


def _why_not(
    product: Product,
    ranges: tuple[TargetRange, ...],
    per_unit: list[tuple[Decimal, Decimal]],
    units: Decimal | None,
    meets: bool,
    verdict: str,
    weight_kg: Decimal,
) -> tuple[str, ...]:
    reasons = [
        f"The label credits no amount of {wanted.ingredient}."
        for wanted, (low, _) in zip(ranges, per_unit, strict=True)
        if not low
    ]
    if units is not None and not meets:
        reasons.append(
            "No number of units that it divides into reaches the aim without passing the high end of a range."
        )
    if verdict == "stop":
        reasons.append("The screen found something that must not be given to this animal.")
    reasons += impracticalities(product, units, weight_kg)
    if has_unknown_cost(product):
        reasons.append("Price or number of units is missing, so its cost is unknown.")
    return tuple(reasons)


def _cautions(animal: Animal, ranges: tuple[TargetRange, ...], rows: tuple[CompareRow, ...]) -> tuple[Caution, ...]:
    found = list(origin_cautions({wanted.origin for wanted in ranges}))
    found += age_cautions(animal)
    if any("form_not_stated" in row.label_flags or "stabiliser_not_stated" in row.label_flags for row in rows):
        found.append(
            Caution(
                "judged_on_low_reading",
                "caution",
                "Where a label leaves the form open, value is judged on the low reading and limits on the high one.",
            )
        )
    flags = {flag for row in rows for flag in row.label_flags}
    found += [Caution(flag, "caution", text) for flag, text in _FLAG_WORDS.items() if flag in flags]
    if any(row.verdict != "nothing_found" for row in rows):
        found.append(Caution("screen_each_product", "warning", "At least one product has findings: screen it in full."))
    return tuple(found)
