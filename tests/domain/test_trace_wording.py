"""Warnings of traces. Every phrase is our own."""

from __future__ import annotations

import pytest

from service.domain.label_text import words
from service.domain.resolving import resolver_for
from service.domain.trace_wording import only_warns_of_traces, traced_before, traced_from, traced_parts
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("heading", "warns"),
    [("may contain", True), ("may contain traces of", True), ("contains", False), ("kann nusse enthalten", False)],
)
def test_a_heading_that_only_warns(heading: str, warns: bool) -> None:
    assert only_warns_of_traces(tuple(heading.split())) is warns


@pytest.mark.parametrize(
    ("printed", "first"),
    [
        ("may also contain macadamia", 0),
        ("trace amounts of garlic", 0),
        ("made in a cocoa facility", 0),
        ("garlic made in a facility", 1),
        # What it is made with is in it.
        ("made with garlic in small batches", 6),
        ("trace minerals", 2),
        ("kann abführend wirken", 3),
    ],
)
def test_from_where_traces_are_spoken_of(printed: str, first: int) -> None:
    assert traced_from(words(printed)) == first


def test_traces_behind_a_name() -> None:
    assert traced_before(("cocoa", "traces"), {1: 0}) == {0}
    assert traced_before(("trace", "minerals"), {2: 0}) == frozenset()


@pytest.mark.parametrize(
    ("parts", "traced"),
    [
        (["may contain traces of cocoa", "macadamia and raisins"], [1]),
        (["kann Spuren von Kakao", "Soja", "Rosinen enthalten"], [1, 2]),
        (["hergestellt in einem Betrieb", "der auch Kakao verarbeitet", "Xylit"], [1]),
        # Nothing closes the list, or it is closed already.
        (["may contain traces of soy", "xylitol"], []),
        (["may contain traces of soy and cocoa", "sugar and xylitol"], []),
        (["may contain traces of soy", "contains cocoa and xylitol"], []),
        (["cocoa", "soy and xylitol"], []),
    ],
)
def test_how_far_a_warning_reaches(parts: list[str], traced: list[int]) -> None:
    assert list(traced_parts([words(part) for part in parts])) == traced


@pytest.mark.parametrize(
    ("printed", "hazards"),
    [
        ("xylitol traces", {"xylitol"}),
        ("traces possibles de cacao", {"cocoa"}),
        ("may be contaminated with xylitol", {"xylitol"}),
        ("produced in a factory which handles cocoa", {"cocoa"}),
        ("not made in a garlic-free facility", {"garlic"}),
        ("hergestellt in einem Betrieb, der auch Kakao verarbeitet", {"cocoa"}),
        ("kann Spuren von Kakao, Macadamia und Rosinen enthalten", {"cocoa", "macadamia", "grape-raisin"}),
    ],
)
def test_hazards_named_as_traces(reference: Reference, printed: str, hazards: set[str]) -> None:
    items = resolver_for(reference).resolve_list(printed)
    found = [meaning for item in items for meaning in item.resolution.meanings if meaning.hazard]
    assert {meaning.hazard for meaning in found if meaning.trace and not meaning.negated} == hazards
    assert all(meaning.trace for meaning in found)
