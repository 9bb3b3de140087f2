"""Invented label strings, each held against the reading that the rules of the field give.

The expected readings come with the strings: molar masses by two outside packages, bounds of blends by an outside linear
programme, units by their definitions. How a reading is compared stands in ``tests/accuracy/label_cases.py``.
"""

from __future__ import annotations

import pytest

from service.reference.release import Reference
from tests.accuracy.label_cases import cases, judge, report

CASES = cases()


def test_there_are_enough() -> None:
    assert len(CASES) == 80
    assert len({case["id"] for case in CASES}) == len(CASES)
    assert {case["category"] for case in CASES} >= {
        "serving",
        "blend",
        "guarantee",
        "typography",
        "eu",
        "price",
        "refuse",
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['id']}-{case['category']}")
def test_a_string_is_read_right(reference: Reference, case: dict[str, str]) -> None:
    assert judge(reference, case).wrong == ()


def test_nothing_is_wrong_without_a_flag(reference: Reference) -> None:
    assert [one.case_id for one in (judge(reference, case) for case in CASES) if one.wrong and not one.flagged] == []


def test_a_wrong_reading_is_told_as_one(reference: Reference) -> None:
    by_id = {case["id"]: case for case in CASES}
    # The reading of another string: a comparison that cannot fail would accept it.
    mixed = {**by_id["L013"], "expected_json": by_id["L019"]["expected_json"]}
    assert judge(reference, mixed).wrong != ()


def test_the_report_counts_them(reference: Reference) -> None:
    assert report(reference).startswith(f"label strings read right: {len(CASES)} of {len(CASES)}")
