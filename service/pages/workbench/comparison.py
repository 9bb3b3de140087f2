"""A comparison as the workbench shows it: every number with the rule and the sources it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.compare_answer import CompareAnswer, CompareRow, TargetRange, TargetResult
from service.domain.products import STEP_OF, Product
from service.domain.rounding import significant
from service.pages.asked import Asked
from service.pages.counting import counted, money
from service.pages.wording import number, span, words
from service.reference.release import Reference

_SHOWN_DIGITS = 4
_PARTS = {
    "whole": "whole ones only",
    "halves": "in halves",
    "quarters": "in quarters",
    "opens": "opened, in halves",
    "millilitre_tenths": "in tenths of a millilitre",
    "scoop_halves": "in half scoops",
}


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """One product: its cells in the order of the columns, its verdict, and what speaks against it."""

    product_id: str
    name: str
    cells: tuple[Asked | str | None, ...]
    verdict: str
    efficient: bool
    why_not: tuple[str, ...]
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ComparisonView:
    """The comparison: what was aimed at, in words, and a row per product, best first."""

    targets: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[ComparedRow, ...]


def present_comparison(
    reference: Reference, answer: CompareAnswer, products: Mapping[str, Product], verdicts: Mapping[str, str]
) -> ComparisonView:
    """Arrange a comparison for reading.

    Parameters
    ----------
    reference
        The release that answered.
    answer
        The comparison.
    products
        What was compared, by id.
    verdicts
        Of the screen with medicines and conditions, by product id.

    Returns
    -------
    ComparisonView
        Best product first.
    """
    names = [reference.ingredients[target.ingredient].name for target in answer.targets]
    columns = ("a day", *(f"{name}, mg a day" for name in names), "cost a day", "30 days", "365 days", "pack lasts")
    rows = tuple(
        ComparedRow(
            product_id=row.product_id,
            name=row.name or row.product_id,
            cells=_cells(reference, answer, row, products[row.product_id]),
            verdict=verdicts.get(row.product_id, row.verdict),
            efficient=row.efficient,
            why_not=row.why_not,
            flags=tuple(words(flag) for flag in row.label_flags),
        )
        for row in answer.rows
    )
    return ComparisonView(tuple(_target(reference, target) for target in answer.targets), columns, rows)


def _target(reference: Reference, target: TargetRange) -> str:
    form = reference.forms[target.form].name if target.form else reference.ingredients[target.ingredient].name
    low, high = (significant(value, _SHOWN_DIGITS) for value in (target.low_mg, target.high_mg))
    aim = number(significant(target.aim_mg, _SHOWN_DIGITS))
    return f"{form}: {span(low, high)} mg a day ({target.phase}); counted against {aim} mg"


def _cells(
    reference: Reference, answer: CompareAnswer, row: CompareRow, product: Product
) -> tuple[Asked | str | None, ...]:
    targets = zip(answer.targets, row.targets, strict=True)
    return (
        _units(answer, row, product),
        *(_achieved(reference, row, target, result) for target, result in targets),
        _cost_per_day(row, product),
        _total(row, row.cost_per_30_days, 30),
        _total(row, row.cost_per_365_days, 365),
        _lasts(row, product),
    )


def _units(answer: CompareAnswer, row: CompareRow, product: Product) -> Asked | None:
    if row.units_per_day is None:
        return None
    target = answer.targets[0]
    held = row.targets[0].achieved_mg / row.units_per_day if row.units_per_day else Decimal(0)
    one = f"One {product.unit} holds {number(significant(held, _SHOWN_DIGITS))} mg that count"
    parts = _PARTS.get(product.divisible, f"in steps of {number(STEP_OF[product.divisible])}")
    aim = f"the fewest ({parts}) that reach {number(significant(target.aim_mg, _SHOWN_DIGITS))} mg a day"
    reached = "" if row.meets_target else " No number does so within the range; this is the nearest."
    text = counted(row.units_per_day, product.unit)
    return Asked(f"{row.product_id}-units", text, f"{one}; {aim}.{reached}", "", ())


def _achieved(reference: Reference, row: CompareRow, target: TargetRange, result: TargetResult) -> Asked | None:
    if row.units_per_day is None:
        return None
    low, high = (significant(value, _SHOWN_DIGITS) for value in (result.achieved_mg, result.achieved_high_mg))
    form = reference.forms[target.form].name if target.form else reference.ingredients[target.ingredient].name
    share = number(significant(result.share_of_low * 100, 3))
    rule = (
        f"{number(row.units_per_day)} a day, counted as {form}; {share} % of the lower end of "
        f"{span(significant(target.low_mg, _SHOWN_DIGITS), significant(target.high_mg, _SHOWN_DIGITS))} mg."
    )
    if low != high:
        rule += " The label leaves the form open: low and high reading."
    id_ = f"{row.product_id}-{target.ingredient}"
    return Asked(id_, span(low, high), rule, target.origin if target.origin != "caller" else "", target.source_ids)


def _cost_per_day(row: CompareRow, product: Product) -> Asked | None:
    if row.cost_per_day is None:
        return None
    rule = (
        f"{money(product.price, product.currency)} for {counted(product.unit_count or Decimal(0), product.unit)}, "
        f"{number(row.units_per_day)} a day. Price and number as told or as printed."
    )
    return Asked(f"{row.product_id}-day", money(row.cost_per_day, row.currency) or "", rule, "", ())


def _total(row: CompareRow, cost: Decimal | None, days: int) -> Asked | None:
    text = money(cost, row.currency)
    if text is None:
        return None
    return Asked(f"{row.product_id}-{days}", text, f"The cost of a day before rounding, {days} times.", "", ())


def _lasts(row: CompareRow, product: Product) -> Asked | None:
    if row.container_lasts_days is None:
        return None
    rule = f"{number(product.unit_count)} in the pack, {number(row.units_per_day)} a day."
    days = number(significant(row.container_lasts_days, 3))
    return Asked(f"{row.product_id}-lasts", f"{days} days", rule, "", ())
