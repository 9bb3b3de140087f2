"""Containers opened, used up and thrown away, held against a count of single days."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.course.request import MOST_CONTAINERS
from service.domain.course.using import DailyUse, Run, use_up
from service.domain.errors import InvalidInput


def _uses(*amounts: tuple[int, str]) -> list[DailyUse]:
    found, day = [], 0
    for days, per_day in amounts:
        found.append(DailyUse(day, day + days, D(per_day)))
        day += days
    return found


def test_thirty_units_at_two_a_day() -> None:
    usage = use_up(_uses((20, "2")), D(30), None)
    assert usage.opened_on == (0, 15)
    assert usage.runs == (Run(0, 15, D(2), 0), Run(15, 5, D(2), 1))
    assert usage.left_in_open == 20


def test_a_day_may_take_the_last_of_one_and_the_first_of_the_next() -> None:
    # 10 units at 1.5: six days use 9; the seventh takes 1 and then 0.5 of the next.
    usage = use_up(_uses((7, "1.5")), D(10), None)
    assert usage.runs == (Run(0, 6, D("1.5"), 0), Run(6, 1, D(1), 0), Run(6, 1, D("0.5"), 1))
    assert usage.left_in_open == D("9.5")


def test_an_opened_container_grows_too_old() -> None:
    # 60 units at one a day, good for 30 days: on day 31 the other 30 are thrown away.
    usage = use_up(_uses((40, "1")), D(60), 30)
    assert usage.opened_on == (0, 30)
    assert usage.discarded == ((0, D(30)),)
    assert usage.left_in_open == 50


def test_a_pause_ages_the_container_too() -> None:
    usage = use_up(_uses((2, "1"), (10, "0"), (2, "1")), D(60), 10)
    assert usage.opened_on == (0, 12)
    assert usage.discarded == ((0, D(58)),)


def test_a_day_may_take_several_containers() -> None:
    usage = use_up(_uses((2, "5")), D(2), None)
    assert usage.opened_on == (0, 0, 0, 1, 1)
    assert usage.left_in_open == 0


def test_nothing_is_opened_for_nothing() -> None:
    assert use_up(_uses((5, "0")), D(10), None).opened_on == ()


def test_thousands_of_containers_are_refused() -> None:
    with pytest.raises(InvalidInput) as caught:
        use_up(_uses((MOST_CONTAINERS + 1, "1")), D(1), None, "products/2/unit_count")
    assert [issue.where for issue in caught.value.issues] == ["products/2/unit_count"]
    assert "more than 4000 containers" in caught.value.issues[0].detail


_AMOUNTS = st.lists(
    st.tuples(st.integers(1, 60), st.sampled_from(["0", "0.25", "0.5", "1", "1.5", "3", "7.3"])), min_size=1, max_size=6
)


@given(_AMOUNTS, st.integers(1, 50), st.none() | st.integers(1, 40))
def test_single_days_give_the_same(amounts: list[tuple[int, str]], unit_count: int, shelf_life: int | None) -> None:
    usage = use_up(_uses(*amounts), D(unit_count), shelf_life)
    assert (usage.opened_on, sum(lost for _, lost in usage.discarded), usage.left_in_open) == _day_by_day(
        amounts, D(unit_count), shelf_life
    )


@given(_AMOUNTS, st.integers(1, 50), st.none() | st.integers(1, 40))
def test_units_are_conserved(amounts: list[tuple[int, str]], unit_count: int, shelf_life: int | None) -> None:
    usage = use_up(_uses(*amounts), D(unit_count), shelf_life)
    used = sum(run.units_per_day * run.days for run in usage.runs)
    assert used == sum(days * D(per_day) for days, per_day in amounts)
    lost = sum(units for _, units in usage.discarded)
    assert len(usage.opened_on) * unit_count == used + lost + usage.left_in_open
    for container in range(len(usage.opened_on)):
        of_one = sum(run.units_per_day * run.days for run in usage.runs if run.container == container)
        assert of_one + dict(usage.discarded).get(container, 0) <= unit_count


def _day_by_day(
    amounts: list[tuple[int, str]], unit_count: D, shelf_life: int | None
) -> tuple[tuple[int, ...], D | int, D]:
    """Live through the days one by one, unit by quarter of a tenth."""
    opened: list[int] = []
    left, lost, day = D(0), D(0), 0
    for days, per_day in amounts:
        for _ in range(days):
            need = D(per_day)
            if left and shelf_life is not None and day - opened[-1] >= shelf_life:
                lost, left = lost + left, D(0)
            while need > 0:
                if left == 0:
                    opened.append(day)
                    left = unit_count
                taken = min(need, left)
                need, left = need - taken, left - taken
            day += 1
    return tuple(opened), lost, left
