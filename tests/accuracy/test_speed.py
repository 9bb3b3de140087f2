"""The texts that speed is told of; how long they take is measured, not tested."""

from __future__ import annotations

from service.domain.labels.assembling import LONGEST_LABEL, read_label
from service.reference.releases import load_working_tables
from tests.accuracy.speed import ORDINARY, PIECES, hostile_texts, report


def test_hostile_texts_are_as_long_as_a_label_may_be() -> None:
    assert {len(text) for text in hostile_texts().values()} == {LONGEST_LABEL}
    assert len(set(PIECES.values())) == len(PIECES)


def test_the_ordinary_label_is_one() -> None:
    answer = read_label(load_working_tables(), ORDINARY)
    assert [fact.mg_per_unit for fact in answer.facts[:3]] == [500, 400, 200]
    assert len(answer.blends) == 1
    assert answer.unread == ()


def test_every_text_has_its_line() -> None:
    lines = report(load_working_tables(), runs=1).splitlines()
    assert len(lines) == len(PIECES) + 2
    assert all(any(f"  {name}: " in line for line in lines) for name in PIECES)
