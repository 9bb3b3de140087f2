"""Lists as printed that came with the reference tables, run through the resolver.

They were compiled from toxicology reviews, additive lists and botanical names (sources of the hazard rows) before the
dataset had its vocabulary: the ids in them use underscores, ours hyphens. Single phrases of the same tables stand in
``tests/data/name_corpus.csv``.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from service.domain.resolving import Resolution, resolver_for
from service.reference.release import Reference

DATA = Path(__file__).parent.parent / "data"

# Recorded otherwise here, with the reason: phrases that lead to another entry than the case expects.
RECORDED_OTHERWISE = {
    "theobromin": ("theobromine", "the German name, recorded as such: no slip"),
    "d-alpha tocopherol": ("vitamin-e", "the nutrient; the additive is the mixed form"),
}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _id(word: str) -> str:
    return word.strip().replace("_", "-")


def _ids_present(resolutions: list[Resolution]) -> set[str]:
    """Hazard ids, and ids of ingredients, that the phrase says are there."""
    present = [m for found in resolutions for m in found.meanings if not m.negated]
    return {id_ for meaning in present for id_ in (meaning.hazard, meaning.ingredient) if id_}


def _hazards_present(resolutions: list[Resolution]) -> set[str]:
    return {m.hazard for found in resolutions for m in found.meanings if m.hazard and not m.negated}


CASES = _rows("hazard_label_cases.csv")


@pytest.mark.parametrize("row", CASES, ids=lambda row: f"{row['case_id']}-{row['phrase'][:40]}")
def test_a_list_as_printed(reference: Reference, row: dict[str, str]) -> None:
    items = [item.resolution for item in resolver_for(reference).resolve_list(row["phrase"])]
    assert all(found.match == "exact" for found in items)
    assert not any(found.possible for found in items)
    expected = {_id(one) for one in row["expected_id"].split(";")} - {"none"}
    if row["phrase"] in RECORDED_OTHERWISE:
        expected = {RECORDED_OTHERWISE[row["phrase"]][0]}
    present = _ids_present(items)
    assert expected <= present
    if not expected:
        harmful = {id_ for id_ in _hazards_present(items) if reference.hazards[id_].kind_dog != "benign"}
        assert not harmful


@pytest.mark.parametrize("row", [row for row in CASES if row["modifier"]], ids=lambda row: row["case_id"])
def test_what_is_denied_or_only_a_trace(reference: Reference, row: dict[str, str]) -> None:
    meanings = [m for item in resolver_for(reference).resolve_list(row["phrase"]) for m in item.resolution.meanings]
    if row["modifier"] == "trace":
        assert meanings
        assert all(meaning.trace for meaning in meanings)
    else:
        assert row["modifier"] == "negated"
        assert any(meaning.negated for meaning in meanings)
