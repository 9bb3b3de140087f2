"""From a choice of the programme to one combination of the answer, its money exact until it is rounded here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from service.domain.combining.answer import (
    BEST_FOUND,
    OPTIMAL,
    BriefFinding,
    Combination,
    CombinedProduct,
    CombinedTotal,
    RejectedSet,
    RejectedUnits,
)
from service.domain.combining.building import Case
from service.domain.combining.intake import Content
from service.domain.combining.programme import without_noise
from service.domain.combining.request import CombineRequest
from service.domain.combining.screens import Screens, Stop
from service.domain.combining.searching import Found
from service.domain.compare_answer import TargetRange, TargetResult
from service.domain.currencies import minor_digits
from service.domain.products import STEP_OF
from service.domain.rounding import amount, money_per_day, money_total, significant
from service.domain.screening_answers import Finding, ScreenAnswer, Total

HIGH_READING_ABOVE = "high_reading_above_range"
NO_LIST = "other_ingredients_not_given"
_SHARE_DIGITS = 4
_DEFAULT_MINOR_DIGITS = 2
_LEAST_TOLD = ("watch", "veterinarian", "avoid")


@dataclass(frozen=True, slots=True)
class _Given:
    """One product of a choice."""

    content: Content
    count: int

    @property
    def units(self) -> Decimal:
        """Units a day."""
        return self.content.step * self.count

    @property
    def cost(self) -> Decimal:
        """Exact cost a day, in the currency of the request."""
        return (self.content.cost or Decimal(0)) * self.count


def choice_of(case: Case, found: Found) -> dict[int, int]:
    """Say what a choice gives, by the places of the request.

    Parameters
    ----------
    case
        What the programme was made from.
    found
        A choice.

    Returns
    -------
    dict
        Smallest parts a day of each product that is used.
    """
    return {case.places[place]: count for place, count in enumerate(found.steps) if count}


def combination(
    request: CombineRequest, case: Case, screens: Screens, found: Found, cheapest: Decimal, rank: int
) -> Combination:
    """Describe one choice.

    Parameters
    ----------
    request
        What was asked for.
    case
        What the programme was made from.
    screens
        Says what speaks against it.
    found
        The choice.
    cheapest
        Exact cost a day of the first combination.
    rank
        Its place, from 1.

    Returns
    -------
    Combination
        Products in the order of the request.
    """
    choice = choice_of(case, found)
    given = [_Given(case.contents.products[place], choice[place]) for place in sorted(choice)]
    cost = sum((one.cost for one in given), Decimal(0))
    currency = given[0].content.product.currency or ""
    digits = minor_digits(currency)
    digits = _DEFAULT_MINOR_DIGITS if digits is None else digits
    screened = screens.of(choice)
    return Combination(
        rank=rank,
        status=OPTIMAL if found.proven else BEST_FOUND,
        gap=gap_of(found),
        cost_per_day=money_per_day(cost),
        cost_per_30_days=money_total(cost * 30, digits),
        cost_per_365_days=money_total(cost * 365, digits),
        more_than_cheapest_per_day=money_per_day(max(cost - cheapest, Decimal(0))),
        currency=currency,
        units_per_day=sum((one.units for one in given), Decimal(0)),
        energy_kcal_per_day=_energy(given),
        products=tuple(_product(one) for one in given),
        targets=tuple(_target(request, case, given, wanted, index) for index, wanted in enumerate(case.ranges)),
        totals=tuple(_total(total) for total in screened.totals),
        verdict=screened.verdict,
        findings=brief(screened),
    )


def exact_cost(case: Case, found: Found) -> Decimal:
    """Add up what a choice costs a day.

    Parameters
    ----------
    case
        What the programme was made from.
    found
        The choice.

    Returns
    -------
    Decimal
        In the currency of the products, not rounded.
    """
    choice = choice_of(case, found)
    return sum((_Given(case.contents.products[place], count).cost for place, count in choice.items()), Decimal(0))


def gap_of(found: Found) -> Decimal:
    """Give the share of its cost by which a choice may be dearer than the best one.

    Parameters
    ----------
    found
        The choice.

    Returns
    -------
    Decimal
        0 where it is proven to be the cheapest; never rounded down.
    """
    if found.proven:
        return Decimal(0)
    return significant((found.cost - found.bound) / found.cost, _SHARE_DIGITS, ROUND_CEILING)


def brief(screened: ScreenAnswer) -> tuple[BriefFinding, ...]:
    """Shorten the findings of a screen.

    Parameters
    ----------
    screened
        Its answer.

    Returns
    -------
    tuple of BriefFinding
        Those of level ``watch`` and above.
    """
    return tuple(
        BriefFinding(one.kind, one.level, one.subjects, one.effect, one.action, one.origin, one.source_ids)
        for one in screened.findings
        if one.level in _LEAST_TOLD
    )


def rejected_set(case: Case, stop: Stop) -> RejectedSet:
    """Describe products that must not be given together, or not as much of them.

    Parameters
    ----------
    case
        What the programme was made from.
    stop
        What the screen objects to.

    Returns
    -------
    RejectedSet
        With the least amounts at which it does.
    """
    products = [(case.contents.products[place].product, count) for place, count in sorted(stop.choice.items())]
    return RejectedSet(
        products=tuple(RejectedUnits(one.id, STEP_OF[one.divisible] * count) for one, count in products),
        detail=" ".join(dict.fromkeys(f"{one.effect} {one.action}" for one in stop.findings)),
        source_ids=_sources(stop.findings),
    )


def _sources(findings: Iterable[Finding]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(id_ for one in findings for id_ in one.source_ids))


def _product(given: _Given) -> CombinedProduct:
    product = given.content.product
    flags = dict.fromkeys(flag for fact in given.content.label.facts for flag in fact.flags)
    if product.serving_units is None and product.facts:
        flags["serving_not_stated"] = None
    if product.other_ingredients is None:
        flags[NO_LIST] = None
    return CombinedProduct(
        product_id=product.id,
        name=product.name,
        units_per_day=given.units,
        unit=product.unit,
        cost_per_day=money_per_day(given.cost),
        container_lasts_days=significant((product.unit_count or Decimal(0)) / given.units, _SHARE_DIGITS),
        label_flags=tuple(flags),
    )


def _target(
    request: CombineRequest, case: Case, given: Iterable[_Given], wanted: TargetRange, index: int
) -> TargetResult:
    low, high = case.contents.given.targets[index] if request.count_other_supplements else (Decimal(0), Decimal(0))
    for one in given:
        low_mg, high_mg = one.content.intake.targets[index]
        low, high = low + low_mg * one.count, high + high_mg * one.count
    low, high = without_noise(low), without_noise(high)
    return TargetResult(
        ingredient=wanted.ingredient,
        achieved_mg=amount(low),
        achieved_high_mg=amount(high),
        share_of_low=significant(low / wanted.low_mg, _SHARE_DIGITS) if wanted.low_mg else Decimal(0),
        in_range=wanted.low_mg <= low <= wanted.high_mg,
    )


def _total(total: Total) -> CombinedTotal:
    limit = next((one for one in total.limits if one.limit_id == total.limit_id), None)
    return CombinedTotal(
        ingredient=total.ingredient,
        moiety=total.moiety,
        low_mg_per_day=total.low_mg_per_day,
        high_mg_per_day=total.high_mg_per_day,
        limit_id=total.limit_id,
        limit_mg_per_day=total.limit_mg_per_day,
        share_of_limit=total.share_of_limit,
        limit_origin=limit.origin if limit is not None else None,
        lower_bound=total.lower_bound,
        source_ids=limit.source_ids if limit is not None else (),
    )


def _energy(given: Iterable[_Given]) -> Decimal | None:
    stated = [energy * one.units for one in given if (energy := one.content.product.unit_energy_kcal) is not None]
    return amount(sum(stated, Decimal(0))) if stated else None
