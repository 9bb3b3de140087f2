"""Queries that are refused: each answer names the culprit and says what to change."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_problem
from tests.web.invented import DOSE


@pytest.mark.parametrize(
    "text",
    [
        *(
            "1_0",
            "\u0661\u0660",
            " 10 ",
            "10 ",
            "1e400",
            "1e1",
            "-1",
            "+5",
            "NaN",
            "nan",
            "inf",
            "Infinity",
            "0x10",
            "1,5",
        ),
        *("", " ", ".5", "5.", "--5", "1.2.3", "\uff11\uff10", "9" * 5000, "10\n", "ten", "\u00bd"),
    ],
)
def test_not_a_plain_number(client: FlaskClient, text: str) -> None:
    response = client.get("/v1/dose", query_string={**_without_weight(), "weight_kg": text})
    assert_problem(response, "invalid-input", names="weight_kg", hint="not a plain number")


@pytest.mark.parametrize("text", ["0", "0.09", "120.01", "121", "99999999999999999999999"])
def test_number_out_of_bounds(client: FlaskClient, text: str) -> None:
    response = client.get("/v1/dose", query_string={**_without_weight(), "weight_kg": text})
    assert_problem(response, "invalid-input", names="weight_kg", hint="at least 0.1 and at most 120")


@pytest.mark.parametrize(
    "text", ["75", "75 stone-ish", "1_0 kg", "\u0661\u0660 kg", "-1 kg", "1e400 kg", "kg", "34 kg 34 kg", "0 kg"]
)
def test_not_a_weight(client: FlaskClient, text: str) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, "weight": text})
    assert_problem(response, "invalid-input", names="weight")


def test_weight_without_a_unit_is_told_so(client: FlaskClient) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, "weight": "75"})
    assert_problem(response, "invalid-input", names="weight", hint="no unit")


@pytest.mark.parametrize(
    ("extra", "named"),
    [
        ({"weight": "34 kg", "weight_kg": "34"}, "weight_kg"),
        ({"weight_lb": "75", "weight_kg": "34"}, "weight_lb"),
        ({}, "weight"),
    ],
)
def test_exactly_one_weight(client: FlaskClient, extra: dict[str, str], named: str) -> None:
    response = client.get("/v1/dose", query_string={**_without_weight(), **extra})
    assert_problem(response, "invalid-input", names=named, hint="exactly one of weight, weight_kg, weight_lb")


@pytest.mark.parametrize(
    ("weight", "accepted"), [("15 kg", True), ("15.01 kg", False), ("0.1 kg", True), ("0.09 kg", False)]
)
def test_cats_have_a_range_of_their_own(client: FlaskClient, weight: str, accepted: bool) -> None:
    response = client.get(
        "/v1/screen", query_string={"species": "cat", "weight": weight, "ingredients_text": "cellulose"}
    )
    if accepted:
        assert response.status_code == 200
    else:
        assert_problem(response, "invalid-input", names="weight", hint="0.1 to 15 kg")


@pytest.mark.parametrize(
    ("name", "nearest"), [("wieght", "weight"), ("Species", "species"), ("ingredients", "ingredient")]
)
def test_unknown_name_gets_the_nearest(client: FlaskClient, name: str, nearest: str) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, name: "1"})
    assert_problem(response, "invalid-input", names=name, hint=f"nearest: {nearest}")


def test_unknown_name_is_quoted_where_it_cannot_be_printed(client: FlaskClient) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, "a\x00b": "1"})
    assert_problem(response, "invalid-input", names="'a\\x00b'")


def test_repeated_name(client: FlaskClient) -> None:
    response = client.get("/v1/dose?species=dog&weight=34kg&weight=35kg&ingredient=glucosamine")
    assert_problem(response, "invalid-input", names="weight", hint="more than once")


def test_every_fault_is_reported_at_once(client: FlaskClient) -> None:
    members = assert_problem(client.get("/v1/dose?species=dgo&weight_kg=x&wieght=1"), "invalid-input")
    assert [error["parameter"] for error in members["errors"]] == ["species", "weight_kg", "wieght", "ingredient"]
    assert members["detail"].endswith("(and 1 more)")


@pytest.mark.parametrize(
    ("name", "value", "hint"),
    [
        ("species", "dgo", "nearest: dog"),
        ("species", "", "is not one of dog, cat"),
        ("ingredient", "", "must not be empty"),
        ("ingredient", " ", "must not be empty"),
        ("ingredient", "x" * 81, "at most 80"),
        ("ingredient", "gluco\x00samine", "U+0000"),
        ("ingredient", "gluco\x1bsamine", "U+001B"),
        ("ingredient", "gluco\x85samine", "U+0085"),
        ("ingredient", "gluco\nsamine", "single line"),
        ("body_condition_score", "0", "at least 1 and at most 9"),
        ("body_condition_score", "10", "at least 1 and at most 9"),
        ("body_condition_score", "4.5", "whole number"),
        ("age_years", "41", "at most 40"),
        ("dataset", "1" * 21, "at most 20"),
    ],
)
def test_value_that_cannot_be_accepted(client: FlaskClient, name: str, value: str, hint: str) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, name: value})
    assert_problem(response, "invalid-input", names=name, hint=hint)


@pytest.mark.parametrize("escape", ["%FF", "%C3", "%ED%A0%80", "%F5%80%80%80"])
def test_invalid_utf_8(client: FlaskClient, escape: str) -> None:
    assert_problem(client.get(f"/v1/resolve?name=a{escape}b"), "invalid-input", names="query", hint="UTF-8")


def test_unescaped_utf_8_is_read(client: FlaskClient) -> None:
    # What a server hands over where a client did not percent-encode: the bytes as Latin-1.
    sent = client.get("/v1/resolve", environ_overrides={"QUERY_STRING": "name=caf\xc3\xa9"})
    assert sent.get_json()["name"] == "caf\xe9"
    refused = client.get("/v1/resolve", environ_overrides={"QUERY_STRING": "name=caf\xe9"})
    assert_problem(refused, "invalid-input", names="query")


def test_very_many_parameters(client: FlaskClient) -> None:
    assert_problem(client.get("/v1/dose?" + "a=1&" * 100), "invalid-input", names="query", hint="more than 60")


@pytest.mark.parametrize(
    ("text", "hint"), [("a,,b", "empty item"), (",".join("a" * 51), "at most 50"), ("x" * 101, "at most 100")]
)
def test_comma_separated_list(client: FlaskClient, text: str, hint: str) -> None:
    query = {"species": "dog", "ingredients_text": "cellulose", "medications": text}
    assert_problem(client.get("/v1/screen", query_string=query), "invalid-input", names="medications", hint=hint)


@pytest.mark.parametrize("query", [{}, {"amount": "500 mg", "amount_mg": "500"}])
def test_exactly_one_amount(client: FlaskClient, query: dict[str, str]) -> None:
    response = client.get("/v1/convert", query_string={"form": "glucosamine-hydrochloride", **query})
    assert_problem(response, "invalid-input", names="amount", hint="exactly one")


def _without_weight() -> dict[str, str]:
    return {name: value for name, value in DOSE.items() if name != "weight"}
