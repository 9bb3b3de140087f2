"""When to look again."""

from __future__ import annotations

from datetime import date

from tests.domain.course.making import planned, units


def test_first_as_the_guidance_says_then_twice_a_year() -> None:
    # Source mcca2007: judged after 70 days. Twice a year is common practice.
    answer = planned(start_date=date(2027, 1, 1), horizon_days=400)
    assert [(one.day, one.date, one.origin) for one in answer.reassessments] == [
        (71, date(2027, 3, 12), "common_practice"),
        (183, date(2027, 7, 2), "common_practice"),
        (365, date(2027, 12, 31), "common_practice"),
    ]
    assert answer.next_reassessment == date(2027, 3, 12)
    assert "mcca2007" in answer.reassessments[0].source_ids
    assert "common_practice" in [caution.code for caution in answer.cautions]


def test_counted_from_the_first_day_something_is_given() -> None:
    answer = planned(phases=(units("0", 10), units("1", 100)))
    assert answer.next_reassessment_day == 81


def test_nothing_given_is_nothing_to_judge() -> None:
    assert planned(phases=(units("0", 100),)).reassessments == ()


def test_a_short_course_is_judged_after_its_end() -> None:
    assert planned(horizon_days=30).next_reassessment_day == 71
