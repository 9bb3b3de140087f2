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


@pytest.mark.parametrize(
    ("text", "amount", "currency", "flag"),
    [
        ("RRP \u00a326.00 NOW \u00a322.10", "22.10", "GBP", "several_prices"),
        ("\u00a322.10 RRP \u00a326.00", "22.10", "GBP", "several_prices"),
        ("UVP 29,90 \u20ac 24,90 \u20ac", "24.90", "EUR", "several_prices"),
        ("$29.99 now $24.99", "24.99", "USD", "several_prices"),
        ("MSRP: $49.99 Sale: $39.99", "39.99", "USD", "several_prices"),
        ("RRP: \u00a326.00", "26.00", "GBP", None), ("was \u00a326.00 now \u00a322.10", "22.10", "GBP", None),
        ("$24.99 - $39.99", "24.99", "USD", "price_is_a_range"),
        ("19,90 - 29,90 \u20ac", "19.90", "EUR", "price_is_a_range"),
        ("EUR 19,90 bis 29,90", "19.90", "EUR", "price_is_a_range"),
        ("from $24.99", "24.99", "USD", "price_is_a_range"),
        ("CAD $31.99", "31.99", "CAD", None), ("AUD $31.99", "31.99", "AUD", None), ("US $31.99", "31.99", "USD", None),
        ("$31.99 CAD", "31.99", "CAD", None), ("GBP \u00a322.10", "22.10", "GBP", None),
        ("Lot 7  \u00a314.95", "14.95", "GBP", None),
    ],
)  # fmt: skip
def test_several_prices_and_their_currency(
    reference: Reference, text: str, amount: str, currency: str, flag: str | None
) -> None:
    answer = read_label(reference, text)
    assert answer.price is not None
    assert (answer.price.amount, answer.price.currency) == (Decimal(amount), currency)
    assert flag is None or flag in answer.price.flags
    assert (answer.unread, answer.facts) == ((), ())


def test_a_price_of_several_is_none_of_one_wherever_it_stands(reference: Reference) -> None:
    answer = read_label(reference, "Directions: 1 chew daily\nCost: 2 for \u00a330")
    assert answer.price is None
    assert ("offer", "Cost: 2 for \u00a330") in [(one.kind, one.text) for one in answer.statements]


@pytest.mark.parametrize("text", ["$59.99 - 15% coupon", "$59.99 (15% off)", "$59.99, save 15%", "$59.99 20 % Rabatt"])
def test_a_reduction_is_no_content(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert (answer.facts, answer.product.price) == ((), Decimal("59.99"))
    assert [one.kind for one in answer.statements] == ["offer"]
