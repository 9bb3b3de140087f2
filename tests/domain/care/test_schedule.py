"""From what is told of a course to days; every date was counted by hand on a calendar."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.care.request import PhaseTold, ProductTold
from service.domain.care.schedule import (
    MOST_STRETCHES,
    Span,
    date_of,
    day_count,
    day_shown,
    last_day,
    spans_of,
    stretches_of,
)
from service.domain.course.days import DayCount
from service.domain.errors import InvalidInput
from tests.domain.care.making import START, in_phases, request, tablet, units
from tests.domain.care.making import given as a_tablet

CALENDAR = DayCount(START)
NO_CALENDAR = DayCount()


def days(told: ProductTold, count: DayCount = CALENDAR) -> list[tuple[int, int | None]]:
    return [(span.from_day, span.to_day) for span in spans_of(told, 0, count)]


def refused(told: ProductTold, where: str, hint: str, count: DayCount = CALENDAR) -> None:
    with pytest.raises(InvalidInput) as error:
        spans_of(told, 0, count)
    assert {issue.where for issue in error.value.issues} >= {where}
    assert hint in error.value.issues[0].detail


def test_without_phases_it_is_given_from_the_first_day_on() -> None:
    assert days(a_tablet("2")) == [(0, None)]
    assert days(a_tablet("2"), NO_CALENDAR) == [(0, None)]


def test_unknown_units_are_told_as_unknown() -> None:
    (span,) = spans_of(a_tablet(None), 0, CALENDAR)
    assert span.told is None
    assert not span.is_pause


def test_dates_of_a_product_count_its_last_day() -> None:
    # 1 to 31 March are 31 days.
    told = ProductTold(tablet("1"), from_date=date(2027, 3, 1), until_date=date(2027, 3, 31))
    assert days(told) == [(0, 31)]


def test_a_product_may_have_begun_before_the_course() -> None:
    # 1 March is 28 days after 1 February 2027, which is no leap year.
    assert days(ProductTold(tablet("1"), from_date=date(2027, 2, 1))) == [(-28, None)]
    assert day_shown(-28) is None


def test_phases_follow_each_other() -> None:
    # Six weeks are 42 days; ten days after them end on day 52.
    told = in_phases(units("3", weeks=6), units("2", days=10), units("1"))
    assert days(told) == [(0, 42), (42, 52), (52, None)]


def test_a_year_of_a_calendar_has_its_own_length() -> None:
    # 1 March 2027 to 1 March 2028 holds 29 February 2028: 366 days.
    assert days(in_phases(units("1", years=D(1)))) == [(0, 366)]
    assert days(in_phases(units("1", years=D(1))), NO_CALENDAR) == [(0, 365)]


def test_a_phase_can_begin_and_end_on_dates() -> None:
    told = in_phases(
        units("2", until_date=date(2027, 3, 14)), units("1", from_date=date(2027, 4, 1), until_date=date(2027, 4, 30))
    )
    # 14 days of March, a gap, then 30 days from 1 April, which is 31 days after 1 March.
    assert days(told) == [(0, 14), (31, 61)]


def test_the_first_phase_can_bring_the_calendar() -> None:
    told = in_phases(units("2", from_date=START, weeks=1), units("1"))
    assert day_count(request(told)).start == START
    assert days(told) == [(0, 7), (7, None)]


@pytest.mark.parametrize(
    ("told", "where", "hint"),
    [
        (in_phases(units("1", days=3, weeks=1)), "products/0/phases/0/days", "only one of"),
        (in_phases(units("1"), units("2", days=1)), "products/0/phases/0/days", "only the last phase may be open"),
        (in_phases(PhaseTold(days=3)), "products/0/phases/0/units_per_day", "exactly one of"),
        (
            in_phases(PhaseTold(units_per_day=D(1), mg_per_day=D(500), days=3)),
            "products/0/phases/0/units_per_day",
            "exactly one of",
        ),
        (in_phases(PhaseTold(mg_per_day=D(500))), "products/0/phases/0/ingredient", "which ingredient"),
        (ProductTold(tablet("1"), phases=(units("1"),)), "products/0/units_per_day", "stands beside phases"),
        (
            ProductTold(tablet(), until_date=START, phases=(units("1"),)),
            "products/0/until_date",
            "stands beside phases",
        ),
        (
            ProductTold(tablet(), from_date=START, phases=(units("1", from_date=START),)),
            "products/0/from_date",
            "told twice",
        ),
        (
            in_phases(units("1", weeks=6), units("2", from_date=date(2027, 3, 20))),
            "products/0/phases/1/from_date",
            "before the end of the phase before it",
        ),
        (
            ProductTold(tablet("1"), from_date=date(2027, 3, 5), until_date=date(2027, 3, 4)),
            "products/0/until_date",
            "before its first day",
        ),
        (
            ProductTold(tablet("1"), from_date=date(2027, 1, 1), until_date=date(2027, 2, 28)),
            "products/0/until_date",
            "belongs into observations",
        ),
        (in_phases(units("1", years=D(29)), units("1", years=D(2))), "products/0/phases/1/years", "30 years"),
    ],
)
def test_what_contradicts_itself_is_refused(told: ProductTold, where: str, hint: str) -> None:
    refused(told, where, hint)


@pytest.mark.parametrize(
    ("told", "where"),
    [
        (ProductTold(tablet("1"), until_date=START), "products/0/until_date"),
        (in_phases(units("1", days=2), units("1", from_date=START)), "products/0/phases/1/from_date"),
    ],
)
def test_dates_need_a_calendar(told: ProductTold, where: str) -> None:
    refused(told, where, "needs start_date", NO_CALENDAR)


def test_the_calendar_begins_with_the_start_date_or_the_earliest_product() -> None:
    early, late = (ProductTold(tablet("1"), from_date=date(2027, month, 1)) for month in (2, 4))
    assert day_count(request(late, early)).start == date(2027, 2, 1)
    assert day_count(request(late, early, start_date=START)).start == START
    assert day_count(request()).start is None


def spans(*pairs: tuple[int, int, int | None]) -> list[Span]:
    told = PhaseTold(units_per_day=D(1))
    return [Span(product, begin, end, told, "products") for product, begin, end in pairs]


def test_stretches_change_where_any_product_does() -> None:
    # By hand: the first product on days 0 to 41 and from 42 on, the second on days 10 to 50.
    found = stretches_of([*spans((0, 0, 42)), *spans((0, 42, None)), *spans((1, 10, 51))])
    assert [(one.from_day, one.to_day, sorted(one.spans)) for one in found] == [
        (0, 10, [0]),
        (10, 42, [0, 1]),
        (42, 51, [0, 1]),
        (51, None, [0]),
    ]


def test_days_on_which_nothing_is_given_are_left_out() -> None:
    found = stretches_of(spans((0, 0, 5), (0, 9, 12)))
    assert [(one.from_day, one.to_day) for one in found] == [(0, 5), (9, 12)]


def test_a_pause_is_no_giving() -> None:
    told = in_phases(units("1", days=3), units("0", days=4), units("1"))
    assert [(one.from_day, one.to_day) for one in stretches_of(spans_of(told, 0, CALENDAR))] == [(0, 3), (7, None)]


def test_nothing_but_pauses_is_refused() -> None:
    with pytest.raises(InvalidInput, match="every phase is a pause"):
        stretches_of(spans_of(in_phases(units("0")), 0, CALENDAR))


def test_more_changes_than_anyone_keeps_are_refused() -> None:
    enough = spans(*((0, day, day + 1) for day in range(MOST_STRETCHES)))
    assert len(stretches_of(enough)) == MOST_STRETCHES
    with pytest.raises(InvalidInput, match=f"at most {MOST_STRETCHES} stretches"):
        stretches_of([*enough, *spans((0, 100, 101))])


def test_days_are_shown_from_one_and_ends_belong_to_what_they_end() -> None:
    assert (day_shown(0), day_shown(41), day_shown(-1)) == (1, 42, None)
    assert (last_day(42), last_day(None)) == (41, None)
    assert date_of(CALENDAR, 41) == date(2027, 4, 11)
    assert date_of(CALENDAR, None) is None
    assert date_of(NO_CALENDAR, 3) is None


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 30), st.integers(1, 20)), min_size=1, max_size=8))
def test_on_every_day_a_stretch_holds_exactly_what_is_given(lengths: list[tuple[int, int, int]]) -> None:
    # One span for each product: the last one drawn.
    drawn = {product: (begin, begin + days) for product, begin, days in lengths}
    several = [Span(product, *ends, PhaseTold(units_per_day=D(1)), "products") for product, ends in drawn.items()]
    found = stretches_of(several)
    for day in range(52):
        expected = {product for product, (begin, end) in drawn.items() if begin <= day < end}
        held = [set(one.spans) for one in found if one.from_day <= day < (one.to_day or 99)]
        assert held == ([expected] if expected else [])
