"""Every interaction row is reached through the screen: shown, or named as overruled by the row that is shown."""

from __future__ import annotations

import pytest

from service.reference.records import Interaction
from service.reference.releases import load_working_tables
from tests.accuracy.interaction_rows import reaches, screens_of

REFERENCE = load_working_tables()
ROWS = REFERENCE.interactions


def test_no_row_is_left_out() -> None:
    # 304 rows came with the reference tables.
    assert len(ROWS) >= 304
    assert len({row.id for row in ROWS}) == len(ROWS)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_every_row_is_shown_or_named_as_overruled(row: Interaction) -> None:
    answers = list(screens_of(REFERENCE, row))
    assert answers
    for answer in answers:
        assert reaches(answer, row), answer.findings


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_every_row_is_shown_with_its_words_somewhere(row: Interaction) -> None:
    findings = (finding for answer in screens_of(REFERENCE, row) for finding in answer.findings)
    finding = next(finding for finding in findings if finding.record_ids == (row.id,))
    assert (finding.level, finding.finding, finding.direction) == (row.level, row.finding, row.direction)
    assert (finding.evidence, finding.evidence_species) == (row.evidence, row.evidence_species)
    assert finding.favourable is (row.finding in ("helpful", "studied_none_found", "no_signal"))
    assert finding.limit_or_conflict == row.limit_or_conflict
