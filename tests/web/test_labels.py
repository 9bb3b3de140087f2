"""``POST /v1/labels/read``: raw text in, facts that ``normalise``, ``compare`` and ``screen`` take as they are."""

from __future__ import annotations

import json
from typing import Any

import pytest
from flask.testing import FlaskClient

from service.domain.labels.assembling import LONGEST_LABEL
from tests.web.asserting import assert_computed, assert_problem

READ = "/v1/labels/read"
# Invented.
TEXT = """Serving size: 2 soft chews (10 g)
90 chews
Glucosamine HCl 1,000 mg
Chondroitin sulfate 800 mg
MSM 400 mg (providing 136 mg sulfur)
Joint blend 300 mg: turmeric, yucca
Other ingredients: cellulose, xylitol
$24.90"""
ANIMAL = {"species": "dog", "weight_kg": 34}


def _read(client: FlaskClient, **body: object) -> dict[str, Any]:
    return assert_computed(client.post(READ, json=body))


def test_a_label_becomes_facts(client: FlaskClient) -> None:
    members = _read(client, text=TEXT)
    assert [(fact["ingredient"], fact["mg_per_unit"]) for fact in members["facts"]] == [
        ("glucosamine", 500), ("chondroitin-sulfate", 400), ("msm", 200),
    ]  # fmt: skip
    first = members["facts"][0]
    assert TEXT[first["span"]["start"] : first["span"]["end"]] == "Glucosamine HCl 1,000 mg"
    assert members["blends"][0]["mg"] == 300
    assert [one["hazard"] for one in members["hazards"]] == ["xylitol"]
    assert members["unread"] == []
    assert members["dataset"]["version"]


def test_a_second_reading_is_the_same(client: FlaskClient) -> None:
    first, second = (client.post(READ, json={"text": TEXT}) for _ in range(2))
    assert first.get_data() == second.get_data()
    assert first.headers["Cache-Control"] == second.headers["Cache-Control"]


def test_the_product_is_taken_by_normalise(client: FlaskClient) -> None:
    members = _read(client, text=TEXT)
    answer = assert_computed(client.post("/v1/normalise", json={"product": members["product"]}))
    read = {fact["name"]: fact["mg_per_unit"] for fact in members["facts"]}
    told = {fact["name"]: fact["mg_per_unit"] for fact in answer["facts"]}
    assert {name: told[name] for name in read} == read
    assert answer["cost_per_unit"] == pytest.approx(24.90 / 90, abs=1e-4)
    assert [one["hazard"] for one in answer["hazards"]] == ["xylitol"]


def test_the_facts_alone_are_taken_by_normalise(client: FlaskClient) -> None:
    members = _read(client, text=TEXT)
    whole = {"unit": "chew", "serving": {"units": 2}, "facts": members["facts"]}
    alone = {"unit": "chew", "serving": {"units": 2}, "facts": members["product"]["facts"]}
    by_facts, by_product = (
        assert_computed(client.post("/v1/normalise", json={"product": product})) for product in (whole, alone)
    )
    assert by_facts["facts"] == by_product["facts"][: len(by_facts["facts"])]


def test_the_product_is_taken_by_compare(client: FlaskClient) -> None:
    product = _read(client, text=TEXT)["product"]
    other = _read(client, text="90 tablets\nServing size: 1 tablet\nGlucosamine HCl 500 mg\n\u20ac 12.00")["product"]
    body = {
        "animal": ANIMAL,
        "targets": [{"ingredient": "glucosamine"}],
        "products": [product, {**other, "currency": "USD"}],
    }
    rows = assert_computed(client.post("/v1/compare", json=body))["rows"]
    assert sorted(row["product_id"] for row in rows) == ["p1", "p2"]
    by_facts = {**product, "facts": _read(client, text=TEXT)["facts"]}
    assert assert_computed(client.post("/v1/compare", json={**body, "products": [by_facts]}))["rows"]


def test_the_product_is_taken_by_screen(client: FlaskClient) -> None:
    members = _read(client, text=TEXT)
    for product in (members["product"], {**members["product"], "facts": members["facts"]}):
        answer = assert_computed(client.post("/v1/screen", json={"animal": ANIMAL, "products": [product]}))
        assert answer["verdict"] == "stop"
        assert any("xylitol" in finding["subjects"] for finding in answer["findings"])


def test_a_label_without_facts_is_taken_too(client: FlaskClient) -> None:
    product = _read(client, text="Ingredients: cellulose, xylitol")["product"]
    answer = assert_computed(client.post("/v1/screen", json={"animal": ANIMAL, "products": [product]}))
    assert answer["verdict"] == "stop"


def test_the_language_settles_a_number(client: FlaskClient) -> None:
    text = "Vitamin E 1.500 mg"
    assert _read(client, text=text, locale="de")["facts"][0]["value"] == 1500
    assert _read(client, text=text, locale="en")["facts"][0]["value"] == 1.5
    assert_problem(
        client.post(READ, json={"text": text, "locale": "dee"}), "invalid-input", names="#/locale", hint="de"
    )


