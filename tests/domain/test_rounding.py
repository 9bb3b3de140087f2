"""Rounding never leaves a range and never reaches zero."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.rounding import amount, amount_range, money_per_day, money_rate, money_total, significant

positive = st.decimals(min_value="1e-9", max_value="1e9", allow_nan=False, allow_infinity=False)


@given(positive, positive)
def test_a_rounded_range_stays_inside(one: Decimal, other: Decimal) -> None:
    low, high = sorted((significant(one, 12), significant(other, 12)))
    rounded_low, rounded_high = amount_range(low, high)
    assert rounded_low <= rounded_high
    if low < high:
        assert low <= rounded_low
        assert rounded_high <= high
    else:
        assert abs(rounded_low - low) <= low * Decimal("5.1e-6")


def test_a_range_narrower_than_a_step_stays_inside_itself() -> None:
    assert amount_range(Decimal("500.0001"), Decimal("500.0002")) == (Decimal("500.0001"), Decimal("500.0002"))


@given(positive)
def test_an_amount_never_becomes_zero(value: Decimal) -> None:
    assert amount(value) > 0
    assert abs(amount(value) - value) <= value * Decimal("5.1e-6")


def test_zero_stays_zero() -> None:
    assert amount(Decimal("0.000")) == 0


@pytest.mark.parametrize(
    ("value", "digits", "expected"), [("0.005", 2, "0.01"), ("1.5", 0, "2"), ("0.0005", 3, "0.001")]
)
def test_totals_are_rounded_half_up_at_the_minor_unit(value: str, digits: int, expected: str) -> None:
    assert money_total(Decimal(value), digits) == Decimal(expected)


def test_rates_and_per_day_amounts_have_their_own_precision() -> None:
    assert money_per_day(Decimal("0.12345")) == Decimal("0.1235")
    assert money_rate(Decimal("0.00012345678")) == Decimal("0.000123457")
