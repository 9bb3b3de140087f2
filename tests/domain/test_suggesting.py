"""Nearest known words, for messages."""

from __future__ import annotations

import pytest

from service.domain.suggesting import nearest_ids

KNOWN = ("glucosamine", "chondroitin-sulfate", "green-lipped-mussel", "msm", "curcumin")


@pytest.mark.parametrize(
    ("word", "first"),
    [
        ("glucosamin", "glucosamine"),
        ("GLUCOSAMINE", "glucosamine"),
        ("chondroitin", "chondroitin-sulfate"),
        ("mussel", "green-lipped-mussel"),
        ("curcumine", "curcumin"),
    ],
)
def test_the_nearest_comes_first(word: str, first: str) -> None:
    assert nearest_ids(word, KNOWN)[0] == first


def test_nothing_near_nothing_suggested() -> None:
    assert nearest_ids("zzzz", KNOWN) == ()
    assert nearest_ids("", KNOWN) == ()
    assert nearest_ids("glucosamin", ()) == ()


def test_no_more_than_asked_for() -> None:
    many = [f"glucosamine-{number}" for number in range(20)]
    assert len(nearest_ids("glucosamine", many)) == 3
    assert len(nearest_ids("glucosamine", many, limit=5)) == 5


def test_of_a_very_long_word_only_the_beginning_is_compared() -> None:
    assert nearest_ids("glucosamine".rjust(80, "z"), KNOWN)[0] == "glucosamine"
    assert nearest_ids("z" * 80 + "glucosamine", KNOWN) == ()
    assert nearest_ids("z" * 1_000_000, KNOWN) == ()
