"""The interaction cases that came with the reference tables, run through the screen.

They keep the words of the tables they came with (`avoid_together`, `vet_only`, `info`, `no_signal`, ids with
underscores); the maps below turn them into ours. They state what the records say of ingredients, medicines and
conditions. Hazards are judged beside them, so a screen may end higher than its interactions alone; it may never end
lower.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from service.domain.common import Animal
from service.domain.screening import Finding, ScreenAnswer, ScreenRequest, screen, verdict_of
from service.reference.release import Reference
from service.reference.releases import load_working_tables

CASES = Path(__file__).parent.parent / "data" / "interaction_cases.csv"
VERDICTS = {
    "avoid_together": "stop",
    "vet_only": "ask_veterinarian",
    "watch": "nothing_found",
    "info": "nothing_found",
    "no_signal": "nothing_found",
    "studied_none_found": "nothing_found",
    "nothing_known": "nothing_found",
    "not_assessed": "incomplete",
}
ORDER = ("nothing_found", "incomplete", "ask_veterinarian", "stop")
LEVELS = {"avoid_together": "avoid", "vet_only": "veterinarian", "watch": "watch", "info": "note"}
# The cases use shorter ids for some ingredients; all others differ only in the joining mark.
IDS = {
    "chondroitin": "chondroitin-sulfate",
    "boswellia": "boswellia-serrata",
    "cbd": "cannabidiol",
    "same": "s-adenosylmethionine",
}
# Spoken of by the records: hazards, totals and presentation are judged beside them.
FROM_RECORDS = ("interaction", "condition")


def _cases() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def reference() -> Reference:
    return load_working_tables()


def _list(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def _id(word: str) -> str:
    return IDS.get(word, word.replace("_", "-"))


def _screen(reference: Reference, case: dict[str, str]) -> ScreenAnswer:
    return screen(
        reference,
        ScreenRequest(
            Animal(case["species"]),
            ingredients_text=case["ingredients"],
            medications=_list(case["medications"]),
            conditions=_list(case["conditions"]),
        ),
    )


def _subjects(reference: Reference, finding: Finding) -> frozenset[str]:
    """Give the ids of the case: it says "EPA and DHA" where the screen names the fish oil that stands on the label."""
    rows = ((id_, reference.ingredients.get(id_)) for id_ in finding.subjects)
    return frozenset(row.screened_as_ids[0] if row is not None and row.screened_as_ids else id_ for id_, row in rows)


def _from_records(answer: ScreenAnswer) -> tuple[Finding, ...]:
    return tuple(finding for finding in answer.findings if finding.kind in FROM_RECORDS)


@pytest.mark.parametrize("case", _cases(), ids=lambda case: case["case_id"])
def test_the_verdict_of_the_records(reference: Reference, case: dict[str, str]) -> None:
    answer = _screen(reference, case)
    expected = VERDICTS[case["expected_overall"]]
    assert verdict_of(_from_records(answer), answer.unrecognised) == expected
    assert ORDER.index(answer.verdict) >= ORDER.index(expected)
    if not any(finding.kind == "hazard" for finding in answer.findings):
        assert answer.verdict == expected


@pytest.mark.parametrize("case", _cases(), ids=lambda case: case["case_id"])
def test_what_was_not_understood_is_listed(reference: Reference, case: dict[str, str]) -> None:
    unknown = [one.text for one in _screen(reference, case).unrecognised]
    assert unknown == list(_list(case["expected_not_assessed"]))
    assert bool(unknown) == (case["expected_complete"] == "no")


@pytest.mark.parametrize("case", _cases(), ids=lambda case: case["case_id"])
def test_every_finding_of_the_records_and_no_other(reference: Reference, case: dict[str, str]) -> None:
    findings = _from_records(_screen(reference, case))
    found = {(_subjects(reference, f), f.topic, f.level, f.finding) for f in findings}
    expected = set()
    for line in _list(case["all_findings_from_rows"]):
        a, b, topic, severity, word = line.split("~")
        expected.add((frozenset((_id(a), _id(b))), topic, LEVELS[severity], word))
    assert found == expected


@pytest.mark.parametrize("case", _cases(), ids=lambda case: case["case_id"])
def test_pairs_without_a_record_are_not_assessed(reference: Reference, case: dict[str, str]) -> None:
    gaps = {frozenset((gap.a, gap.b)) for gap in _screen(reference, case).not_assessed if gap.reason == "no_record"}
    expected = {frozenset(map(_id, pair.split("~"))) for pair in _list(case["pairs_with_no_row"])}
    assert gaps == expected


@pytest.mark.parametrize("case", _cases(), ids=lambda case: case["case_id"])
def test_findings_that_must_be_there(reference: Reference, case: dict[str, str]) -> None:
    found = {(_subjects(reference, f), f.level) for f in _from_records(_screen(reference, case))}
    for line in _list(case["must_include"]):
        a, b, severity = line.split("~")
        assert (frozenset((_id(a), _id(b))), LEVELS[severity]) in found
