"""Price tags over the years, and how many containers are bought at once."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.course.prices import Bought, PriceList, buy, price_list
from service.domain.course.request import PriceBreak
from tests.domain.course.making import pack

YEARS = (0, 365, 730, 1095)
THREE_FOR_30 = (PriceBreak(3, D(10)),)


def prices(price: str = "12", breaks: tuple[PriceBreak, ...] = (), change: str = "0", digits: int = 2) -> PriceList:
    return PriceList(D(price), breaks, D(change), YEARS, digits)


@pytest.mark.parametrize(
    ("price", "change", "digits", "day", "expected"),
    [
        ("14.40", "0.1", 2, 364, "14.40"),
        ("14.40", "0.1", 2, 365, "15.84"),
        ("14.40", "0.1", 2, 730, "17.42"),  # 17.424
        ("9.99", "0.03", 2, 365, "10.29"),  # 10.2897
        ("10.05", "0.5", 2, 365, "15.08"),  # 15.075, half up
        ("1000", "0.0255", 0, 365, "1026"),  # 1025.5 yen, half up
        ("1.250", "0.1", 3, 365, "1.375"),
        ("0.125", "0.1", 2, 365, "0.138"),  # told finer than a cent: stays finer
        ("20", "-0.1", 2, 730, "16.20"),
        ("15.0", "0.03", 0, 365, "15"),  # 15.45 yen: zeros behind the point are no finer price
    ],
)
def test_a_price_moves_on_the_anniversary(price: str, change: str, digits: int, day: int, expected: str) -> None:
    assert str(prices(price, change=change, digits=digits).tag(day)) == expected


def test_a_price_that_does_not_move_is_the_one_told() -> None:
    assert prices("14.405").tag(5000) == D("14.405")


def test_breaks_hold_from_their_number_on() -> None:
    both = prices(breaks=(*THREE_FOR_30, PriceBreak(6, D(8))))
    assert [both.tag(0, count) for count in (1, 2, 3, 5, 6, 60)] == [12, 12, 10, 10, 8, 8]


def test_breaks_move_with_the_price() -> None:
    assert prices(breaks=THREE_FOR_30, change="0.1").tag(365, 3) == D("11")


@pytest.mark.parametrize(
    ("needed", "expected"),
    [
        (1, 1),  # 12 beats 3 x 10
        (2, 1),  # 2 x 12 = 24 beats 30
        (3, 3),
        (4, 4),  # in one lot, so that the fourth costs 10 too
        (6, 3),
        (7, 3),
    ],
)
def test_how_many_at_once(needed: int, expected: int) -> None:
    assert prices(breaks=THREE_FOR_30).how_many(needed) == expected


def test_more_than_needed_where_that_costs_less() -> None:
    # Two at 12 are 24; three at 7 are 21.
    assert prices(breaks=(PriceBreak(3, D(7)),)).how_many(2) == 3


@given(
    st.integers(1, 12),
    st.lists(st.tuples(st.integers(2, 8), st.integers(1, 12)), max_size=3, unique_by=lambda step: step[0]),
)
def test_the_choice_never_costs_more_than_single_ones(needed: int, steps: list[tuple[int, int]]) -> None:
    falling = sorted((price for _, price in steps), reverse=True)
    breaks = tuple(PriceBreak(count, D(price)) for (count, _), price in zip(sorted(steps), falling, strict=True))
    bought = buy(range(needed), prices(breaks=breaks), None)
    assert sum(one.containers for one in bought) >= needed
    paid = sum(one.containers * (one.price or 0) for one in bought)
    assert paid == min(_cheapest(needed, [(1, D(12)), *((step.containers, step.price) for step in breaks)]))


def _cheapest(needed: int, tiers: list[tuple[int, D]]) -> list[D]:
    """Try every single lot; splitting one can only raise a price that falls with the number."""
    return [
        max(count, needed) * min(price for least, price in tiers if least <= max(count, needed)) for count, _ in tiers
    ]


def test_bought_on_the_day_it_is_opened() -> None:
    days = (0, 40, 80, 120, 160, 200, 240)
    assert buy(days, prices(breaks=THREE_FOR_30), None) == (Bought(0, 3, D(10)), Bought(120, 4, D(10)))


def test_the_caller_may_say_how_many() -> None:
    assert buy((0, 40, 80), prices(), 2) == (Bought(0, 2, D(12)), Bought(80, 2, D(12)))


def test_one_day_is_one_purchase() -> None:
    assert buy((0, 0, 0, 1), prices(), None) == (Bought(0, 3, D(12)), Bought(1, 1, D(12)))
    assert buy((0, 0, 0), prices(), 2) == (Bought(0, 4, D(12)),)


def test_without_a_price_only_the_days_are_known() -> None:
    assert buy((0, 40), None, None) == (Bought(0, 1, None), Bought(40, 1, None))
    assert price_list(pack(price=None, currency=None), D(0), YEARS, 2) is None


def test_breaks_may_be_told_in_any_order() -> None:
    told = pack(price_breaks=(PriceBreak(6, D(8)), PriceBreak(3, D(10))))
    listed = price_list(told, D(0), YEARS, 2)
    assert listed is not None
    assert listed.tag(0, 7) == 8
