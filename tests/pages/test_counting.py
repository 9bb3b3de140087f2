"""Counts with units, and money."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.pages.counting import counted, money


@pytest.mark.parametrize(
    ("count", "unit", "text"),
    [
        ("1", "tablet", "1 tablet"),
        ("2.5", "chew", "2.5 chews"),
        ("0.5", "scoop", "0.5 scoops"),
        ("5", "ml", "5 ml"),
        ("2", "Tablette", "2 Tablette"),
        ("0", "unit", "0 units"),
    ],
)
def test_counts(count: str, unit: str, text: str) -> None:
    assert counted(D(count), unit) == text


@pytest.mark.parametrize(
    ("value", "currency", "text"),
    [
        ("5.4", "EUR", "5.40 EUR"),
        ("0.1234", "EUR", "0.1234 EUR"),
        ("84", "JPY", "84 JPY"),
        ("0.0840", "KWD", "0.084 KWD"),
        ("1000", "USD", "1000.00 USD"),
        ("3", None, "3.00"),
    ],
)
def test_money(value: str, currency: str | None, text: str) -> None:
    assert money(D(value), currency) == text


def test_unknown_money_is_nothing() -> None:
    assert money(None, "EUR") is None
