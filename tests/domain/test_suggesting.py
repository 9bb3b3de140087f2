"""Nearest known words, for messages."""

from __future__ import annotations

import pytest

from service.domain.suggesting import misspelt, nearest_ids

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


COLUMNS = ("species", "weight", "weight_kg", "form", "msm", "medications", "ingredients_text")


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("Species", "species"),
        ("specis", "species"),
        ("wieght", "weight"),
        ("weight-KG", "weight_kg"),
        ("Ingredients  Text", "ingredients_text"),
        ("medication", "medications"),
        ("medicatoin", "medications"),
        ("from", "form"),
        ("weight note", None),
        ("species_name", None),
        ("name", None),
        ("mbm", None),
        ("weihgts", None),
        ("", None),
        ("x" * 1000, None),
    ],
)
def test_misspelt_is_strict(word: str, meant: str | None) -> None:
    assert misspelt(word, COLUMNS) == meant
