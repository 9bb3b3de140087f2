"""The course of one product: what is given, bought, used up and left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.answer import Course, CourseDay, CourseYear, PlanPhase, Purchase
from service.domain.course.days import DayCount
from service.domain.course.ledger import Ledger, PricedRun, priced_by_container, priced_by_day
from service.domain.course.portions import Portion
from service.domain.course.prices import Bought, buy, price_list
from service.domain.course.request import Pack, PlanRequest
from service.domain.course.screened import Screened
from service.domain.course.using import DailyUse, Usage, use_up
from service.domain.currencies import minor_digits
from service.domain.rounding import amount, money_per_day, money_total, significant

_NOTHING_USED = Usage((), (), (), Decimal(0))
_COUNT_DIGITS = 6
_NOISE_DIGITS = 15


@dataclass(frozen=True, slots=True)
class Planned:
    """A course before it is written out.

    ``bought`` and ``ledger`` are empty where pack or price is not known.
    """

    pack: Pack
    count: DayCount
    days: int
    portions: tuple[Portion, ...]
    usage: Usage
    bought: tuple[Bought, ...]
    by_day: tuple[PricedRun, ...]
    ledger: Ledger | None
    digits: int
    whole: bool


def plan_pack(
    request: PlanRequest,
    pack: Pack,
    count: DayCount,
    portions: tuple[Portion, ...],
    days: int,
    like: Planned | None = None,
) -> Planned:
    """Serve the portions of one product from containers and price them.

    Parameters
    ----------
    request
        The course.
    pack
        The product.
    count
        The days of the course.
    portions
        What is given; none without an amount.
    days
        Length of the course.
    like
        A plan of the same pack, whose containers serve again where the same is given: only prices differ then.

    Returns
    -------
    Planned
        With a ledger where price and unit count are known.

    Raises
    ------
    InvalidInput
        If the course takes thousands of containers.
    """
    product = pack.product
    digits = minor_digits(product.currency or "")
    digits = 2 if digits is None else digits
    uses = [DailyUse(one.from_day, one.to_day, one.used_per_day) for one in portions]
    prices = price_list(pack, request.price_change_per_year, count.anniversaries(days), digits)
    whole = request.whole_containers
    if not product.unit_count:
        return Planned(pack, count, days, portions, _NOTHING_USED, (), (), None, digits, whole)
    if not whole:
        by_day = priced_by_day(uses, prices) if prices else ()
        ledger = _ledger_by_day(by_day, product.unit_count, digits) if prices else None
        return Planned(pack, count, days, portions, _NOTHING_USED, (), by_day, ledger, digits, whole)
    if like is not None and like.portions == portions:
        usage = like.usage
    else:
        usage = use_up(uses, product.unit_count, pack.opened_shelf_life_days, f"{pack.where}/unit_count")
    bought = buy(usage.opened_on, prices, request.containers_per_purchase)
    ledger = _ledger(usage, bought, product.unit_count, digits) if prices else None
    return Planned(pack, count, days, portions, usage, bought, (), ledger, digits, whole)


def _ledger(usage: Usage, bought: Sequence[Bought], unit_count: Decimal, digits: int) -> Ledger:
    paid = [(one.day, (one.price or Decimal(0)) * one.containers) for one in bought]
    return Ledger(priced_by_container(usage, bought), paid, unit_count, digits)


def _ledger_by_day(runs: Sequence[PricedRun], unit_count: Decimal, digits: int) -> Ledger:
    paid = [(run.day, run.price * run.units_per_day * run.days / unit_count) for run in runs if run.units_per_day]
    return Ledger(runs, paid, unit_count, digits)


def written(planned: Planned, screened: Screened, label_flags: tuple[str, ...], why_not: tuple[str, ...]) -> Course:
    """Write a course out with rounded amounts and costs.

    Parameters
    ----------
    planned
        The course.
    screened
        What the screen found.
    label_flags, why_not
        What is unclear about the label, and what speaks against the product.

    Returns
    -------
    Course
        Costs of phases, of years and of purchases each add up to their totals.
    """
    product, days = planned.pack.product, planned.days
    used = units_between(planned.portions, 0, days)
    given = sum(((one.units_per_day or 0) * (one.to_day - one.from_day) for one in planned.portions), Decimal(0))
    totals = _Totals(planned)
    return Course(
        product_id=product.id,
        name=product.name,
        unit=product.unit,
        currency=product.currency,
        phases=tuple(_phase(planned, one) for one in planned.portions),
        purchases=_purchases(planned),
        years=_years(planned),
        consumed_units=_count(used),
        wasted_units=_count(used - given),
        discarded_units=totals.discarded_units,
        left_over_units=totals.left_over_units,
        containers=totals.containers,
        consumed_cost=totals.consumed,
        paid_cost=totals.paid,
        left_over_cost=totals.left_over,
        discarded_cost=totals.discarded,
        paid_cost_per_30_days=_per(totals.paid, 30, days, planned.digits),
        paid_cost_per_365_days=_per(totals.paid, 365, days, planned.digits),
        verdict=screened.verdict,
        warnings=screened.warnings,
        label_flags=label_flags,
        why_not=why_not,
        what_if=(),
        days=(),
    )


class _Totals:
    """Sums of a course; ``None`` for what is not known."""

    def __init__(self, planned: Planned) -> None:
        ledger, usage, days = planned.ledger, planned.usage, planned.days
        unit_count = planned.pack.product.unit_count
        self.consumed = ledger.rounded(ledger.used_until(days)) if ledger else None
        self.paid = ledger.paid_until(days) if ledger else None
        self.containers: Decimal | None = None
        self.discarded_units: Decimal | None = None
        self.left_over_units: Decimal | None = None
        self.discarded = self.left_over = None
        if not unit_count:
            return
        bought = sum(one.containers for one in planned.bought)
        self.discarded_units = _count(sum((units for _, units in usage.discarded), Decimal(0)))
        self.left_over_units = _count(usage.left_in_open + (bought - len(usage.opened_on)) * unit_count)
        used = units_between(planned.portions, 0, days)
        self.containers = Decimal(bought) if planned.whole else significant(used / unit_count, _COUNT_DIGITS)
        if ledger is not None and self.paid is not None and self.consumed is not None:
            tags = [one.price or Decimal(0) for one in planned.bought for _ in range(one.containers)]
            lost = sum((tags[container] * units for container, units in usage.discarded), Decimal(0))
            rest = self.paid - self.consumed
            # What is left is the rest, so that the four sums agree to the minor unit; nothing left costs nothing.
            self.discarded = min(ledger.rounded(lost / unit_count), rest) if self.left_over_units else rest
            self.left_over = rest - self.discarded


def _phase(planned: Planned, portion: Portion) -> PlanPhase:
    days = portion.to_day - portion.from_day
    units = portion.units_per_day or Decimal(0)
    target, ledger = portion.target, planned.ledger
    low, high = portion.per_unit_mg or (None, None)
    mg = significant(low * units, _NOISE_DIGITS) if low is not None else None
    mg_high = significant(high * units, _NOISE_DIGITS) if high is not None else None
    cost = ledger.used_between(portion.from_day, portion.to_day) if ledger else None
    exact = ledger.used_until(portion.to_day) - ledger.used_until(portion.from_day) if ledger else None
    return PlanPhase(
        phase=portion.phase,
        from_day=portion.from_day + 1,
        to_day=portion.to_day,
        from_date=planned.count.date_of(portion.from_day),
        to_date=planned.count.date_of(portion.to_day - 1),
        days=days,
        weight_kg=significant(portion.weight_kg, 9).normalize() if portion.weight_kg is not None else None,
        units_per_day=_count(units),
        units=_count(units * days),
        wasted_units=_count((portion.used_per_day - units) * days),
        ingredient=target.ingredient if target else None,
        form=target.form if target else None,
        mg_per_day=amount(mg) if mg is not None else None,
        mg_high_per_day=amount(mg_high) if mg_high is not None else None,
        wanted_low_mg=target.low_mg if target else None,
        wanted_high_mg=target.high_mg if target else None,
        surplus_mg_per_day=_surplus(portion, mg),
        meets_target=portion.meets,
        divided_doses=portion.divided_doses,
        cost_per_day=money_per_day(exact / days) if exact is not None else None,
        cost=cost,
        origin=target.origin if target and portion.derived else "caller",
        flags=portion.flags,
        source_ids=target.source_ids if target else (),
    )


def _surplus(portion: Portion, mg: Decimal | None) -> Decimal | None:
    """Give what dividing the units gives beyond the aim: 750 mg wanted of halves of 500 mg tablets is 0 over."""
    if mg is None or portion.target is None or not portion.derived:
        return None
    return amount(significant(mg, _NOISE_DIGITS) - portion.target.aim_mg)


def _purchases(planned: Planned) -> tuple[Purchase, ...]:
    unit_count, ledger = planned.pack.product.unit_count, planned.ledger
    if unit_count is None:
        return ()
    found = []
    if planned.by_day:
        runs = [run for run in planned.by_day if run.units_per_day]
        for index, run in enumerate(runs):
            units = run.units_per_day * run.days
            cost = ledger.cost_of_purchase(index) if ledger else None
            shown = significant(units / unit_count, _COUNT_DIGITS)
            found.append(Purchase(run.day + 1, planned.count.date_of(run.day), shown, _count(units), run.price, cost))
        return tuple(found)
    for index, one in enumerate(planned.bought):
        cost = ledger.cost_of_purchase(index) if ledger else None
        units = one.containers * unit_count
        on = planned.count.date_of(one.day)
        found.append(Purchase(one.day + 1, on, Decimal(one.containers), _count(units), one.price, cost))
    return tuple(found)


def _years(planned: Planned) -> tuple[CourseYear, ...]:
    begins, ledger, count = planned.count.anniversaries(planned.days), planned.ledger, planned.count
    found = []
    for index, begin in enumerate(begins):
        end = begins[index + 1] if index + 1 < len(begins) else planned.days
        found.append(
            CourseYear(
                year=index + 1,
                from_day=begin + 1,
                to_day=end,
                from_date=count.date_of(begin),
                to_date=count.date_of(end - 1),
                days=end - begin,
                units=_count(units_between(planned.portions, begin, end)),
                consumed_cost=ledger.used_between(begin, end) if ledger else None,
                paid_cost=ledger.paid_until(end) - ledger.paid_until(begin) if ledger else None,
            )
        )
    return tuple(found)


def units_between(portions: Sequence[Portion], from_day: int, to_day: int) -> Decimal:
    """Add up the units that leave the packs on some days.

    Parameters
    ----------
    portions
        What is given.
    from_day, to_day
        From 0; ``to_day`` is not counted.

    Returns
    -------
    Decimal
        Units, with what is thrown away of divided ones.
    """
    return sum(
        (one.used_per_day * max(min(one.to_day, to_day) - max(one.from_day, from_day), 0) for one in portions),
        Decimal(0),
    )


def course_days(planned: Planned) -> tuple[CourseDay, ...]:
    """List every day of a course.

    Parameters
    ----------
    planned
        The course.

    Returns
    -------
    tuple of CourseDay
        Costs add up to the consumed cost to the minor unit, so that two like days may differ by one of it.
    """
    used = dict.fromkeys(range(planned.days), Decimal(0))
    for portion in planned.portions:
        used.update(dict.fromkeys(range(portion.from_day, portion.to_day), portion.used_per_day))
    return tuple(
        CourseDay(day + 1, planned.count.date_of(day), _count(units), _cost_of_day(planned, day))
        for day, units in used.items()
    )


def _cost_of_day(planned: Planned, day: int) -> Decimal | None:
    return planned.ledger.used_between(day, day + 1) if planned.ledger else None


def _per(cost: Decimal | None, days: int, of_days: int, digits: int) -> Decimal | None:
    return money_total(cost * days / of_days, digits) if cost is not None else None


def _count(units: Decimal) -> Decimal:
    """Write a count without a tail of zeros; counts are exact."""
    plain = units.normalize()
    return plain.quantize(Decimal(1)) if plain == plain.to_integral_value() else plain
