"""``POST /v1/normalise`` and ``POST /v1/compare``."""

from __future__ import annotations

import csv
import io

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import compare_body, normalise_body, product


def test_normalise_divides_by_the_serving(client: FlaskClient) -> None:
    members = assert_computed(client.post("/v1/normalise", json=normalise_body()))
    first = members["facts"][0]
    assert first["ingredient"] == "glucosamine"
    assert first["form"] == "glucosamine-hydrochloride"
    assert first["mg_per_unit"] == 500
    assert members["cost_per_unit"] == 0.12
    assert members["currency"] == "USD"
    assert first["cost_per_mg"] == 0.00024


def test_normalise_with_as_little_as_possible(client: FlaskClient) -> None:
    members = assert_computed(client.post("/v1/normalise", json={"product": {}}))
    assert members["product_id"] == "p1"
    assert members["unit"] == "unit"
    assert members["divisible"] == "whole"
    assert members["cost_per_unit"] is None


def test_compare_ranks_the_cheaper_first(client: FlaskClient) -> None:
    members = assert_computed(client.post("/v1/compare", json=compare_body()))
    assert [row["rank"] for row in members["rows"]] == [1, 2]
    assert members["aim"] == "low"
    assert members["rank_by"] == "cost_per_day"
    assert {row["product_id"] for row in members["rows"]} == {"p1", "p2"}
    assert members["targets"][0]["low_mg"] == 500


def test_compare_numbers_products_without_an_id(client: FlaskClient) -> None:
    bare = {name: value for name, value in product().items() if name != "id"}
    members = assert_computed(client.post("/v1/compare", json=compare_body(products=[bare, bare])))
    assert {row["product_id"] for row in members["rows"]} == {"p1", "p2"}


def test_compare_with_amounts_of_the_caller(client: FlaskClient) -> None:
    target = {"ingredient": "msm", "low_mg": 200, "high_mg": 400}
    members = assert_computed(client.post("/v1/compare", json=compare_body(targets=[target], aim="high")))
    assert members["targets"][0]["origin"] == "caller"
    assert members["targets"][0]["aim_mg"] == 400


def test_compare_without_guidance(client: FlaskClient) -> None:
    body = compare_body(animal={"species": "cat", "weight_kg": 4})
    assert_problem(client.post("/v1/compare", json=body), "no-guidance")
    body = compare_body(targets=[{"ingredient": "glucosamin"}])
    assert "glucosamine" in assert_problem(client.post("/v1/compare", json=body), "unknown-ingredient")["nearest"]


def test_compare_as_csv_runs_no_formula(client: FlaskClient) -> None:
    formulas = ["=1+1", "+1", "-1", "@SUM(A1)", " =1+1", '=HYPERLINK("http://x.example","y")']
    products = [product(id=f"={n}", name=text) for n, text in enumerate(formulas)]
    response = client.post("/v1/compare.csv", json=compare_body(products=products))
    rows = list(csv.DictReader(io.StringIO(response.get_data(as_text=True))))
    assert len(rows) == len(formulas)
    for row in rows:
        assert row["product_id"].startswith("'=")
        assert row["name"].startswith("'")
        assert not any(cell.lstrip().startswith(("=", "+", "-", "@")) for cell in row.values())


def test_compare_csv_lays_targets_out(client: FlaskClient) -> None:
    response = client.post("/v1/compare", json=compare_body(), headers={"Accept": "text/csv"})
    rows = list(csv.DictReader(io.StringIO(response.get_data(as_text=True))))
    assert rows[0]["targets_1_ingredient"] == "glucosamine"
    assert rows[0]["rank"] == "1"


def test_compare_page_escapes_and_links_nowhere(client: FlaskClient) -> None:
    body = compare_body(products=[product(name="<script>alert(1)</script>")])
    page = client.post("/v1/compare.html", json=body).get_data(as_text=True)
    assert "&lt;script&gt;" in page
    assert "<script>" not in page
    assert ">CSV</a>" not in page


def test_compare_page_keeps_sentences_out_of_its_cells(client: FlaskClient) -> None:
    weak = product(id="p3", name="Weak tablet", facts=[{"name": "Glucosamine HCl", "amount": "5 mg"}])
    page = client.post("/v1/compare.html", json=compare_body(products=[product(), weak])).get_data(as_text=True)
    head, _, below = page.partition("</table>")
    assert "not a prescription" not in head
    assert "too weak" not in head
    assert "too weak" in below
    for wrong in ("targets 1", "(days)</th>\n", "cost per 30"):
        assert wrong not in head
    assert ">cost for 30 days</th>" in head
    assert ">3.60</td>" in head


@pytest.mark.parametrize("text", ["", "  ", None])
def test_an_empty_list_counts_as_not_given(client: FlaskClient, text: str | None) -> None:
    body = {"product": product(other_ingredients=text)}
    assert assert_computed(client.post("/v1/normalise", json=body))["other_ingredients"] == []
    compared = assert_computed(client.post("/v1/compare", json=compare_body(products=[body["product"]])))
    assert "other_ingredients_not_given" in compared["rows"][0]["label_flags"]
    assert "other_ingredients_not_given" in {caution["code"] for caution in compared["cautions"]}


def test_answers_to_a_body_are_not_stored(client: FlaskClient) -> None:
    response = client.post("/v1/normalise", json=normalise_body())
    assert response.headers["Cache-Control"] == "no-store"
    assert "ETag" not in response.headers
