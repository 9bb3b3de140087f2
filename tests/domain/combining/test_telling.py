"""Numbers in sentences."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.combining.telling import told, told_apart


@pytest.mark.parametrize(
    ("value", "expected"), [("500", "500"), ("0.100", "0.1"), ("1234567.8", "1234570"), ("0", "0")]
)
def test_an_amount(value: str, expected: str) -> None:
    assert told(D(value)) == expected


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ("300", "500", ("300", "500")),
        ("499.999999", "500", ("499.999999", "500")),
        ("1000.00000001", "1000", ("1000.00000001", "1000")),
        ("500", "500", ("500", "500")),
    ],
)
def test_as_many_digits_as_it_takes(first: str, second: str, expected: tuple[str, str]) -> None:
    assert told_apart(D(first), D(second)) == expected
