"""``/v1/ingredients``, ``/v1/forms``, ``/v1/resolve``, ``/v1/convert``."""

from __future__ import annotations

import csv
import io

from flask.testing import FlaskClient

from service.domain.describing import IngredientItem
from service.reference.releases import Releases
from service.web.wire import field_names
from tests.web.asserting import assert_computed, assert_problem


def test_list_and_filters(client: FlaskClient) -> None:
    everything = client.get("/v1/ingredients").get_json()
    assert everything["count"] == len(everything["items"])
    actives = client.get("/v1/ingredients?kind=active&species=dog").get_json()
    assert {item["kind"] for item in actives["items"]} == {"active"}
    assert 0 < actives["count"] < everything["count"]
    found = client.get("/v1/ingredients?q=GLUCOS").get_json()["items"]
    assert "glucosamine" in {item["id"] for item in found}


def test_list_as_csv_keeps_its_header_without_rows(client: FlaskClient) -> None:
    response = client.get("/v1/ingredients.csv?q=zzyzx-blorb")
    assert response.get_data(as_text=True) == ",".join(field_names(IngredientItem)) + "\r\n"
    rows = list(csv.DictReader(io.StringIO(client.get("/v1/ingredients.csv").get_data(as_text=True))))
    assert {row["has_guidance_dog"] for row in rows} == {"true", "false"}


def test_list_as_a_page(client: FlaskClient) -> None:
    page = client.get("/v1/ingredients", headers={"Accept": "text/html"}).get_data(as_text=True)
    assert "<td" in page
    assert "glucosamine" in page
    assert "default form" in page


def test_unknown_kind(client: FlaskClient) -> None:
    assert_problem(client.get("/v1/ingredients?kind=actives"), "invalid-input", names="kind", hint="nearest: active")


def test_every_ingredient_can_be_read(client: FlaskClient, releases: Releases) -> None:
    for id_ in releases.newest.ingredients:
        assert assert_computed(client.get(f"/v1/ingredients/{id_}"))["id"] == id_


def test_every_form_can_be_read(client: FlaskClient, releases: Releases) -> None:
    for id_ in releases.newest.forms:
        assert assert_computed(client.get(f"/v1/forms/{id_}"))["id"] == id_


def test_unknown_ids(client: FlaskClient) -> None:
    assert "glucosamine" in assert_problem(client.get("/v1/ingredients/glucosamin"), "unknown-ingredient")["nearest"]
    nearest = assert_problem(client.get("/v1/forms/glucosamine-hcl"), "not-found")["nearest"]
    assert any(id_.startswith("glucosamine") for id_ in nearest)


def test_form(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/forms/glucosamine-hydrochloride"))
    assert members["moiety_share"] == 0.830923


def test_resolve(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/resolve", query_string={"name": "Glucosamine HCl"}))
    assert (members["match"], members["ingredient"]) == ("exact", "glucosamine")
    unknown = assert_computed(client.get("/v1/resolve?name=zzyzx"))
    assert unknown["match"] == "none"


def test_convert_text_and_number_agree(client: FlaskClient) -> None:
    query = {"form": "glucosamine-hydrochloride"}
    by_text = assert_computed(client.get("/v1/convert", query_string={**query, "amount": "500 mg"}))
    by_number = assert_computed(client.get("/v1/convert", query_string={**query, "amount_mg": "500"}))
    assert by_text == by_number
    assert by_text["converted_mg"] == 415.462


def test_convert_to_another_form(client: FlaskClient) -> None:
    query = {"form": "glucosamine-hydrochloride", "amount": "500 mg", "to": "glucosamine-sulfate-2kcl"}
    assert assert_computed(client.get("/v1/convert", query_string=query))["converted_mg"] > 500
    query["to"] = "nothing"
    assert_problem(client.get("/v1/convert", query_string=query), "not-found")


def test_convert_refuses_what_has_no_mass(client: FlaskClient) -> None:
    response = client.get("/v1/convert?form=glucosamine-hydrochloride&amount=500 IU")
    assert_problem(response, "invalid-input", names="amount", hint="IU")


def test_a_number_of_milligrams_has_no_second_reading(client: FlaskClient) -> None:
    # As print "1.234 mg" may be one milligram or a thousand; as a number it cannot.
    answer = client.get(
        "/v1/convert", query_string={"form": "glucosamine-hydrochloride", "amount_mg": "1.234"}
    ).get_json()
    assert (answer["amount_mg"], answer["flags"]) == (1.234, [])
    printed = client.get(
        "/v1/convert", query_string={"form": "glucosamine-hydrochloride", "amount": "1.234 mg"}
    ).get_json()
    assert printed["flags"] == ["separator_ambiguous"]
