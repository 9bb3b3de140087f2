"""Prices. All of them are invented."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import plain


@pytest.mark.parametrize(
    ("text", "amount", "currency", "minor"),
    [
        ("$24.90", "24.90", "USD", 2490), ("24.90 USD", "24.90", "USD", 2490), ("US$24.90", "24.90", "USD", 2490),
        ("A$29.95", "29.95", "AUD", 2995), ("\u00a314.95", "14.95", "GBP", 1495), ("19,90 \u20ac", "19.90",
        "EUR", 1990),
        ("1.234,50 \u20ac", "1234.50", "EUR", 123450), ("\u20ac 1,234.50", "1234.50", "EUR", 123450),
        # A price in euros has no three decimals.
        ("EUR 1.234", "1234", "EUR", 123400), ("CHF 1'234.50", "1234.50", "CHF", 123450),
        # The yen has no minor unit, the Kuwaiti dinar three digits (ISO 4217).
        ("\u00a53,980", "3980", "JPY", 3980), ("KWD 4.500", "4.500", "KWD", 4500),
        ("Price: $5", "5", "USD", 500), ("Preis: 12,- \u20ac", "12", "EUR", 1200),
    ],
)  # fmt: skip
def test_prices(reference: Reference, text: str, amount: str, currency: str, minor: int) -> None:
    found = read_label(reference, text).price
    assert found is not None
    assert (found.amount, found.currency, found.minor) == (Decimal(amount), currency, minor)


def test_a_sign_that_settles_nothing(reference: Reference) -> None:
    answer = read_label(reference, "19,90 kr")
    assert answer.price is not None
    assert answer.price.currency is None
    assert "currency_sign_shared" in answer.flags
    assert (answer.product.price, answer.product.currency) == (None, None)


def test_a_price_per_weight_is_not_the_price(reference: Reference) -> None:
    answer = read_label(reference, "\u00a39.99 per 100 g")
    assert answer.price is None
    assert [one.kind for one in answer.statements] == ["unit_price"]


def test_two_prices_are_flagged_and_the_first_holds(reference: Reference) -> None:
    answer = read_label(reference, "$24.90\n$19.90")
    assert answer.price is not None
    assert answer.price.amount == Decimal("24.90")
    assert "several_prices" in answer.flags


def test_a_price_behind_other_words(reference: Reference) -> None:
    answer = read_label(reference, "MSM 500 mg $12.00")
    assert answer.price is not None
    assert plain((answer.price.amount, answer.facts[0].mg)) == (12, 500)


def test_the_callers_price_goes_before_a_printed_one(reference: Reference) -> None:
    answer = read_label(reference, "$24.90", None, Decimal("10"), "EUR")
    assert plain((answer.product.price, answer.product.currency)) == (10, "EUR")


@pytest.mark.parametrize("text", ["5 00 \u20ac", "0 \u20ac", "$0.00"])
def test_a_price_of_nothing_is_none(reference: Reference, text: str) -> None:
    assert read_label(reference, text).product.price is None


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("1 234,50 \u20ac", "1234.50"), ("Was \u00a320, now \u00a315", "15"), ("$22.50 / 60 ct", "22.50"),
        ("Prix TTC : 62,00 \u20ac", "62.00"), ("$ 1O.99", None), ("$5 off", None), ("3 x $10", None),
    ],
)  # fmt: skip
def test_what_is_to_pay(reference: Reference, text: str, amount: str | None) -> None:
    assert read_label(reference, text).product.price == (None if amount is None else Decimal(amount))
