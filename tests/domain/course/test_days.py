"""Days and years of a course, held against the calendar itself."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal as D

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from service.domain.course.days import DayCount, add_years

DATES = st.dates(date(1990, 1, 1), date(2090, 12, 31))


@pytest.mark.parametrize(
    ("start", "years", "expected"),
    [
        (date(2027, 1, 1), "1", date(2028, 1, 1)),
        (date(2028, 1, 1), "1", date(2029, 1, 1)),
        (date(2028, 2, 29), "1", date(2029, 2, 28)),
        (date(2028, 2, 29), "4", date(2032, 2, 29)),
        # 1900 and 2100 have no 29 February (the Gregorian rule).
        (date(2096, 2, 29), "4", date(2100, 2, 28)),
        # Half a year is 182.5 days, rounded up.
        (date(2027, 1, 1), "0.5", date(2027, 7, 3)),
        (date(2027, 1, 1), "1.5", date(2028, 7, 2)),
        (date(2027, 1, 1), "0", date(2027, 1, 1)),
    ],
)
def test_years_by_the_calendar(start: date, years: str, expected: date) -> None:
    assert add_years(start, D(years)) == expected


@given(DATES, st.integers(0, 40))
def test_whole_years_agree_with_dateutil(start: date, years: int) -> None:
    # Outside check: relativedelta of the library python-dateutil.
    assert add_years(start, D(years)) == start + relativedelta(years=years)


def test_without_a_start_every_year_has_365_days() -> None:
    count = DayCount()
    assert count.after_years(D(10)) == 3650
    assert count.after_years(D("0.5"), from_day=100) == 283
    assert count.date_of(5) is None
    assert count.anniversaries(731) == (0, 365, 730)
    assert count.anniversaries(730) == (0, 365)


def test_with_a_start_the_calendar_decides() -> None:
    count = DayCount(date(2026, 1, 1))
    # 2028 and 2032 are leap years: ten years are 3652 days.
    assert count.after_years(D(10)) == 3652
    assert count.date_of(0) == date(2026, 1, 1)
    assert count.anniversaries(1100) == (0, 365, 730, 1096)


def test_years_of_a_course_from_a_leap_day_do_not_drift() -> None:
    count = DayCount(date(2028, 2, 29))
    begins = [count.date_of(day) for day in count.anniversaries(1500)]
    assert begins == [date(2028, 2, 29), date(2029, 2, 28), date(2030, 2, 28), date(2031, 2, 28), date(2032, 2, 29)]


@given(DATES, st.integers(0, 4000))
def test_day_and_date_are_inverse(start: date, day: int) -> None:
    count = DayCount(start)
    on = count.date_of(day)
    assert on == start + timedelta(days=day)
    assert on is not None
    assert count.day_of(on) == day


def test_no_date_without_a_start() -> None:
    with pytest.raises(ValueError, match="has no dates"):
        DayCount().day_of(date(2027, 1, 1))
