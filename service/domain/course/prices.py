"""What a container costs on a day, and how many are bought at once."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from service.domain.course.request import Pack, PriceBreak


@dataclass(frozen=True, slots=True)
class PriceList:
    """The prices of one product over a course.

    Prices move once a year, on the anniversary of the first day: in the k-th year after it they are the first price
    times (1 + change)^k, rounded to the minor unit as a price tag is. ``year_begins`` are those days, from 0.
    """

    price: Decimal
    breaks: tuple[PriceBreak, ...]
    change_per_year: Decimal
    year_begins: tuple[int, ...]
    minor_digits: int

    def tag(self, day: int, containers: int = 1) -> Decimal:
        """Give the price of one container.

        Parameters
        ----------
        day
            Day of the purchase, from 0.
        containers
            How many are bought at once.

        Returns
        -------
        Decimal
            In the currency's major unit.
        """
        price = self.price
        for step in self.breaks:
            if step.containers <= containers:
                price = step.price
        years = bisect_right(self.year_begins, day) - 1
        if years <= 0 or not self.change_per_year:
            return price
        # The finer of the minor unit and what the caller told, so that a price of 0.125 does not jump by rounding.
        exponent = min(-self.minor_digits, int(price.normalize().as_tuple().exponent))
        moved = price * (1 + self.change_per_year) ** years
        return moved.quantize(Decimal(1).scaleb(exponent), rounding=ROUND_HALF_UP)

    def how_many(self, needed: int) -> int:
        """Choose how many containers to buy at once where so many are still needed, at the prices of the first day.

        All that are needed cost the lowest price that their number reaches: they are bought in the smallest lots that
        do, the last lot with what remains. A larger lot is bought where it costs less than the needed ones together.

        Parameters
        ----------
        needed
            Containers that the rest of the course takes, at least 1.

        Returns
        -------
        int
            At least 1.
        """
        within = [1, *(step.containers for step in self.breaks if step.containers <= needed)]
        lot = min(within, key=lambda amount: (self.tag(0, amount), amount))
        beyond = [step.containers for step in self.breaks if step.containers > needed]
        larger = min(beyond, key=lambda amount: (self.tag(0, amount) * amount, amount), default=None)
        if larger is not None and self.tag(0, larger) * larger < self.tag(0, lot) * needed:
            return larger
        return needed if needed < 2 * lot else lot


@dataclass(frozen=True, slots=True)
class Bought:
    """Containers bought on one day at one price each; ``price`` is ``None`` where none is known."""

    day: int
    containers: int
    price: Decimal | None


def price_list(
    pack: Pack, change_per_year: Decimal, year_begins: tuple[int, ...], minor_digits: int
) -> PriceList | None:
    """Make the price list of a product.

    Parameters
    ----------
    pack
        The product; its price breaks in any order.
    change_per_year
        Share by which prices move in a year, 0.03 for 3 %.
    year_begins
        First days of the years of the course, from 0.
    minor_digits
        Decimals of the currency.

    Returns
    -------
    PriceList or None
        ``None`` where the product has no price.
    """
    if pack.product.price is None:
        return None
    breaks = tuple(sorted(pack.price_breaks, key=lambda step: step.containers))
    return PriceList(pack.product.price, breaks, change_per_year, year_begins, minor_digits)


def buy(opened_on: Sequence[int], prices: PriceList | None, at_once: int | None) -> tuple[Bought, ...]:
    """Buy every container of a course, each time on the day the first of them is opened.

    Parameters
    ----------
    opened_on
        Day on which each container is opened.
    prices
        Price list, ``None`` where no price is known.
    at_once
        Containers per purchase as the caller wants it; ``None`` leaves the choice to the price breaks.

    Returns
    -------
    tuple of Bought
        In order of days; together at least as many containers as are opened.
    """
    found = []
    index = 0
    while index < len(opened_on):
        day = opened_on[index]
        wanted = at_once or (prices.how_many(len(opened_on) - index) if prices else 1)
        # A day that opens several is one purchase, in as many lots as it takes.
        today = bisect_right(opened_on, day) - index
        wanted *= -(-today // wanted)
        found.append(Bought(day, wanted, prices.tag(day, wanted) if prices else None))
        index += wanted
    return tuple(found)
