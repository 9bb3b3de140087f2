"""``GET /v1/exposure``."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem

ASKED = {"species": "dog", "weight": "10 kg", "substance": "milk chocolate", "amount": "100 g"}


def test_an_answer(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/exposure", query_string=ASKED))
    assert (members["mg_per_kg"], members["tier"]) == (23, "mild")
    assert members["action"].startswith("Contact a veterinarian or an animal poison line now.")
    assert members["content"]["share_high"] == 0.0023
    listed = {source["id"] for source in members["sources"]}
    assert all(set(row["source_ids"]) <= listed for row in members["thresholds"])


def test_the_amount_in_mg_and_each_way_to_state_a_weight(client: FlaskClient) -> None:
    first = assert_computed(client.get("/v1/exposure", query_string=ASKED))
    for weight in ({"weight": "10 kg"}, {"weight_kg": "10"}):
        query = {"species": "dog", "substance": "milk chocolate", "amount_mg": "100000", **weight}
        assert assert_computed(client.get("/v1/exposure", query_string=query)) == first


@pytest.mark.parametrize("amount_mg", ["1.234", "1234567.125", "0.000001"])
def test_a_number_is_never_read_as_grouped(client: FlaskClient, amount_mg: str) -> None:
    query = {"species": "dog", "weight_kg": "1", "substance": "caffeine", "amount_mg": amount_mg}
    members = assert_computed(client.get("/v1/exposure", query_string=query))
    assert members["amount_mg"] == pytest.approx(float(amount_mg), rel=1e-5)
    assert members["mg_per_kg"] == pytest.approx(float(amount_mg), rel=1e-5)


def test_what_cannot_be_judged_is_an_answer_and_not_zero(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/exposure", query_string={**ASKED, "substance": "willow bark"}))
    assert members["tier"] is None
    assert members["mg_per_kg"] is None
    assert members["why_no_tier"]


@pytest.mark.parametrize(
    ("changes", "names", "hint"),
    [
        ({"amount": "3 tablets"}, "amount", "counts pieces"),
        ({"amount": "4"}, "amount", "has no unit"),
        ({"amount_mg": "4000"}, "amount", "exactly one of amount and amount_mg"),
        ({"amount": None}, "amount", "exactly one of amount and amount_mg"),
        ({"amount": None, "amount_mg": "0"}, "amount_mg", "at least"),
        ({"weight": None}, "weight", "exactly one of"),
        ({"weight": "10"}, "weight", "has no unit"),
        ({"weight_kg": "10"}, "weight_kg", "exactly one of"),
        ({"species": "horse"}, "species", "is not one of dog, cat"),
        ({"substance": None}, "substance", "is required"),
        ({"substance": "no xylitol"}, "substance", "says what is not in it"),
        ({"substanse": "xylitol"}, "substanse", "nearest: substance"),
    ],
)
def test_a_refusal_names_what_to_change(
    client: FlaskClient, changes: dict[str, str | None], names: str, hint: str
) -> None:
    query = {name: value for name, value in {**ASKED, **changes}.items() if value is not None}
    assert_problem(client.get("/v1/exposure", query_string=query), "invalid-input", names=names, hint=hint)


def test_an_unknown_substance_is_not_called_harmless(client: FlaskClient) -> None:
    unknown = client.get("/v1/exposure", query_string={**ASKED, "substance": "zzyzx"})
    members = assert_problem(unknown, "unknown-ingredient", hint="does not make it harmless")
    assert members["nearest"] == []
    slip = client.get("/v1/exposure", query_string={**ASKED, "substance": "xylitoll"})
    assert "Xylitol" in assert_problem(slip, "unknown-ingredient", hint="poison line now")["nearest"]


def test_a_release_can_be_pinned(client: FlaskClient) -> None:
    pinned = client.get("/v1/exposure", query_string={**ASKED, "dataset": "1.0.0"})
    assert assert_computed(pinned)["dataset"]["version"] == "1.0.0"
    assert "immutable" in pinned.headers["Cache-Control"]
    unknown = client.get("/v1/exposure", query_string={**ASKED, "dataset": "0.0.1"})
    assert_problem(unknown, "unknown-dataset-release")
