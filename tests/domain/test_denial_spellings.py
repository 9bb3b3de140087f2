"""Denials in signs and numbers. Every phrase is our own."""

from __future__ import annotations

import pytest

from service.domain.denial_spellings import in_words, with_zero_as_denial


@pytest.mark.parametrize(
    ("printed", "read"),
    [
        ("0% xylitol", "zero xylitol"),
        ("0,0 % xylitol", "zero xylitol"),
        ("xylitol 0%", "xylitol free"),
        ("0g xylitol", "zero xylitol"),
        ("contains 0 mg of xylitol", "zero xylitol"),
        ("xylitol: 0 g", "xylitol free"),
        ("2.0% xylitol", "2.0% xylitol"),
        ("10% xylitol", "10% xylitol"),
        ("10 g xylitol", "10 g xylitol"),
        # The nought is another one's.
        ("sugar 0% xylitol 5%", "sugar 0% xylitol 5%"),
        ("0% sugar 5% xylitol", "0% sugar 5% xylitol"),
        ("0 g sugar 500 mg xylitol", "0 g sugar 500 mg xylitol"),
        ("xylitol", "xylitol"),
        ("0 mg", "0 mg"),
    ],
)
def test_nothing_of_it_is_a_denial(printed: str, read: str) -> None:
    assert with_zero_as_denial(printed) == read


@pytest.mark.parametrize(
    ("folded", "read"),
    [
        ("w/o xylitol", "without xylitol"),
        ("garlic- and onion-free", "garlic free and onion-free"),
        ("garlic-, onion- and soy-free", "garlic free, onion free and soy-free"),
        ("knoblauch- und zwiebelfrei", "knoblauch frei und zwiebelfrei"),
        ("garlic- and onion-flavored", "garlic- and onion-flavored"),
        ("non-dairy creamer, sugar-free", "non-dairy creamer, sugar-free"),
    ],
)
def test_denials_in_words(folded: str, read: str) -> None:
    assert in_words(folded) == read
