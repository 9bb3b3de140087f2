"""``POST /v1/combine``."""

from __future__ import annotations

import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import product


def _tablet(id_: str, price: float, facts: dict[str, str], **changes: object) -> dict[str, Any]:
    """Make an invented tablet of which 100 cost so much."""
    told = [{"name": name, "amount": amount} for name, amount in facts.items()]
    return product(id=id_, price=price, unit_count=100, serving={"units": 1}, facts=told, **changes)


def combine_body(**changes: object) -> dict[str, Any]:
    """Give a body that three sets answer."""
    body = {
        "animal": {"species": "dog", "weight": "34 kg", "age_years": 6},
        "targets": [{"ingredient": "glucosamine"}, {"ingredient": "chondroitin-sulfate"}],
        "products": [
            _tablet("a", 10, {"Glucosamine HCl": "500 mg"}),
            _tablet("b", 20, {"Chondroitin sulfate": "400 mg"}),
            _tablet("c", 35, {"Glucosamine HCl": "500 mg", "Chondroitin sulfate": "400 mg"}),
            _tablet("d", 12, {"Glucosamine HCl": "250 mg"}),
        ],
    }
    return {**body, **changes}


def _ask(client: FlaskClient, **changes: object) -> dict[str, Any]:
    return assert_computed(client.post("/v1/combine", json=combine_body(**changes)))


def _units(members: dict[str, Any]) -> list[dict[str, float]]:
    return [{part["product_id"]: part["units_per_day"] for part in one["products"]} for one in members["combinations"]]


def test_the_three_cheapest_sets(client: FlaskClient) -> None:
    members = _ask(client)
    assert (members["status"], members["gap"], members["search_complete"]) == ("optimal", 0, True)
    assert [one["cost_per_day"] for one in members["combinations"]] == [0.3, 0.35, 0.44]
    assert _units(members) == [{"a": 1, "b": 1}, {"c": 1}, {"b": 1, "d": 2}]
    assert [one["rank"] for one in members["combinations"]] == [1, 2, 3]
    assert (members["aim"], members["high_end_on"], members["most_products"]) == ("low", "low_reading", 3)
    assert members["targets"][0]["low_mg"] == 500


def test_everything_that_can_be_told(client: FlaskClient) -> None:
    members = _ask(
        client,
        animal={"species": "dog", "weight_lb": 75, "traits": ["sighthound"]},
        aim="middle",
        most_products=2,
        high_end_on="high_reading",
        other_supplements=[_tablet("fish", 5, {"EPA": "180 mg", "DHA": "120 mg"}, units_per_day=2)],
        count_other_supplements=True,
        medications=["carprofen", "zzinvented"],
        conditions=["arthritis"],
        time_limit_seconds=0.5,
    )
    assert members["status"] == "optimal"
    assert (members["aim"], members["high_end_on"], members["most_products"]) == ("middle", "high_reading", 2)
    oil = [total for total in members["combinations"][0]["totals"] if total["ingredient"] == "epa-dha"]
    assert oil[0]["high_mg_per_day"] == 600
    assert oil[0]["limit_id"] == "epa-dha-dog-nrc"
    assert [one["text"] for one in members["unrecognised"]] == ["zzinvented"]
    assert {one["name"] for one in members["taken_as"]} >= {"carprofen", "osteoarthritis"}


def test_nothing_fits_with_the_reason(client: FlaskClient) -> None:
    members = _ask(client, products=combine_body()["products"][:2], most_products=1)
    assert (members["status"], members["gap"], members["combinations"]) == ("nothing_fits", None, [])
    assert members["blocked_by"][0] == {
        "kind": "most_products",
        "ingredient": None,
        "limit_id": None,
        "needed": 1,
        "reachable": 2,
        "unit": "products",
        "detail": "It takes at least 2 products; most_products is 1.",
        "limit_origin": None,
        "source_ids": [],
    }


def test_a_product_that_must_not_be_given_is_left_out(client: FlaskClient) -> None:
    sweet = _tablet("sweet", 1, {"Glucosamine HCl": "500 mg"}, other_ingredients="xylitol")
    members = _ask(client, products=[*combine_body()["products"], sweet])
    assert [left["product_id"] for left in members["left_out"]] == ["sweet"]
    assert members["left_out"][0]["reasons"][0]["code"] == "avoid_finding"
    assert not any("sweet" in units for units in _units(members))


def test_products_without_an_id_are_numbered(client: FlaskClient) -> None:
    bare = [{name: value for name, value in one.items() if name != "id"} for one in combine_body()["products"]]
    assert _units(_ask(client, products=bare))[0] == {"p1": 1, "p2": 1}


def test_the_same_question_gives_the_same_bytes(client: FlaskClient) -> None:
    first, second = (client.post("/v1/combine", json=combine_body()) for _ in range(2))
    assert first.data == second.data
    assert first.headers["Cache-Control"] == "no-store"