def test_the_price_of_the_caller_goes_before_a_printed_one(client: FlaskClient) -> None:
    members = _read(client, text=TEXT, price=19.9, currency="EUR")
    assert (members["product"]["price"], members["product"]["currency"]) == (19.9, "EUR")
    assert members["price"]["currency"] == "USD"


@pytest.mark.parametrize(("given", "missing"), [({"price": 19.9}, "currency"), ({"currency": "EUR"}, "price")])
def test_a_price_needs_its_currency(client: FlaskClient, given: dict[str, Any], missing: str) -> None:
    problem = client.post(READ, json={"text": TEXT, **given})
    assert_problem(problem, "invalid-input", names=f"#/{missing}", hint="required")


@pytest.mark.parametrize("character", ["a", "\u00e9", "\u202f", "\U0001f436", "\n", "(", '"', "\\"])
def test_the_longest_text_is_accepted_however_it_is_written(client: FlaskClient, character: str) -> None:
    text = ("MSM 500 mg " + character * LONGEST_LABEL)[:LONGEST_LABEL]
    escaped = json.dumps({"text": text}, ensure_ascii=True).encode()
    written = json.dumps({"text": text}, ensure_ascii=False).encode()
    answers = [client.post(READ, data=data, content_type="application/json") for data in (escaped, written)]
    assert [fact["ingredient"] for fact in assert_computed(answers[0])["facts"]][:1] in ([], ["msm"])
    assert answers[0].get_data() == answers[1].get_data()


@pytest.mark.parametrize("character", ["a", "\U0001f436"])
def test_one_character_more_is_refused(client: FlaskClient, character: str) -> None:
    body = json.dumps({"text": character * (LONGEST_LABEL + 1)}).encode()
    problem = client.post(READ, data=body, content_type="application/json")
    assert_problem(problem, "invalid-input", names="#/text", hint="20001")


def test_a_body_beyond_every_label_is_too_large(client: FlaskClient) -> None:
    body = json.dumps({"text": "a" * 300_000}).encode()
    assert_problem(client.post(READ, data=body, content_type="application/json"), "body-too-large")


@pytest.mark.parametrize(
    ("body", "names", "hint"),
    [
        ({}, "#/text", "required"), ({"text": ""}, "#/text", "empty"), ({"text": " \n"}, "#/text", "empty"),
        ({"text": None}, "#/text", ""), ({"text": 5}, "#/text", ""), ({"text": "a\u0000b"}, "#/text", "U+0000"),
        ({"text": "MSM", "local": "de"}, "#/local", "locale"), ({"text": "MSM", "tex": "x"}, "#/tex", "text"),
        ({"text": "MSM", "price": -1, "currency": "EUR"}, "#/price", ""),
        ({"text": "MSM", "price": 5, "currency": "euro"}, "#/currency", ""),
    ],
)  # fmt: skip
def test_faults_are_named(client: FlaskClient, body: dict[str, Any], names: str, hint: str) -> None:
    assert_problem(client.post(READ, json=body), "invalid-input", names=names, hint=hint)


def test_a_lone_surrogate_is_refused(client: FlaskClient) -> None:
    problem = client.post(READ, data=b'{"text": "MSM \\ud800"}', content_type="application/json")
    assert_problem(problem, "invalid-input", names="#/text", hint="U+D800")


def test_a_pinned_release_answers(client: FlaskClient) -> None:
    # Two releases know different units and names; the facts of plain words are the same in each.
    for release in client.get("/v1/dataset").get_json()["releases"]:
        response = client.post(f"{READ}?dataset={release['version']}", json={"text": "Glucosamine HCl 500 mg"})
        members = assert_computed(response)
        assert members["dataset"]["version"] == release["version"]
        assert [fact["mg"] for fact in members["facts"]] == [500]
    assert_problem(client.post(f"{READ}?dataset=0.0.1", json={"text": "MSM"}), "unknown-dataset-release")


def test_other_requests(client: FlaskClient) -> None:
    refused = client.get(READ)
    assert_problem(refused, "method-not-allowed")
    assert "POST" in refused.headers["Allow"]
    assert_problem(client.post(READ, data=TEXT, content_type="text/plain"), "unsupported-media-type")
    assert_problem(client.post(READ, data=b"{", content_type="application/json"), "malformed-body")
    assert_problem(client.post(READ, json={"text": "MSM"}, headers={"Accept": "text/csv"}), "not-acceptable")
    assert_problem(client.post(f"{READ}?species=dog", json={"text": "MSM"}), "invalid-input", names="species")


def test_the_answer_is_documented(client: FlaskClient) -> None:
    operation = client.get("/openapi.json").get_json()["paths"][READ]["post"]
    assert operation["operationId"] == "read_label"
    assert {"200", "406", "413", "415", "422"} <= set(operation["responses"])
