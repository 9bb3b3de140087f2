"""How long a pack lasts."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.domain.labels.supplies import days_behind
from service.reference.release import Reference
from tests.domain.labels.reading import sheet


@pytest.mark.parametrize(
    "text", ["Reicht f\u00fcr 62 Tage", "Lasts 45 days", "Lasts up to 2 months", "45-day supply", "60 Day Supply"]
)
def test_a_supply_is_a_statement(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert [(one.kind, one.text) for one in answer.statements] == [("supply", text)]
    assert (answer.container, answer.facts, answer.unread) == (None, (), ())


@pytest.mark.parametrize(("text", "after"), [("45 days", 2), ("45-day", 3), ("45 kg", None), ("days", None)])
def test_days(reference: Reference, text: str, after: int | None) -> None:
    cut = sheet(reference, text)
    assert days_behind(cut, 0, len(cut.tokens)) == after
