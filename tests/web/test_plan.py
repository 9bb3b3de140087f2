"""``POST /v1/plan`` in all its forms."""

from __future__ import annotations

import csv
import io
from copy import deepcopy
from datetime import date
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import product


def plan_body(**changes: object) -> dict[str, Any]:
    """Give a body for ``POST /v1/plan``; a member set to ``None`` is left out."""
    body = {"animal": {"species": "dog", "weight": "34 kg", "age_years": 11}, "product": product()}
    return {name: value for name, value in {**body, **changes}.items() if value is not None}


def _sizes() -> list[dict[str, Any]]:
    return [product(id="large"), product(id="small", unit_count=30, price=6)]


def test_loading_then_maintenance(client: FlaskClient) -> None:
    answer = assert_computed(client.post("/v1/plan", json=plan_body(horizon_days=90)))
    assert [phase["phase"] for phase in answer["phases"]] == ["loading", "maintenance"]
    assert answer["paid_cost"] == 28.8
    assert answer["consumed_cost"] == 15.84
    assert answer["left_over_units"] == 108
    assert answer["alternatives"] == []
    assert answer["saving"] is None
    assert answer["next_reassessment"] is None


def test_dates_with_a_start(client: FlaskClient) -> None:
    answer = assert_computed(client.post("/v1/plan", json=plan_body(start_date="2028-02-29", horizon_years=1)))
    assert (answer["start_date"], answer["end_date"]) == ("2028-02-29", "2029-02-27")
    assert answer["phases"][0]["from_date"] == "2028-02-29"
    # 70 days after 29 February 2028.
    assert date.fromisoformat(answer["next_reassessment"]) == date(2028, 5, 9)


def test_several_side_by_side(client: FlaskClient) -> None:
    answer = assert_computed(client.post("/v1/plan", json=plan_body(product=None, products=_sizes())))
    assert [course["product_id"] for course in answer["alternatives"]] == ["large", "small"]
    assert answer["saving"]["pairs"][0]["instead_of"] == "small"
    assert answer["product_id"] == "large"


def test_everything_that_can_be_told(client: FlaskClient) -> None:
    body = plan_body(
        animal={"species": "dog", "weight_kg": 34},
        birth_date="2019-05-10",
        start_date="2027-03-01",
        phases=[
            {"aim": "low", "ingredient": "glucosamine", "from_age_years": 8, "name": "small amount"},
            {"mg_per_day": 1000, "ingredient": "glucosamine", "from_age_years": 10, "form": None},
        ],
        until_age_years=12,
        weights=[{"date": "2028-01-01", "weight": "32 kg"}, {"day": 900, "weight_lb": 66}],
        containers_per_purchase=2,
        remainder="discarded",
        price_change_per_year=0.03,
        what_if=[{"price_factor": 1.2}, {"weight_factor": 1.05}, {"aim": "high"}],
        show_days=True,
        medications=["carprofen"],
        conditions=["epilepsy"],
        other_supplements=[product(id="s1")],
    )
    body["product"]["price_breaks"] = [{"containers": 3, "price": 12.5}]
    body["product"]["opened_shelf_life_days"] = 90
    answer = assert_computed(client.post("/v1/plan", json=body))
    assert len(answer["days"]) == answer["horizon_days"]
    assert round(sum(day["cost"] for day in answer["days"]), 2) == answer["consumed_cost"]
    assert [one["change"] for one in answer["what_if"]] == ["price", "weight", "aim"]


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"product": None}, "/product"),
        ({"products": [product()]}, "/product"),
        ({"start_date": "2027-02-30"}, "/start_date"),
        ({"start_date": "1.3.2027"}, "/start_date"),
        ({"start_date": "0027-03-01"}, "/start_date"),
        ({"horizon_days": 0}, "/horizon_days"),
        ({"horizon_days": 1.5}, "/horizon_days"),
        ({"horizon_days": 20000}, "/horizon_days"),
        ({"horizon_days": 10, "horizon_years": 1}, "/horizon_days"),
        ({"price_change_per_year": 3}, "/price_change_per_year"),
        ({"price_change_per_year": -0.5}, "/price_change_per_year"),
        ({"loading": "no"}, "/loading"),
        ({"loading": 1}, "/loading"),
        ({"phases": []}, "/phases"),
        ({"phases": [{"days": 5}]}, "/phases/0/units_per_day"),
        ({"phases": [{"units_per_day": 1, "mg_per_day": 5, "days": 5}]}, "/phases/0/units_per_day"),
        ({"phases": [{"units_per_day": 1}]}, "/phases/0/days"),
        ({"phases": [{"units_per_day": 1, "day": 5}]}, "/phases/0/day"),
        ({"phases": [{"mg_per_day": 5, "ingredient": "no-such-thing", "days": 5}]}, None),
        ({"weights": [{"day": 5}]}, "/weights/0/weight"),
        ({"weights": [{"day": 5, "weight": "30"}]}, "/weights/0/weight"),
        ({"weights": [{"day": 5, "weight_kg": 30, "weight": "30 kg"}]}, "/weights/0/weight"),
        ({"weights": [{"date": "2027-01-01", "weight_kg": 30}]}, "/weights/0/date"),
        ({"what_if": [{}]}, "/what_if/0/price_factor"),
        ({"product": product(unit_count=0.001)}, "/product/unit_count"),
        ({"product": product(price_breaks=[{"containers": 1, "price": 3}])}, "/product/price_breaks/0/containers"),
        ({"product": product(price=None)}, "/product/price"),
        ({"aim": "most"}, "/aim"),
        ({"horizon": 30}, "/horizon"),
    ],
)
def test_bad_input_says_what_to_change(client: FlaskClient, changes: dict[str, Any], pointer: str | None) -> None:
    response = client.post("/v1/plan", json=plan_body(**deepcopy(changes)))
    if pointer is None:
        assert_problem(response, "unknown-ingredient")
        return
    assert_problem(response, "invalid-input", names=f"#{pointer}")


