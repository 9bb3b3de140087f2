"""Numbers on a chart."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.pages.charts.numbers import can_be_drawn, counted, money, short


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("0", "0.00 USD"),
        ("0.5", "0.50 USD"),
        ("0.125", "0.12 USD"),
        # Two digits of little money.
        ("0.024", "0.024 USD"),
        ("0.00051", "0.00051 USD"),
        ("172.8", "172.80 USD"),
        ("12345.67", "12\u202f346 USD"),
    ],
)
def test_money(value: str, expected: str) -> None:
    assert money(Decimal(value), "USD") == expected


def test_money_without_a_currency() -> None:
    assert money(Decimal(3), None) == "3.00"


@pytest.mark.parametrize(
    ("value", "drawn"), [("0", True), ("0.001", True), ("1e12", True), ("1e13", False), ("-1", False)]
)
def test_what_a_scale_can_show(value: str, drawn: bool) -> None:
    assert can_be_drawn(Decimal(value)) is drawn


@pytest.mark.parametrize("value", [None, Decimal("NaN"), Decimal("Infinity"), Decimal("1e-13")])
def test_what_is_not_a_number_to_draw(value: Decimal | None) -> None:
    assert not can_be_drawn(value)


def test_short_keeps_three_digits() -> None:
    assert short(Decimal("0.123456")) == "0.123"
    assert short(Decimal("20867.8")) == "20\u202f900"
    assert short(Decimal(0)) == "0"


def test_counted() -> None:
    assert [counted(count, "product", "products") for count in (0, 1, 2)] == ["0 products", "1 product", "2 products"]
