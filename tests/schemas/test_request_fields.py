"""Each field of a request refuses rather than guesses, from a query and from a body."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from marshmallow import ValidationError

from service.schemas.product import CurrencyCode
from service.schemas.request_base import RequestField, RequestSchema, forbidden_character, shown
from service.schemas.request_fields import Choice, CommaList, ListOf, Number, ObjectOf, Text, WholeNumber

_NUMBER = Number("x", least="0.1", most=120, decimals=2)


@pytest.mark.parametrize("text", ["0.1", "120", "120.00", "34", "007", "34.50"])
def test_plain_numbers(text: str) -> None:
    assert _NUMBER.from_text(text) == Decimal(text)


@given(st.text(max_size=30))
def test_any_other_text_is_refused_or_a_number_within_bounds(text: str) -> None:
    try:
        value = _NUMBER.from_text(text)
    except ValidationError:
        return
    assert isinstance(value, Decimal)
    assert text.isascii()
    assert Decimal("0.1") <= value <= 120


@pytest.mark.parametrize("value", ["34", True, False, None, [], {}, 34.0, 34])
def test_only_a_decimal_is_a_number_in_a_body(value: object) -> None:
    # Body reading turns every JSON number into a Decimal, so anything else was no number.
    with pytest.raises(ValidationError, match="must not be null" if value is None else "must be a JSON number"):
        _NUMBER.deserialize(value)


@pytest.mark.parametrize("value", ["0.09", "120.001", "1E+400", "-1", "1.001", "1E-400"])
def test_numbers_out_of_bounds(value: str) -> None:
    with pytest.raises(ValidationError, match=r"at least 0\.1 and at most 120|at most 2 decimals"):
        _NUMBER.deserialize(Decimal(value))


def test_bound_that_is_excluded() -> None:
    field = Number("x", above_least=True, most=5)
    assert field.metadata["exclusiveMinimum"] == 0
    assert field.deserialize(Decimal("1E-9")) > 0
    with pytest.raises(ValidationError, match="above 0"):
        field.deserialize(Decimal(0))


def test_whole_numbers() -> None:
    field = WholeNumber("x", least=1, most=9)
    assert field.from_text("4") == 4
    assert type(field.from_text("4.0")) is int
    assert field.metadata["type"] == "integer"
    with pytest.raises(ValidationError, match="whole number"):
        field.from_text("4.5")


def test_choice_suggests_the_nearest() -> None:
    field = Choice("x", among=("dog", "cat"))
    assert field.from_text("cat") == "cat"
    with pytest.raises(ValidationError, match="nearest: dog"):
        field.from_text("dgo")
    with pytest.raises(ValidationError, match="is not one of"):
        field.from_text("")
    with pytest.raises(ValidationError, match="at most 60"):
        field.from_text("x" * 61)


def test_comma_separated_list() -> None:
    field = CommaList("x", most_items=3)
    assert field.from_text(" a, b ") == ("a", "b")
    for text in ("a,,b", ",", ""):
        with pytest.raises(ValidationError, match="empty item"):
            field.from_text(text)
    with pytest.raises(ValidationError, match="has 4 items"):
        field.from_text("a,b,c,d")


def test_currency() -> None:
    field = CurrencyCode("x")
    assert field.from_text("EUR") == "EUR"
    for text in ("eur", "EURO", "XXX", "", "\u0130SK"):
        with pytest.raises(ValidationError, match="ISO 4217"):
            field.from_text(text)


class _Inner(RequestSchema):
    a = Text("x", longest=3, required=True)


class _Outer(RequestSchema):
    many = ListOf(ObjectOf(_Inner), "x", least=1, most=2)


def test_nested_faults_are_sentences() -> None:
    schema: Any = _Outer()
    assert schema.validate({"many": [{}]}) == {"many": {0: {"a": ["is required"]}}}
    assert schema.validate({"many": [{"a": None}]}) == {"many": {0: {"a": ["must not be null; leave it out instead"]}}}
    assert schema.validate({"many": [1]}) == {"many": {0: {"_schema": ["must be an object"]}}}
    assert schema.validate({"many": "a"}) == {"many": ["must be a list"]}
    assert schema.validate({"many": []}) == {"many": ["has 0 items; 1 to 2 are accepted"]}
    assert schema.validate({"b": 1}) == {"b": ["unknown"]}
    assert schema.load({"many": [{"a": "x"}]}) == {"many": [{"a": "x"}]}


def test_shown_text_is_short_and_printable() -> None:
    assert shown("a\x00\ud800") == "'a\\x00\\ud800'"
    assert len(shown("x" * 500)) == 42


def test_forbidden_characters() -> None:
    assert forbidden_character("plain\ttext\r\n") is None
    assert forbidden_character("a\x0bb") == "U+000B"
    assert forbidden_character("a\x7fb") == "U+007F"


def test_every_field_reads_text() -> None:
    with pytest.raises(TypeError, match="cannot be read from a query"):
        RequestField("x", schema={}).from_text("a")