def test_no_guidance_for_a_cat(client: FlaskClient) -> None:
    body = plan_body(animal={"species": "cat", "weight": "4 kg"}, ingredient="glucosamine")
    assert_problem(client.post("/v1/plan", json=body), "no-guidance")


def test_as_a_table(client: FlaskClient) -> None:
    response = client.post("/v1/plan.csv", json=plan_body(product=None, products=_sizes()))
    rows = list(csv.DictReader(io.StringIO(response.get_data(as_text=True))))
    assert [(row["product_id"], row["phase"]) for row in rows] == [
        ("large", "loading"),
        ("large", "maintenance"),
        ("small", "loading"),
        ("small", "maintenance"),
    ]
    assert {row["currency"] for row in rows} == {"USD"}
    assert response.headers["Cache-Control"] == "no-store"


def test_a_product_that_cannot_serve_has_its_row(client: FlaskClient) -> None:
    other = product(id="other", facts=[{"name": "MSM", "amount": "500 mg"}])
    body = plan_body(product=None, products=[product(), other])
    rows = list(csv.DictReader(io.StringIO(client.post("/v1/plan.csv", json=body).get_data(as_text=True))))
    assert rows[-1]["product_id"] == "other"
    assert "credits no amount" in rows[-1]["why_not"]
    page = client.post("/v1/plan.html", json=body).get_data(as_text=True)
    assert "credits no amount" in page


def test_by_the_accept_header(client: FlaskClient) -> None:
    for media_type in ("text/csv", "text/html", "application/json", "text/calendar"):
        body = plan_body(start_date="2027-03-01")
        response = client.post("/v1/plan", json=body, headers={"Accept": media_type})
        assert response.status_code == 200
        assert response.mimetype == media_type
        assert "Accept" in response.headers["Vary"]


def test_as_a_page(client: FlaskClient) -> None:
    page = client.post("/v1/plan.html", json=plan_body(horizon_days=90)).get_data(as_text=True)
    assert "A course of 90 days for a dog of 34 kg" in page
    assert "28.80" in page


def test_pinned_to_a_release(client: FlaskClient) -> None:
    answer = assert_computed(client.post("/v1/plan?dataset=1.0.0", json=plan_body()))
    assert answer["dataset"]["version"] == "1.0.0"
