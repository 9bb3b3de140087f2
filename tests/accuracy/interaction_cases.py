"""Invented interaction cases in the words of the tables that they came with, and how the screen answers them."""

from __future__ import annotations

import csv
from pathlib import Path

from service.domain.common import Animal
from service.domain.screening import Finding, ScreenAnswer, ScreenRequest, screen, verdict_of
from service.reference.release import Reference

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


def cases() -> list[dict[str, str]]:
    """Read the cases."""
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def listed(cell: str) -> tuple[str, ...]:
    """Split a cell that holds a list."""
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def id_of(word: str) -> str:
    """Turn an id of the cases into ours."""
    return IDS.get(word, word.replace("_", "-"))


def screen_case(reference: Reference, case: dict[str, str]) -> ScreenAnswer:
    """Screen what a case describes."""
    return screen(
        reference,
        ScreenRequest(
            Animal(case["species"]),
            ingredients_text=case["ingredients"],
            medications=listed(case["medications"]),
            conditions=listed(case["conditions"]),
        ),
    )


def subjects_of(reference: Reference, finding: Finding) -> frozenset[str]:
    """Give the ids of the case: it says "EPA and DHA" where the screen names the fish oil that stands on the label."""
    rows = ((id_, reference.ingredients.get(id_)) for id_ in finding.subjects)
    return frozenset(row.screened_as_ids[0] if row is not None and row.screened_as_ids else id_ for id_, row in rows)


def from_records(answer: ScreenAnswer) -> tuple[Finding, ...]:
    """Keep the findings that come from interaction records."""
    return tuple(finding for finding in answer.findings if finding.kind in FROM_RECORDS)


def expected_findings(case: dict[str, str]) -> set[tuple[frozenset[str], str | None, str, str | None]]:
    """Give subjects, topic, level and word of every finding that a case expects."""
    found: set[tuple[frozenset[str], str | None, str, str | None]] = set()
    for line in listed(case["all_findings_from_rows"]):
        a, b, topic, severity, word = line.split("~")
        found.add((frozenset((id_of(a), id_of(b))), topic, LEVELS[severity], word))
    return found


def given_findings(
    reference: Reference, answer: ScreenAnswer
) -> set[tuple[frozenset[str], str | None, str, str | None]]:
    """Give the same of an answer."""
    return {(subjects_of(reference, f), f.topic, f.level, f.finding) for f in from_records(answer)}


def is_right(reference: Reference, case: dict[str, str]) -> bool:
    """Say whether verdict, findings and what was not understood are those of a case."""
    answer = screen_case(reference, case)
    verdict = verdict_of(from_records(answer), answer.unrecognised)
    unknown = [one.text for one in answer.unrecognised]
    return (
        verdict == VERDICTS[case["expected_overall"]]
        and given_findings(reference, answer) == expected_findings(case)
        and unknown == list(listed(case["expected_not_assessed"]))
    )
