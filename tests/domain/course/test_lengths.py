"""When phases begin and end."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest

from service.domain.course.days import DayCount
from service.domain.course.lengths import default_horizon_days, horizon_days, stretches
from service.domain.course.request import LONGEST_DAYS, PhaseWanted, PlanRequest
from service.domain.errors import InvalidInput
from tests.domain.course.making import DOG, pack, units

NO_DATE = DayCount()
BASE = PlanRequest(DOG, (pack(),))
ONE = D(1)


def _request(*phases: PhaseWanted, **changes: object) -> PlanRequest:
    return replace(BASE, phases=phases, **changes)  # type: ignore[arg-type]


def _days(request: PlanRequest, start: date | None = None) -> list[tuple[int, int]]:
    found = stretches(replace(request, start_date=start), DayCount(start))
    return [(one.from_day, one.to_day) for one in found]


def _years(years: str) -> PhaseWanted:
    return PhaseWanted(units_per_day=ONE, years=D(years))


def test_days_weeks_and_years_in_turn() -> None:
    phases = (units("2", 10), PhaseWanted(units_per_day=ONE, weeks=6), _years("2"))
    assert _days(_request(*phases)) == [(0, 10), (10, 52), (52, 782)]


def test_the_calendar_decides_how_long_a_year_is() -> None:
    assert _days(_request(_years("1"), _years("1")), date(2027, 3, 1)) == [(0, 366), (366, 731)]
    assert _days(_request(_years("1"), _years("1"))) == [(0, 365), (365, 730)]


def test_years_in_turn_find_the_leap_day_again() -> None:
    # One year and three from 29 February 2028 end where four do.
    start = date(2028, 2, 29)
    assert _days(_request(_years("1"), _years("3")), start)[-1][1] == _days(_request(_years("4")), start)[0][1] == 1461


def test_the_last_phase_may_be_open() -> None:
    request = _request(units("2", 42), PhaseWanted(units_per_day=ONE), horizon_days=90)
    assert _days(request) == [(0, 42), (42, 90)]


def test_a_horizon_that_the_phases_fill_exactly() -> None:
    assert _days(_request(units("2", 42), units("1", 48), horizon_days=90)) == [(0, 42), (42, 90)]


def _by_age(*ages: str, **changes: object) -> PlanRequest:
    phases = [PhaseWanted(units_per_day=ONE, from_age_years=D(age)) for age in ages]
    return _request(*phases, **changes)


def test_small_amount_from_eight_years_larger_from_ten() -> None:
    # The dog is six: two years of 365 days until the first, two more until the second.
    assert _days(_by_age("8", "10", until_age_years=D(14))) == [(730, 1460), (1460, 2920)]


def test_ages_that_are_past_are_left_out() -> None:
    older = replace(DOG, age_years=D("9.5"))
    # Half a year is 182.5 days, rounded up to 183.
    assert _days(_by_age("8", "10", animal=older, horizon_days=400)) == [(0, 183), (183, 400)]
    assert _days(_by_age("8", "9", animal=older, horizon_days=400)) == [(0, 400)]


def test_birthdays_of_the_calendar() -> None:
    request = _by_age("8", "10", animal=replace(DOG, age_years=None), birth_date=date(2020, 5, 10), horizon_years=D(4))
    begins = [DayCount(date(2027, 1, 1)).date_of(begin) for begin, _ in _days(request, date(2027, 1, 1))]
    assert begins == [date(2028, 5, 10), date(2030, 5, 10)]


@pytest.mark.parametrize(
    ("request_", "where", "detail"),
    [
        (_request(units("1", 5, weeks=2)), "phases/0/days", "exactly one"),
        (_request(PhaseWanted(units_per_day=ONE), units("1", 5)), "phases/0/days", "only the last phase may be open"),
        (_request(units("1", 5), PhaseWanted(units_per_day=ONE)), "phases/1/days", "or the length of the course"),
        (_request(units("1", 90), PhaseWanted(units_per_day=ONE), horizon_days=90), "phases/1", "after the course"),
        (_request(units("1", 90), horizon_days=91), "horizon_days", "the phases take 90"),
        (_request(units("1", 90), horizon_years=ONE), "horizon_years", "the phases take 90"),
        (_request(units("1", LONGEST_DAYS + 1)), "phases/0", "at most 10958 days"),
        (_request(units("1", 5, from_age_years=D(8))), "phases/0/days", "cannot stand beside from_age_years"),
        (
            _request(PhaseWanted(units_per_day=ONE, from_age_years=D(8)), units("1", 5)),
            "phases/1/from_age_years",
            "every phase has one",
        ),
        (_by_age("10", "8"), "phases/1/from_age_years", "in order of age"),
        (_by_age("8", horizon_days=100), "phases/0/from_age_years", "no phase begins within the 100 days"),
        (_by_age("8", animal=replace(DOG, age_years=None)), "phases/0/from_age_years", "animal/age_years"),
    ],
)
def test_what_contradicts_itself_is_refused(request_: PlanRequest, where: str, detail: str) -> None:
    with pytest.raises(InvalidInput, match=detail) as caught:
        stretches(request_, NO_DATE)
    assert where in [issue.where for issue in caught.value.issues]


def test_three_ways_to_say_how_long() -> None:
    assert horizon_days(replace(BASE, horizon_days=90), NO_DATE) == 90
    assert horizon_days(replace(BASE, horizon_years=D(2)), NO_DATE) == 730
    assert horizon_days(replace(BASE, until_age_years=D(8)), NO_DATE) == 730
    assert horizon_days(BASE, NO_DATE) is None
    assert default_horizon_days(BASE, NO_DATE) == 365


@pytest.mark.parametrize(
    ("changes", "where", "detail"),
    [
        ({"horizon_days": 90, "horizon_years": ONE}, "horizon_years", "only one of"),
        ({"horizon_days": LONGEST_DAYS + 1}, "horizon_days", "at most 10958"),
        ({"until_age_years": D(5)}, "until_age_years", "before its first day"),
    ],
)
def test_a_length_that_cannot_be(changes: dict[str, object], where: str, detail: str) -> None:
    with pytest.raises(InvalidInput, match=detail) as caught:
        horizon_days(replace(BASE, **changes), NO_DATE)  # type: ignore[arg-type]
    assert where in [issue.where for issue in caught.value.issues]
