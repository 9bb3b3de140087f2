"""What the units of a course cost, exactly: sums of price times units first, one division last.

Units are valued at what they cost when they were bought, oldest container first, so that at every moment what was
paid is what was used, what was thrown away and what is left.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import accumulate

from service.domain.course.prices import Bought, PriceList
from service.domain.course.using import DailyUse, Usage
from service.domain.rounding import money_total


@dataclass(frozen=True, slots=True)
class PricedRun:
    """Days in a row on which so many units are used, at one price per container."""

    day: int
    days: int
    units_per_day: Decimal
    price: Decimal


class Ledger:
    """Running totals of one course. Costs are rounded so that those of any days add up to those of all.

    Parameters
    ----------
    runs
        What is used, in order of days.
    paid
        Day and exact cost of every purchase, in order of days.
    unit_count
        Units in a container.
    minor_digits
        Decimals of the currency.
    """

    def __init__(
        self,
        runs: Sequence[PricedRun],
        paid: Sequence[tuple[int, Decimal]],
        unit_count: Decimal,
        minor_digits: int,
    ) -> None:
        self._runs, self._count, self._digits = tuple(runs), unit_count, minor_digits
        self._begins = [run.day for run in runs]
        self._before = [Decimal(0), *accumulate(run.price * run.units_per_day * run.days for run in runs)]
        self._paid_days = [day for day, _ in paid]
        self._paid = [Decimal(0), *accumulate(cost for _, cost in paid)]

    def used_until(self, day: int) -> Decimal:
        """Give the exact cost of everything used before a day, in the currency's major unit."""
        index = bisect_left(self._begins, day)
        if not index:
            return Decimal(0)
        run = self._runs[index - 1]
        days = min(day - run.day, run.days)
        return (self._before[index - 1] + run.price * run.units_per_day * days) / self._count

    def used_between(self, from_day: int, to_day: int) -> Decimal:
        """Give the cost of the days from ``from_day`` up to, not including, ``to_day``, at the minor unit."""
        return self.rounded(self.used_until(to_day)) - self.rounded(self.used_until(from_day))

    def paid_until(self, day: int) -> Decimal:
        """Give the cost of everything bought before a day, at the minor unit."""
        return self.rounded(self._paid[bisect_left(self._paid_days, day)])

    def cost_of_purchase(self, index: int) -> Decimal:
        """Give the cost of one purchase at the minor unit; all of them add up to what is paid."""
        return self.rounded(self._paid[index + 1]) - self.rounded(self._paid[index])

    def rounded(self, cost: Decimal) -> Decimal:
        """Round a cost half up to the minor unit."""
        return money_total(cost, self._digits)


def priced_by_container(usage: Usage, bought: Sequence[Bought]) -> tuple[PricedRun, ...]:
    """Give every run the price of its container.

    Parameters
    ----------
    usage
        What is used of each container.
    bought
        The purchases, in order; each has a price.

    Returns
    -------
    tuple of PricedRun
        In order of days.
    """
    tags = [one.price or Decimal(0) for one in bought for _ in range(one.containers)]
    return tuple(PricedRun(run.day, run.days, run.units_per_day, tags[run.container]) for run in usage.runs)


def priced_by_day(uses: Sequence[DailyUse], prices: PriceList) -> tuple[PricedRun, ...]:
    """Give every day the price of that day, for a course that buys no more than it uses.

    Parameters
    ----------
    uses
        What is used each day.
    prices
        The price list.

    Returns
    -------
    tuple of PricedRun
        In order of days, split where the price moves.
    """
    found = []
    for use in uses:
        cuts = [day for day in prices.year_begins if use.from_day < day < use.to_day]
        for begin, end in zip([use.from_day, *cuts], [*cuts, use.to_day], strict=True):
            found.append(PricedRun(begin, end - begin, use.units_per_day, prices.tag(begin)))
    return tuple(found)
