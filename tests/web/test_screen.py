"""``POST`` and ``GET /v1/screen``."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import product, screen_body


def test_hidden_hazard_stops(client: FlaskClient) -> None:
    members = assert_computed(client.post("/v1/screen", json=screen_body(ingredients_text="cellulose, xylitol")))
    assert members["verdict"] == "stop"
    assert any("xylitol" in finding["subjects"] and finding["level"] == "avoid" for finding in members["findings"])


def test_query_and_body_agree(client: FlaskClient) -> None:
    body = screen_body(
        ingredients_text="cellulose, fish oil", medications=["carprofen", "aspirin"], conditions=["epilepsy"]
    )
    by_body = assert_computed(client.post("/v1/screen", json=body))
    query = {
        "species": "dog",
        "weight": "34 kg",
        "ingredients_text": "cellulose, fish oil",
        "medications": "carprofen, aspirin",
        "conditions": "epilepsy",
    }
    assert assert_computed(client.get("/v1/screen", query_string=query)) == by_body


def test_weight_is_optional(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/screen?species=cat&ingredients_text=cellulose"))
    assert members["weight_kg"] is None


def test_products_and_other_supplements(client: FlaskClient) -> None:
    body = {
        "animal": {"species": "dog", "weight_kg": 34},
        "products": [product(units_per_day=2)],
        "other_supplements": [product(id="other", units_per_day=1)],
    }
    members = assert_computed(client.post("/v1/screen", json=body))
    assert "duplicate" in {finding["kind"] for finding in members["findings"]}


def test_unknown_text_is_listed(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/screen?species=dog&ingredients_text=zzyzx blorb"))
    assert members["verdict"] == "incomplete"
    assert members["unrecognised"][0]["text"] == "zzyzx blorb"


def test_pinned_release_is_kept(client: FlaskClient) -> None:
    version = client.get("/v1/dataset").get_json()["releases"][0]["version"]
    response = client.get(f"/v1/screen?species=dog&ingredients_text=cellulose&dataset={version}")
    assert "immutable" in response.headers["Cache-Control"]
    assert_problem(client.post("/v1/screen?dataset=0.0.1", json=screen_body()), "unknown-dataset-release")


@pytest.mark.parametrize("text", ["", " \n"])
def test_an_empty_text_counts_as_not_given(client: FlaskClient, text: str) -> None:
    with_product = screen_body(ingredients_text=text, products=[product(other_ingredients=text)])
    assert assert_computed(client.post("/v1/screen", json=with_product))["verdict"]
    nothing = client.post("/v1/screen", json=screen_body(ingredients_text=text))
    assert_problem(nothing, "invalid-input", names="#/ingredients_text", hint="nothing to screen")
    by_query = client.get("/v1/screen", query_string={"species": "dog", "ingredients_text": text})
    assert_problem(by_query, "invalid-input", names="ingredients_text")


def test_traits_in_query_and_body(client: FlaskClient) -> None:
    body = screen_body(ingredients_text="fish oil")
    body["animal"] = {**body["animal"], "traits": ["Greyhound"]}
    by_body = assert_computed(client.post("/v1/screen", json=body))
    query = {"species": "dog", "weight": "34 kg", "ingredients_text": "fish oil", "traits": "Greyhound"}
    by_query = assert_computed(client.get("/v1/screen", query_string=query))
    assert by_body["taken_as"] == by_query["taken_as"]
    assert [(one["text"], one["where"], one["id"]) for one in by_body["taken_as"]] == [
        ("Greyhound", "traits", "sighthound")
    ]


def test_an_unknown_medicine_is_asked_for_by_its_generic_name(client: FlaskClient) -> None:
    query = {"species": "dog", "ingredients_text": "cellulose", "medications": "zzyzx 50 mg"}
    members = assert_computed(client.get("/v1/screen", query_string=query))
    assert members["verdict"] == "incomplete"
    assert "generic name" in members["unrecognised"][0]["advice"]


def test_what_is_overruled_is_on_the_wire(client: FlaskClient) -> None:
    query = {"species": "dog", "ingredients_text": "chondroitin sulfate", "medications": "warfarin"}
    members = assert_computed(client.get("/v1/screen", query_string=query))
    assert [(one["record_id"], one["by"]) for one in members["overruled"]] == [("ix003", "ix002")]


def test_a_trait_is_one_of_the_animal_in_a_screen_only(client: FlaskClient) -> None:
    body = screen_body(ingredients_text="fish oil", traits=["Greyhound"])
    assert_problem(client.post("/v1/screen", json=body), "invalid-input", names="#/traits")
