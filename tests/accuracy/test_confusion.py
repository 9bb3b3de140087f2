"""What a release is held to: every hazard caught, hardly a false alarm, no slip ever accepted."""

from __future__ import annotations

import csv

import pytest

from service.domain.resolving import resolver_for
from service.reference.releases import load_working_tables
from tests.accuracy.confusion import (
    BENIGN,
    CLASSES,
    CORPUS,
    Outcome,
    cases,
    confusion,
    confusion_table,
    outcomes,
    report,
    share_of,
)

MOST_FALSE_ALARMS = 0.02


def _expecting(*classes: str) -> list[Outcome]:
    return [one for one in outcomes() if one.case.expected in classes]


def test_the_corpus_is_large_enough_for_its_figures() -> None:
    found = cases()
    assert len(found) >= 450
    assert len(_expecting("ingredient")) >= 150
    assert {case.expected for case in found} == set(CLASSES)
    with CORPUS.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert all(row["why"] and row["source"] for row in rows)
    assert len({row["phrase"] for row in rows}) == len(rows)


def test_every_target_is_an_entry_of_the_dataset() -> None:
    reference = load_working_tables()
    for case in cases():
        known = reference.ingredients if case.expected == "ingredient" else reference.hazards
        assert not case.target or case.target in known, case.phrase


def test_every_hazard_is_caught_as_what_it_is() -> None:
    assert [one.case.phrase for one in _expecting("hazard") if not one.is_right] == []


def test_a_misspelt_hazard_is_told_as_possible_and_never_accepted() -> None:
    slips = _expecting("possible_hazard")
    assert [one.case.phrase for one in slips if one.case.target not in one.answer.possible] == []
    assert [one.case.phrase for one in slips if one.case.target in one.answer.hazards] == []


def test_a_possible_match_is_never_accepted_by_itself() -> None:
    resolver = resolver_for(load_working_tables())
    for case in cases():
        for item in resolver.resolve_list(case.phrase):
            told = {meaning.hazard for meaning in item.resolution.meanings}
            near = {miss.hazard for miss in item.resolution.possible} - told
            assert item.resolution.hazard not in near or item.resolution.hazard is None
            assert not (near and item.resolution.match == "exact" and item.resolution.hazard is None), case.phrase


def test_hardly_a_false_alarm() -> None:
    benign = _expecting(*BENIGN)
    alarms = [one.case.phrase for one in benign if one.is_alarm]
    assert len(alarms) <= MOST_FALSE_ALARMS * len(benign), alarms
    ordinary = _expecting("ingredient")
    assert sum(one.is_alarm for one in ordinary) <= MOST_FALSE_ALARMS * len(ordinary)


def test_what_nobody_knows_is_never_accepted() -> None:
    assert [one.case.phrase for one in _expecting("unknown") if one.answer.understood] == []


@pytest.mark.parametrize("class_", ["negated", "trace", "false_friend"])
def test_statements_and_look_alikes_are_told_apart(class_: str) -> None:
    assert [one.case.phrase for one in _expecting(class_) if not one.is_right] == []


def test_the_table_counts_every_phrase_once() -> None:
    counts = confusion()
    assert counts.total() == len(cases())
    lines = confusion_table().splitlines()
    assert len(lines) == 1 + len(CLASSES)
    assert sum(int(line.split()[-1]) for line in lines[1:]) == len(cases())


def test_the_report_names_its_figures() -> None:
    told = report()
    for figure in ("hazards caught", "misspelt hazards", "false alarms", "expected entry"):
        assert figure in told
    assert share_of(49, 50) == "98.0 % (49 of 50)"
    assert share_of(0, 0) == "none asked"
