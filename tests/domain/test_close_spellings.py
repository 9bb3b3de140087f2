"""Spellings within one or two slips."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rapidfuzz.distance import OSA

from service.domain.close_spellings import CloseSpellings

NAMES = ("garlic", "onion", "macadamia", "xylitol")
KNOWN = CloseSpellings(NAMES)


@pytest.mark.parametrize(
    ("text", "slips", "expected"),
    [
        ("garlik", 1, [("garlic", 1)]),
        ("barlic", 1, [("garlic", 1)]),
        ("arlic", 1, [("garlic", 1)]),
        ("ggarlic", 1, [("garlic", 1)]),
        ("agrlic", 1, [("garlic", 1)]),
        ("macademja", 2, [("macadamia", 2)]),
        ("macademja", 1, []),
        ("garlic", 1, [("garlic", 0)]),
    ],
)
def test_slips(text: str, slips: int, expected: list[tuple[str, int]]) -> None:
    assert KNOWN.near(text, slips) == expected


@given(st.sampled_from(NAMES), st.integers(0, 8), st.sampled_from("abcx"))
def test_one_slip_is_always_found(name: str, at: int, letter: str) -> None:
    at = min(at, len(name) - 1)
    for text in (name[:at] + name[at + 1 :], name[:at] + letter + name[at:], name[:at] + letter + name[at + 1 :]):
        if text:
            assert dict(KNOWN.near(text, 1))[name] == OSA.distance(text, name)
