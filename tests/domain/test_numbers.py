"""Printed numbers: the rules for separators, each with the label it comes from."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.errors import InvalidInput
from service.domain.numbers import read_number


@pytest.mark.parametrize(
    ("text", "locale", "low", "high", "flag"),
    [
        ("500", None, "500", "500", None),
        ("1,500", None, "1500", "1500", None),
        ("1,5", None, "1.5", "1.5", "decimal_comma"),
        ("0,5", None, "0.5", "0.5", "decimal_comma"),
        ("0.500", None, "0.5", "0.5", None),
        ("1.500", None, "1.5", "1500", "separator_ambiguous"),
        ("1.500", "de", "1500", "1500", None),
        ("1.500", "en", "1.5", "1.5", None),
        ("1,500", "fr", "1.5", "1500", "separator_ambiguous"),
        ("1.234,5", None, "1234.5", "1234.5", "decimal_comma"),
        ("1,234.5", None, "1234.5", "1234.5", None),
        ("1\u202f500", None, "1500", "1500", "grouped_by_spaces"),
        ("1\u2009500", None, "1500", "1500", "grouped_by_spaces"),
        ("1'500", None, "1500", "1500", "grouped_by_spaces"),
        ("12,500,000", None, "12500000", "12500000", None),
    ],
)
def test_readings(text: str, locale: str | None, low: str, high: str, flag: str | None) -> None:
    read = read_number(text, locale, "amount")
    assert (read.low, read.high) == (Decimal(low), Decimal(high))
    assert (flag in read.flags) if flag else "separator_ambiguous" not in read.flags


@pytest.mark.parametrize("text", ["1 50", "1,50,0", "1.2.3", "1,5.0,0", "12 3456"])
def test_contradictory_separators_are_refused(text: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        read_number(text, None, "facts/0/amount")
    assert caught.value.issues[0].where == "facts/0/amount"
    assert "is not a number" in caught.value.issues[0].detail


def test_a_number_of_5000_digits_is_refused() -> None:
    with pytest.raises(InvalidInput) as caught:
        read_number("9" * 5000, None, "amount")
    assert "more than 24 digits" in str(caught.value)