def test_a_pinned_release(client: FlaskClient) -> None:
    members = assert_computed(client.post("/v1/combine?dataset=1.0.0", json=combine_body()))
    assert members["dataset"]["version"] == "1.0.0"
    assert_problem(client.post("/v1/combine?dataset=0.0.1", json=combine_body()), "unknown-dataset-release")


PRODUCT = combine_body()["products"][0]
REFUSED: list[tuple[dict[str, Any], str, str]] = [
    ({"animal": {"species": "dog"}}, "/animal/weight", "give exactly one of"),
    ({"animal": {"species": "cat", "weight_kg": 16}}, "/animal/weight_kg", "outside 0.1 to 15 kg"),
    ({"targets": []}, "/targets", "1 to 10"),
    ({"targets": [{"ingredient": "msm"}] * 11}, "/targets", "1 to 10"),
    ({"targets": [{"ingredient": "msm"}] * 2}, "/targets/1/ingredient", "target already"),
    ({"targets": [{"ingredient": "msm", "low_mg": 2, "high_mg": 1}]}, "/targets/0/high_mg", "below low_mg"),
    ({"targets": [{"ingredient": "msm", "lowmg": 2}]}, "/targets/0/lowmg", "nearest: low_mg"),
    ({"products": []}, "/products", "1 to 50"),
    ({"products": [PRODUCT] * 51}, "/products", "1 to 50"),
    ({"products": [PRODUCT] * 2}, "/products/1/id", "used by another product"),
    ({"products": [PRODUCT, {**PRODUCT, "id": "q", "currency": "EUR"}]}, "/products", "several currencies (EUR, USD)"),
    ({"products": [{**PRODUCT, "currency": None}]}, "/products/0/currency", "is required"),
    ({"products": [{**PRODUCT, "divisible": "thirds"}]}, "/products/0/divisible", "is not one of"),
    (
        {"products": [PRODUCT, {"facts": [{"name": "MSM", "amount": "5OO mg"}]}]},
        "/products/1/facts/0/amount",
        "letter O",
    ),
    ({"most_products": 0}, "/most_products", "at least 1"),
    ({"most_products": 2.5}, "/most_products", "whole number"),
    ({"most_product": 2}, "/most_product", "nearest: most_products"),
    ({"aim": "lowest"}, "/aim", "nearest: low"),
    ({"high_end_on": "both"}, "/high_end_on", "low_reading, high_reading"),
    ({"count_other_supplements": "yes"}, "/count_other_supplements", "true or false"),
    ({"time_limit_seconds": 60}, "/time_limit_seconds", "at most 5"),
    ({"time_limit_seconds": 0}, "/time_limit_seconds", "at least 0.1"),
    ({"medications": ["x"] * 51}, "/medications", "0 to 50"),
    ({"other_supplements": [PRODUCT, PRODUCT]}, "/other_supplements/1/id", "used by another product"),
    ({"rank_by": "cost_per_day"}, "/rank_by", "is not a known member"),
]


@pytest.mark.parametrize(("changes", "pointer", "hint"), REFUSED)
def test_what_is_refused(client: FlaskClient, changes: dict[str, Any], pointer: str, hint: str) -> None:
    response = client.post("/v1/combine", json=combine_body(**changes))
    assert_problem(response, "invalid-input", names=f"#{pointer}", hint=hint)


def test_other_problems(client: FlaskClient) -> None:
    unknown = combine_body(targets=[{"ingredient": "glucosamin"}])
    assert "glucosamine" in assert_problem(client.post("/v1/combine", json=unknown), "unknown-ingredient")["nearest"]
    cat = combine_body(animal={"species": "cat", "weight_kg": 4}, targets=[{"ingredient": "msm"}])
    assert_problem(client.post("/v1/combine", json=cat), "no-guidance")
    assert_problem(client.get("/v1/combine"), "method-not-allowed")
    assert_problem(client.post("/v1/combine", data="{", content_type="application/json"), "malformed-body")
    assert_problem(client.post("/v1/combine", data="a=1"), "unsupported-media-type")
    page = client.post("/v1/combine", json=combine_body(), headers={"Accept": "text/csv"})
    assert_problem(page, "not-acceptable")
    assert_problem(client.post("/v1/combine?datset=1.0.0", json=combine_body()), "invalid-input", names="datset")


def test_fifty_products_fit_into_a_body(client: FlaskClient) -> None:
    facts = {"Glucosamine HCl": "250 mg", "Chondroitin sulfate": "200 mg", "MSM": "300 mg"}
    body = combine_body(products=[_tablet(f"p{number}", 10 + number, facts) for number in range(50)])
    assert len(json.dumps(body)) < 65_536
    members = assert_computed(client.post("/v1/combine", json=body))
    assert _units(members) == [{"p0": 2}, {"p1": 2}, {"p2": 2}]
