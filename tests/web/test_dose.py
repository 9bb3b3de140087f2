"""``GET /v1/dose`` in its three representations."""

from __future__ import annotations

import csv
import io

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import DOSE


def test_the_rule_of_the_trade(client: FlaskClient) -> None:
    members = assert_computed(client.get("/v1/dose", query_string=DOSE))
    phases = {phase["phase"]: phase for phase in members["phases"]}
    assert (phases["maintenance"]["low_mg"], phases["maintenance"]["high_mg"]) == (500, 1000)
    assert (phases["loading"]["low_mg"], phases["loading"]["high_mg"]) == (1000, 2000)
    assert (phases["loading"]["days_low"], phases["loading"]["days_high"]) == (28, 42)
    assert phases["maintenance"]["origin"] == "common_practice"
    assert "common_practice" in {caution["code"] for caution in members["cautions"]}
    assert members["weight_kg"] == 34
    assert members["evidence"]["verdict"] in ("against", "weak", "mixed")
    assert members["published_amounts"]


@pytest.mark.parametrize("weight", [{"weight": "75 lb 8 oz"}, {"weight_lb": "75.5"}, {"weight": "34.246226 kg"}])
def test_pounds_and_kilograms_agree(client: FlaskClient, weight: dict[str, str]) -> None:
    query = {"species": "dog", "ingredient": "glucosamine", **weight}
    assert client.get("/v1/dose", query_string=query).get_json()["phases"][0]["low_mg"] == pytest.approx(
        1007.24, abs=0.01
    )


def test_further_parameters_reach_the_domain(client: FlaskClient) -> None:
    query = {**DOSE, "body_condition_score": "7", "trait": "sighthound", "age_years": "6", "form": "glucosamine-base"}
    members = assert_computed(client.get("/v1/dose", query_string=query))
    assert members["form"] == "glucosamine-base"
    assert members["ideal_weight"]["ideal_weight_kg"] < 34
    assert members["trait"]["statements"]


def test_no_guidance_says_what_is_known(client: FlaskClient) -> None:
    response = client.get("/v1/dose?species=cat&weight=4kg&ingredient=glucosamine")
    members = assert_problem(response, "no-guidance")
    assert members["known"]["ingredient"] == "glucosamine"
    assert members["known"]["evidence"]["verdict"]
    assert isinstance(members["known"]["regimen_ids"], list)


def test_unknown_ingredient_lists_the_nearest(client: FlaskClient) -> None:
    response = client.get("/v1/dose?species=dog&weight=34kg&ingredient=glucosamin")
    assert "glucosamine" in assert_problem(response, "unknown-ingredient")["nearest"]


def test_unknown_form_lists_the_nearest(client: FlaskClient) -> None:
    response = client.get("/v1/dose", query_string={**DOSE, "form": "glucosamine-hydrochlorid"})
    assert "glucosamine-hydrochloride" in assert_problem(response, "not-found")["nearest"]


def test_pinned_release(client: FlaskClient) -> None:
    version = client.get("/v1/dataset").get_json()["releases"][0]["version"]
    members = assert_computed(client.get("/v1/dose", query_string={**DOSE, "dataset": version}))
    assert members["dataset"]["version"] == version
    missing = client.get("/v1/dose", query_string={**DOSE, "dataset": "99.0.0"})
    assert version in assert_problem(missing, "unknown-dataset-release")["known_releases"]


def test_answers_at_several_weights_share_only_what_is_fixed(client: FlaskClient) -> None:
    # The application under test compares every written answer with a fresh one, fixed members included.
    for weight in ("1 kg", "20 kg", "100 kg", "20 kg"):
        for ingredient in ("glucosamine", "epa-dha"):
            query = {"species": "dog", "ingredient": ingredient, "weight": weight}
            assert client.get("/v1/dose", query_string=query).get_json()["ingredient"] == ingredient


def test_csv_has_one_row_per_phase(client: FlaskClient) -> None:
    response = client.get("/v1/dose.csv", query_string=DOSE)
    assert response.content_type.startswith("text/csv; charset=utf-8")
    text = response.get_data(as_text=True)
    assert text.count("\r\n") == text.count("\n") == 3
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [row["phase"] for row in rows] == ["loading", "maintenance"]
    assert rows[1]["low_mg"] == "500"
    assert rows[1]["moiety_low_mg"].startswith("415.4")
    assert rows[1]["band_from_kg"]
    assert "common_practice" in rows[1]["caution_codes"].split(";")


def test_page_names_cautions_sources_and_notice(client: FlaskClient) -> None:
    page = client.get("/v1/dose.html", query_string=DOSE).get_data(as_text=True)
    assert "<h1>Glucosamine for a dog of 34 kg</h1>" in page
    assert 'class="cautions"' in page
    assert "<h2>Sources</h2>" in page
    assert "not a prescription" in page
    assert 'href="/v1/dose.csv?species=dog&amp;weight=34+kg&amp;ingredient=glucosamine"' in page


def test_ending_and_header_give_the_same(client: FlaskClient) -> None:
    for ending, media_type in (("csv", "text/csv"), ("html", "text/html"), ("json", "application/json")):
        by_ending = client.get(f"/v1/dose.{ending}", query_string=DOSE)
        by_header = client.get("/v1/dose", query_string=DOSE, headers={"Accept": media_type})
        assert by_ending.content_type == by_header.content_type
        if ending != "html":
            assert by_ending.data == by_header.data
