"""The interaction cases that came with the reference tables, run through the screen.

They keep the words of the tables they came with (`avoid_together`, `vet_only`, `info`, `no_signal`, ids with
underscores); the maps below turn them into ours. They state what the records say of ingredients, medicines and
conditions. Hazards are judged beside them, so a screen may end higher than its interactions alone; it may never end
lower.
"""

from __future__ import annotations

import pytest

from service.domain.screening import verdict_of
from service.reference.release import Reference
from tests.accuracy.interaction_cases import (
    LEVELS,
    ORDER,
    VERDICTS,
    cases,
    expected_findings,
    from_records,
    given_findings,
    id_of,
    listed,
    screen_case,
    subjects_of,
)


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case_id"])
def test_the_verdict_of_the_records(reference: Reference, case: dict[str, str]) -> None:
    answer = screen_case(reference, case)
    expected = VERDICTS[case["expected_overall"]]
    assert verdict_of(from_records(answer), answer.unrecognised) == expected
    assert ORDER.index(answer.verdict) >= ORDER.index(expected)
    if not any(finding.kind == "hazard" for finding in answer.findings):
        assert answer.verdict == expected


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case_id"])
def test_what_was_not_understood_is_listed(reference: Reference, case: dict[str, str]) -> None:
    unknown = [one.text for one in screen_case(reference, case).unrecognised]
    assert unknown == list(listed(case["expected_not_assessed"]))
    assert bool(unknown) == (case["expected_complete"] == "no")


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case_id"])
def test_every_finding_of_the_records_and_no_other(reference: Reference, case: dict[str, str]) -> None:
    assert given_findings(reference, screen_case(reference, case)) == expected_findings(case)


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case_id"])
def test_pairs_without_a_record_are_not_assessed(reference: Reference, case: dict[str, str]) -> None:
    gaps = {frozenset((gap.a, gap.b)) for gap in screen_case(reference, case).not_assessed if gap.reason == "no_record"}
    expected = {frozenset(map(id_of, pair.split("~"))) for pair in listed(case["pairs_with_no_row"])}
    assert gaps == expected


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case_id"])
def test_findings_that_must_be_there(reference: Reference, case: dict[str, str]) -> None:
    found = {(subjects_of(reference, f), f.level) for f in from_records(screen_case(reference, case))}
    for line in listed(case["must_include"]):
        a, b, severity = line.split("~")
        assert (frozenset((id_of(a), id_of(b))), LEVELS[severity]) in found
