"""Constituents that a bracket states."""

from __future__ import annotations

import pytest

from service.domain.normalising import read_facts
from service.domain.screening_constituents import constituents
from service.reference.release import Reference
from tests.domain.screening_requests import product


def _stated(reference: Reference, name: str, amount: str = "1000 mg") -> dict[str | None, str | None]:
    label = product("a", (name, amount))
    (parent,) = read_facts(reference, label)
    return {read.reading.ingredient: read.fact.amount for read in constituents(reference, label, parent)}


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Cod liver oil (providing vitamin D 400 IU)", {"vitamin-d": "400 IU"}),
        ("Cod liver oil (400 IU vitamin D and 4000 IU vitamin A)", {"vitamin-d": "400 IU", "vitamin-a": "4000 IU"}),
        ("Lebertran (davon Vitamin D3 400 IE)", {"vitamin-d": "400 IE"}),
        # Its own substance is read with the line, and what it is made from is no part of it.
        ("Fish oil (EPA 180 mg, DHA 120 mg)", {}),
        ("Zinc (as zinc gluconate)", {}),
        ("Curcumin (from 500 mg turmeric)", {}),
        # Not understood is not counted.
        ("Cod liver oil (providing moonflower 40 mg)", {}),
        ("Cod liver oil (providing vitamin D)", {}),
        ("Cod liver oil (molecularly distilled)", {}),
    ],
)
def test_brackets(reference: Reference, name: str, expected: dict[str, str]) -> None:
    assert _stated(reference, name) == expected


def test_a_bracket_in_the_amount(reference: Reference) -> None:
    assert _stated(reference, "Cod liver oil", "1000 mg (vitamin D 400 IU)") == {"vitamin-d": "400 IU"}


def test_an_amount_that_cannot_be_read_is_left_alone(reference: Reference) -> None:
    assert _stated(reference, "Cod liver oil (vitamin D 4.0.0 IU)") == {}
