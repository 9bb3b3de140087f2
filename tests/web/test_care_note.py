"""``POST /v1/care-note`` in its three forms."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any

import pytest
from flask.testing import FlaskClient

from service import demo
from service.reference.releases import Releases
from service.web.body import LARGEST_BODY_BYTES
from tests.web.asserting import assert_computed, assert_problem

PATH = "/v1/care-note"
_HOSTILE = "<script>alert(1)</script>\"'&lt; }} {{ 7*7 }} =1+1"


def body(**changes: object) -> dict[str, Any]:
    return {**demo.care_note_body(), **changes}


def test_the_invented_course(client: FlaskClient) -> None:
    members = assert_computed(client.post(PATH, json=body()))
    assert members["animal"]["name"] == "Bramble (invented)"
    assert [product["product_id"] for product in members["given"]] == ["invented-tablet-large", "invented-fish-oil"]
    rows = [(row["ingredient"], row["from_date"], row["low_mg"], row["position"]) for row in members["amounts"]]
    # 3 and 1.5 tablets of 500 mg of glucosamine HCl; 200 mg of MSM in each; 5 capsules of 500 mg of EPA and DHA.
    assert rows[:5] == [
        ("glucosamine", "2027-03-01", 1500, "within"),
        ("glucosamine", "2027-04-12", 750, "within"),
        ("msm", "2027-03-01", 600, "below"),
        ("msm", "2027-04-12", 300, "below"),
        ("epa-dha", "2027-03-01", 2500, "within"),
    ]
    # 70 days after 1 March 2027.
    assert (members["reassess_on"], members["reassess_on_day"], members["reassess_after_days"]) == (
        "2027-05-10",
        71,
        70,
    )
    assert [question["text"] for question in members["questions"] if question["asked_by"] == "carer"] == body()[
        "questions"
    ]
    assert members["reproduce"]["dataset"] == members["dataset"]["version"]
    assert {"common-practice"} <= {source["id"] for source in members["sources"]}


@pytest.mark.parametrize(
    ("ending", "accept", "content_type"),
    [
        ("", None, "application/json"),
        ("", "application/json", "application/json"),
        (".json", "text/html", "application/json"),
        ("", "text/plain", "text/plain; charset=utf-8"),
        (".txt", None, "text/plain; charset=utf-8"),
        ("", "text/html", "text/html; charset=utf-8"),
        (".html", "application/json", "text/html; charset=utf-8"),
    ],
)
def test_forms_by_ending_and_by_accept(client: FlaskClient, ending: str, accept: str | None, content_type: str) -> None:
    response = client.post(PATH + ending, json=body(), headers={"Accept": accept} if accept else {})
    assert (response.status_code, response.content_type) == (200, content_type)
    assert response.headers["Cache-Control"] == "no-store"
    assert ("Accept" in response.headers.get("Vary", "").split(", ")) == (ending == "")


def test_nothing_else_is_offered(client: FlaskClient) -> None:
    assert_problem(client.post(PATH, json=body(), headers={"Accept": "text/csv"}), "not-acceptable", hint="text/plain")
    assert_problem(client.post(f"{PATH}.pdf", json=body()), "not-found")
    assert_problem(client.get(PATH), "method-not-allowed")


@pytest.mark.parametrize("ending", ["", ".txt", ".html"])
def test_the_same_inputs_give_the_same_bytes(client: FlaskClient, releases: Releases, ending: str) -> None:
    plain = client.post(PATH + ending, json=body())
    pinned = client.post(f"{PATH}{ending}?dataset={releases.newest.stamp.version}", json=body())
    other_order = client.post(
        PATH + ending, data=json.dumps(dict(reversed(body().items())), indent=3), content_type="application/json"
    )
    assert plain.get_data() == pinned.get_data() == other_order.get_data()


def test_a_release_can_be_pinned(client: FlaskClient) -> None:
    members = assert_computed(client.post(f"{PATH}?dataset=1.0.0", json=body()))
    assert members["dataset"]["version"] == members["reproduce"]["dataset"] == "1.0.0"
    assert_problem(client.post(f"{PATH}?dataset=9.9.9", json=body()), "unknown-dataset-release")


def test_the_checksum_is_on_all_forms_and_changes_with_what_is_told(client: FlaskClient) -> None:
    own = client.post(PATH, json=body()).get_json()["reproduce"]["inputs_sha256"]
    assert re.fullmatch("[0-9a-f]{64}", own)
    for ending in (".txt", ".html"):
        assert own in client.post(PATH + ending, json=body()).get_data(as_text=True)
    changed = client.post(PATH, json=body(observations=["Other."])).get_json()["reproduce"]["inputs_sha256"]
    assert changed != own


@pytest.mark.parametrize(
    ("change", "pointer", "hint"),
    [
        ({"animal": {"species": "dog", "weight": "34 kg", "nam": "x"}}, "#/animal/nam", "nearest: name"),
        ({"medication": ["carprofen"]}, "#/medication", "nearest: medications"),
        ({"products": []}, "#/products", "1 to 50"),
        ({"start_date": "2027-02-30"}, "#/start_date", "no day of the calendar"),
        ({"note_date": 20270226}, "#/note_date", "must be a text"),
        ({"questions": ["x" * 301]}, "#/questions/0", "at most 300"),
        ({"observations": ["two\nlines"]}, "#/observations/0", "single line"),
        ({"animal": {"species": "dog", "weight": "34"}}, "#/animal/weight", "unit"),
    ],
)
def test_what_is_refused(client: FlaskClient, change: dict[str, Any], pointer: str, hint: str) -> None:
    assert_problem(client.post(PATH, json=body(**change)), "invalid-input", names=pointer, hint=hint)


@pytest.mark.parametrize(
    ("given", "pointer", "hint"),
    [
        ({"phases": [{"units_per_day": 1}], "units_per_day": 1}, "#/products/0/units_per_day", "stands beside phases"),
        ({"phases": []}, "#/products/0/phases", "1 to 24"),
        ({"phases": [{"units_per_day": 1, "days": 1.5}]}, "#/products/0/phases/0/days", "whole number"),
        ({"phases": [{"units_per_day": -1}]}, "#/products/0/phases/0/units_per_day", "at least 0"),
        ({"phases": [{"mg_per_day": 500}]}, "#/products/0/phases/0/ingredient", "which ingredient"),
        ({"phases": [{"units_per_day": 0}]}, "#/products", "every phase is a pause"),
        ({"until_date": "2020-01-01", "units_per_day": 1}, "#/products/0/until_date", "before its first day"),
    ],
)
def test_courses_that_are_refused(client: FlaskClient, given: dict[str, Any], pointer: str, hint: str) -> None:
    product = {**demo.product("invented-tablet"), **given}
    assert_problem(client.post(PATH, json=body(products=[product])), "invalid-input", names=pointer, hint=hint)


def test_unknown_ids_in_a_phase(client: FlaskClient) -> None:
    phase = {"mg_per_day": 500, "ingredient": "glucosamin"}
    product = {**demo.product("invented-tablet"), "phases": [phase]}
    members = assert_problem(client.post(PATH, json=body(products=[product])), "unknown-ingredient")
    assert "glucosamine" in members["nearest"]
    product["phases"] = [{**phase, "ingredient": "glucosamine", "form": "nosuch"}]
    assert_problem(client.post(PATH, json=body(products=[product])), "not-found")


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\ud800"])
def test_control_characters_are_refused_everywhere(client: FlaskClient, character: str) -> None:
    for change, pointer in (
        ({"animal": {"species": "dog", "name": f"a{character}b"}}, "#/animal/name"),
        ({"medications": [f"a{character}b"]}, "#/medications/0"),
    ):
        response = client.post(PATH, data=json.dumps(body(**change)), content_type="application/json")
        assert_problem(response, "invalid-input", names=pointer, hint="must not contain the character")


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def hostile_body() -> dict[str, Any]:
    product = {
        **demo.product("invented-tablet"),
        "id": _HOSTILE[:60],
        "name": _HOSTILE,
        "unit": "<i>\"unit'",
        "other_ingredients": f"{_HOSTILE}\n<img src=x>",
        "phases": [{"units_per_day": 1, "days": 7, "name": _HOSTILE[:60]}, {"units_per_day": 2}],
    }
    product["facts"] = [{"name": _HOSTILE, "amount": "5 mg"}]
    return {
        "animal": {"species": "dog", "weight": "34 kg", "name": _HOSTILE, "identification": _HOSTILE},
        "products": [product],
        "other_supplements": [{**demo.product("invented-capsule"), "name": _HOSTILE}],
        "medications": [_HOSTILE],
        "conditions": [_HOSTILE],
        "questions": [_HOSTILE],
        "observations": [_HOSTILE],
    }


def test_markup_in_a_text_stays_text(client: FlaskClient) -> None:
    page = client.post(f"{PATH}.html", json=hostile_body()).get_data(as_text=True)
    found = _Tags()
    found.feed(page)
    assert {tag for tag, _ in found.tags} & {"script", "img", "i"} == set()
    assert "&lt;script&gt;" in page
    assert "49" not in re.sub("[^0-9{}]", " ", page).split()
    assert not [attributes for _, attributes in found.tags if any(name.startswith("on") for name in attributes)]
    assert " style=" not in page


def test_hostile_texts_stay_inside_their_lines(client: FlaskClient) -> None:
    text = client.post(f"{PATH}.txt", json=hostile_body()).get_data(as_text=True)
    lines = text.splitlines()
    assert max(map(len, lines)) <= 78
    # A heading is a line with a rule of its length below; the hostile note has those of an ordinary one and no other.
    ordinary = client.post(f"{PATH}.txt", json=body()).get_data(as_text=True).splitlines()
    assert headings(lines) == headings(ordinary)


def headings(lines: list[str]) -> list[str]:
    return [line for line, rule in pairwise(lines) if line and rule == "-" * len(line)]


def test_fifty_products(client: FlaskClient) -> None:
    products = [
        {**product, "id": f"p{number}", "units_per_day": 1} for number, product in enumerate((demo.products() * 5)[:50])
    ]
    sent = body(products=products)
    assert len(json.dumps(sent)) < LARGEST_BODY_BYTES
    members = assert_computed(client.post(PATH, json=sent))
    assert len(members["given"]) == 50
    assert members["screen"]["verdict"] == "stop"
    page = client.post(f"{PATH}.html", json=sent)
    assert page.get_data(as_text=True).count('<table class="wrapping given') == 50
    assert_problem(
        client.post(PATH, json=body(products=[*products, {**products[0], "id": "p50"}])),
        "invalid-input",
        names="#/products",
        hint="51 items",
    )


@pytest.mark.parametrize("animal", demo.animals(), ids=lambda one: one["id"])
@pytest.mark.parametrize("product", demo.products(), ids=lambda one: one["id"])
def test_every_animal_and_product_of_the_invented_case(
    client: FlaskClient, animal: dict[str, Any], product: dict[str, Any]
) -> None:
    sent = {
        "animal": {**demo.animal_body(animal), "name": animal["name"]},
        "products": [{**product, "units_per_day": product["serving"]["units"]}],
        "medications": animal["medications"],
        "conditions": animal["conditions"],
    }
    members = assert_computed(client.post(PATH, json=sent))
    assert members["screen"]["verdict"] == demo.scenario()["verdicts_of_one_serving_a_day"][animal["id"]][product["id"]]
    assert [told for told in members["medications"] + members["conditions"] if not told["understood"]] == []
    text = client.post(f"{PATH}.txt", json=sent).get_data(as_text=True)
    assert product["name"] in text
    assert "safe" not in text.casefold().replace("safety", "").split()


def test_the_page_says_what_it_is_and_links_to_no_other_form(client: FlaskClient) -> None:
    response = client.post(f"{PATH}.html", json=body())
    page = response.get_data(as_text=True)
    assert "<h1>Care note: Bramble (invented)</h1>" in page
    assert "care-note.txt" not in page
    assert len(page.encode()) < 30_000
    for heading in ("Given", "Amounts a day", "As told", "What speaks against it", "Questions", "Watch for"):
        assert f">{heading}" in page


def test_dates_and_weight_are_optional(client: FlaskClient) -> None:
    sent = {"animal": {"species": "cat"}, "products": [demo.product("invented-fish-oil")]}
    members = assert_computed(client.post(PATH, json=sent))
    assert (members["start_date"], members["note_date"], members["reassess_on"]) == (None, None, None)
    assert members["given"][0]["phases"][0]["from_day"] == 1
    assert {"weight_not_told", "units_not_told", "age_not_told"} <= {one["code"] for one in members["questions"]}


def test_words_of_a_plan_describe_the_same_course(client: FlaskClient) -> None:
    phases = [
        {"units_per_day": 3, "weeks": 6, "name": "loading"},
        {"mg_per_day": 750, "ingredient": "glucosamine", "days": 84},
    ]
    product = demo.product("invented-tablet-large")
    course = {"animal": demo.animal_body(demo.animal()), "product": product, "phases": phases}
    plan = client.post("/v1/plan", json={**course, "start_date": "2027-03-01"}).get_json()
    note = client.post(PATH, json=body(products=[{**product, "phases": phases}], start_date="2027-03-01")).get_json()
    (given,) = note["given"]
    assert [(one["from_date"], one["to_date"], one["units_per_day"]) for one in given["phases"]] == [
        (one["from_date"], one["to_date"], one["units_per_day"]) for one in plan["phases"]
    ]
