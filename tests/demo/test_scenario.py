"""The invented case holds together: labels read as stored, animals accepted, verdicts as stated, all of it invented."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import pytest
from flask.testing import FlaskClient

from service import create_app, demo
from service.reference import releases
from service.web.wire import Json

CASE = demo.scenario()
PRODUCTS: list[dict[str, Any]] = CASE["products"]
ANIMALS: list[dict[str, Any]] = CASE["animals"]
IDS = [product["id"] for product in PRODUCTS]
MARK = re.compile(r"invented|erfunden|invent[ée]", re.IGNORECASE)
# What a label may say in capitals inside a line: abbreviations of substances, units and coins.
ABBREVIATIONS = {"HCl", "KCl", "MSM", "EPA", "DHA", "IU", "II", "USD"}


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    """Ask the service in this process, every answer held against its schema."""
    return create_app(check_answers=True).test_client()


def answer(client: FlaskClient, path: str, body: dict[str, Any]) -> dict[str, Any]:
    response = client.post(path, json=body)
    found: dict[str, Any] = response.get_json()
    assert response.status_code == 200, found
    return found


def without_nulls(value: Json) -> Json:
    if isinstance(value, dict):
        return {key: without_nulls(item) for key, item in value.items() if item is not None}
    return [without_nulls(item) for item in value] if isinstance(value, list) else value


@pytest.mark.parametrize("product", PRODUCTS, ids=IDS)
def test_reading_the_label_gives_the_stored_product(client: FlaskClient, product: dict[str, Any]) -> None:
    read = answer(client, "/v1/labels/read", demo.label_body(product))
    assert without_nulls(read["product"]) == demo.as_read(product)


@pytest.mark.parametrize("product", PRODUCTS, ids=IDS)
def test_what_is_not_read_of_a_label_is_told_and_is_no_hazard(client: FlaskClient, product: dict[str, Any]) -> None:
    read = answer(client, "/v1/labels/read", demo.label_body(product))
    assert [place["text"] for place in read["unread"]] == CASE["left_unread"][product["id"]]
    assert [place["hazard"] for place in read["unread"] if place["hazard"]] == []
    assert all(fact["why_not"] is None and fact["ingredient"] for fact in read["facts"])


@pytest.mark.parametrize("product", PRODUCTS, ids=IDS)
def test_every_line_of_a_label_is_read_or_told_as_unread(client: FlaskClient, product: dict[str, Any]) -> None:
    text = demo.label(product["id"])
    read = answer(client, "/v1/labels/read", demo.label_body(product))
    seen = [False] * len(text)
    for span in spans(read):
        seen[span["start"] : span["end"]] = [True] * (span["end"] - span["start"])
    # Separators around what was read carry no meaning.
    left = "".join(character if not done else " " for character, done in zip(text, seen, strict=True))
    assert set(left) <= set(" \n.,;:=()"), left.split()


def spans(value: Json) -> list[dict[str, int]]:
    if isinstance(value, dict):
        own = [value] if {"start", "end"} <= value.keys() else []
        return own + [span for item in value.values() for span in spans(item)]
    return [span for item in value for span in spans(item)] if isinstance(value, list) else []


def test_a_price_on_a_label_is_read_and_agrees_with_the_stored_one(client: FlaskClient) -> None:
    read = answer(client, "/v1/labels/read", {"text": demo.label("invented-treat")})
    assert (read["price"]["amount"], read["price"]["currency"]) == (6.5, "USD")
    assert demo.product("invented-treat")["price"] == 6.5


@pytest.mark.parametrize("product", PRODUCTS, ids=IDS)
def test_every_product_is_understood_whole_by_normalise(client: FlaskClient, product: dict[str, Any]) -> None:
    normalised = answer(client, "/v1/normalise", {"product": product})
    assert normalised["unrecognised"] == []
    assert normalised["cost_per_unit"] == pytest.approx(product["price"] / product["unit_count"], abs=0.00005)


@pytest.mark.parametrize("animal", ANIMALS, ids=[animal["id"] for animal in ANIMALS])
def test_every_animal_screens_as_stated(client: FlaskClient, animal: dict[str, Any]) -> None:
    screens = {product["id"]: answer(client, "/v1/screen", demo.screen_body(animal, product)) for product in PRODUCTS}
    assert {id_: screen["verdict"] for id_, screen in screens.items()} == CASE["verdicts_of_one_serving_a_day"][
        animal["id"]
    ]
    told = {word["text"] for word in screens["invented-tablet"]["taken_as"]}
    assert {*animal["conditions"]} <= told
    known = {one["text"] for one in screens["invented-tablet"]["recognised"]}
    assert {*animal["medications"]} <= known | told
    assert [screen["unrecognised"] for screen in screens.values() if screen["unrecognised"]] == []


@pytest.mark.parametrize("animal", [one for one in ANIMALS if one["species"] == "dog"], ids=lambda one: one["id"])
def test_every_dog_is_compared_over_all_products(client: FlaskClient, animal: dict[str, Any]) -> None:
    compared = answer(client, "/v1/compare", demo.compare_body(animal, PRODUCTS, CASE["ingredient"]))
    assert sorted(row["product_id"] for row in compared["rows"]) == sorted(IDS)


def test_the_cat_has_no_amount_of_the_sought_ingredient(client: FlaskClient) -> None:
    (cat,) = [animal for animal in ANIMALS if animal["species"] == "cat"]
    response = client.get(demo.dose_path(cat, CASE["ingredient"]))
    assert response.status_code == 404
    assert response.get_json()["type"].endswith("/problems/no-guidance")


def test_the_large_pack_overtakes_two_small_ones_but_not_one() -> None:
    # By hand: 360 tablets for 32.40; the same in packs of 120 for 14.40 is 28.80 for two and 43.20 for three.
    small, large = demo.product("invented-tablet"), demo.product("invented-tablet-large")
    assert demo.as_read(small)["facts"] == demo.as_read(large)["facts"]
    price_of_small, price_of_large = Decimal(str(small["price"])), Decimal(str(large["price"]))
    assert 2 * price_of_small < price_of_large < 3 * price_of_small
    assert large["unit_count"] == 3 * small["unit_count"]


def test_the_labels_show_what_labels_do(client: FlaskClient) -> None:
    read = {product["id"]: answer(client, "/v1/labels/read", demo.label_body(product)) for product in PRODUCTS}
    assert {label["locale"] for label in read.values()} == {None, "de", "fr"}
    assert {product["unit"] for product in PRODUCTS} == {"tablet", "scoop", "chew", "millilitre", "capsule"}
    assert {"form_not_stated"} <= set(read["invented-powder"]["flags"])
    assert [blend["mg"] for blend in read["invented-blend"]["blends"]] == [900]
    assert [part["name"][:3] for part in read["invented-fish-oil"]["facts"][0]["constituents"]] == ["EPA", "DHA"]
    assert "xylitol" in [hazard["hazard"] for hazard in read["invented-chew"]["hazards"]]
    with_bands = [id_ for id_, label in read.items() if any(line["bands"] for line in label["directions"])]
    assert len(with_bands) >= 3


def test_everything_is_marked_as_invented() -> None:
    assert "invented" in CASE["invented"]
    named = [CASE["shelter"], *ANIMALS, *PRODUCTS]
    assert [one["name"] for one in named if not MARK.search(one["name"])] == []
    assert [id_ for id_ in IDS if not id_.startswith("invented-")] == []
    assert [id_ for id_, lines in CASE["labels"].items() if not MARK.search(lines[0])] == []
    course = CASE["course"]
    assert [text for text in (*course["questions"], *course["observations"]) if not MARK.search(text)] == []


def test_no_label_holds_a_word_that_could_be_a_brand() -> None:
    """A made-up name would be no word of the dataset, and stand in capitals inside a line."""
    names = {word for row in releases.load_all().newest.tables["names"] for word in row.name.casefold().split()}
    suspicious = []
    for id_ in IDS:
        for line in CASE["labels"][id_][1:]:
            # The first word of a line or after a stop, colon or bracket is written large anyway.
            inner = re.findall(r"(?<![.:(\-] )(?<!\()(?<=\w )\b([A-ZÄÖÜÉ][\w'-]*)", line)
            suspicious += [(id_, word) for word in inner if word not in ABBREVIATIONS and word.casefold() not in names]
    german_nouns = {("invented-mussel", noun) for noun in ("Hunde", "Messlöffel", "Zutaten")}
    assert set(suspicious) - german_nouns == set()


def test_ids_are_told_apart_and_every_product_has_its_label_and_verdicts() -> None:
    assert len(set(IDS)) == len(IDS) == 12
    assert list(CASE["labels"]) == list(CASE["left_unread"]) == IDS
    assert list(CASE["verdicts_of_one_serving_a_day"]) == [animal["id"] for animal in ANIMALS]
    assert all(list(verdicts) == IDS for verdicts in CASE["verdicts_of_one_serving_a_day"].values())


def test_the_care_note_of_the_course_is_written_and_speaks_against_nothing(client: FlaskClient) -> None:
    sent = demo.care_note_body()
    note = answer(client, "/v1/care-note", sent)
    assert note["screen"]["verdict"] == "nothing_found"
    assert {row["position"] for row in note["amounts"] if row["ingredient"] in ("glucosamine", "epa-dha")} == {"within"}
    assert MARK.search(sent["animal"]["name"])
    assert MARK.search(sent["animal"]["identification"])


def test_a_copy_of_the_case_can_be_changed_without_harm() -> None:
    demo.scenario()["products"].clear()
    assert len(demo.products()) == 12
    with pytest.raises(ValueError, match="not enough values"):
        demo.product("not-in-the-case")
