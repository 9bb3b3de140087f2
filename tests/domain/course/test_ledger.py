"""Costs that add up: of days, of years, of purchases, whatever the price."""

from __future__ import annotations

from decimal import Decimal as D

from hypothesis import given
from hypothesis import strategies as st

from service.domain.course.ledger import Ledger, PricedRun, priced_by_container, priced_by_day
from service.domain.course.prices import Bought, PriceList
from service.domain.course.using import DailyUse, Run, Usage


def test_each_run_has_the_price_of_its_container() -> None:
    usage = Usage((Run(0, 3, D(1), 0), Run(3, 2, D(1), 1), Run(5, 1, D(2), 2)), (0, 3, 5), (), D(0))
    bought = (Bought(0, 2, D(9)), Bought(5, 1, D(10)))
    assert [run.price for run in priced_by_container(usage, bought)] == [9, 9, 10]


def test_a_day_of_its_own_price_where_nothing_is_stored() -> None:
    prices = PriceList(D(10), (), D("0.1"), (0, 365), 2)
    runs = priced_by_day([DailyUse(360, 370, D(2))], prices)
    assert runs == (PricedRun(360, 5, D(2), D(10)), PricedRun(365, 5, D(2), D("11.00")))


def test_a_third_of_a_cent_is_not_lost() -> None:
    # 1.00 for 3 units, one a day: 0.33, 0.34, 0.33.
    ledger = Ledger([PricedRun(0, 3, D(1), D(1))], [(0, D(1))], D(3), 2)
    assert [ledger.used_between(day, day + 1) for day in range(3)] == [D("0.33"), D("0.34"), D("0.33")]
    assert ledger.used_between(0, 3) == 1


def test_half_a_cent_is_rounded_up_once() -> None:
    # 0.01 for 2 units: the first unit costs half a cent, which rounds up; both together cost the cent.
    ledger = Ledger([PricedRun(0, 2, D(1), D("0.01"))], [(0, D("0.01"))], D(2), 2)
    assert [ledger.used_between(day, day + 1) for day in range(2)] == [D("0.01"), D("0.00")]


def test_purchases_of_a_price_finer_than_the_minor_unit_add_up() -> None:
    ledger = Ledger([], [(0, D("0.005")), (1, D("0.005")), (2, D("0.005"))], D(1), 2)
    assert [ledger.cost_of_purchase(index) for index in range(3)] == [D("0.01"), D("0.00"), D("0.01")]
    assert ledger.paid_until(3) == D("0.02")
    assert ledger.paid_until(1) == D("0.01")
    assert ledger.paid_until(0) == 0


_RUNS = st.lists(
    st.tuples(
        st.integers(1, 40), st.sampled_from(["0.25", "0.5", "1", "1.7", "3"]), st.decimals("0.01", 500, places=2)
    ),
    min_size=1,
    max_size=8,
)


@given(_RUNS, st.integers(1, 97), st.sampled_from([0, 2, 3]), st.data())
def test_any_division_of_the_days_adds_up(
    amounts: list[tuple[int, str, D]], unit_count: int, digits: int, data: st.DataObject
) -> None:
    runs, day = [], 0
    for days, units, price in amounts:
        runs.append(PricedRun(day, days, D(units), price))
        day += days
    ledger = Ledger(runs, [], D(unit_count), digits)
    exact = sum(price * D(units) * days for days, units, price in amounts) / D(unit_count)
    assert abs(ledger.used_between(0, day) - exact) <= D(1).scaleb(-digits) / 2
    assert sum(ledger.used_between(one, one + 1) for one in range(day)) == ledger.used_between(0, day)
    cut = data.draw(st.integers(0, day))
    assert ledger.used_between(0, cut) + ledger.used_between(cut, day) == ledger.used_between(0, day)
