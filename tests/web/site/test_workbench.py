"""The workbench without a browser: form, address, answers, charts."""

from __future__ import annotations

import re
from html import unescape
from typing import Any
from urllib.parse import urlsplit

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from service.demo import animal, label, products
from service.pages.workbench.state import ProductTexts, State, from_token, to_token
from service.schemas.charts import EXAMPLE_STATE
from service.web.site.workbench.views import example_state
from tests.web.asserting import assert_problem

TABLET = {
    "p1_name": "Invented tablet",
    "p1_label": "Serving size: 1 tablet\nGlucosamine HCl 500 mg\nOther ingredients: cellulose",
    "p1_price": "14.40",
    "p1_currency": "USD",
    "p1_unit_count": "120",
    "p1_divisible": "halves",
}
FORM = {"species": "dog", "weight": "34 kg", "action": "compare", **TABLET}


def _text(response: TestResponse) -> str:
    assert response.status_code == 200
    assert response.content_type == "text/html; charset=utf-8"
    return unescape(response.get_data(as_text=True))


def _followed(client: FlaskClient, form: dict[str, Any]) -> str:
    response = client.post("/workbench", data=form)
    assert response.status_code == 303
    return _text(client.get(urlsplit(response.headers["Location"])._replace(fragment="").geturl()))


def _example(client: FlaskClient) -> str:
    return _text(client.get("/workbench", query_string={"state": to_token(example_state())}))


def test_an_empty_workbench_offers_the_example(client: FlaskClient) -> None:
    page = _text(client.get("/workbench"))
    assert "See an invented example" in page
    assert 'id="results"' not in page


def test_the_form_becomes_an_address_that_shows_the_same(client: FlaskClient) -> None:
    response = client.post("/workbench", data=FORM)
    location = response.headers["Location"]
    assert location.startswith("/workbench?state=")
    assert location.endswith("#results")
    assert response.headers["Cache-Control"] == "no-store"
    page = _followed(client, FORM)
    # 500 mg at 34 kg (source trade): one tablet a day at 0.12, 43.80 a year.
    assert "1 tablet" in page
    assert "0.12 USD" in page
    assert "43.80 USD" in page
    assert "Nothing found" in page


def test_the_page_of_an_address_is_the_same_bytes_each_time(client: FlaskClient) -> None:
    query = {"state": to_token(example_state())}
    first, second = (client.get("/workbench", query_string=query) for _ in range(2))
    assert first.data == second.data
    assert first.headers["ETag"]
    again = client.get("/workbench", query_string=query, headers={"If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304


def test_the_example_shows_every_part(client: FlaskClient) -> None:
    page = _example(client)
    for heading in ("What it comes to", "What speaks against them", "What one unit holds", "The course: 365 days"):
        assert heading in page
    dog = animal()
    assert dog["medications"][0] in page
    assert "must not be given to this animal" in page


def test_read_and_unread_parts_of_a_label_are_marked(client: FlaskClient) -> None:
    page = _followed(client, {**FORM, "p1_label": TABLET["p1_label"] + "\nzzqx 17 flurb"})
    assert re.search(r'class="mark read-name"[^>]*>Glucosamine HCl<', page)
    assert re.search(r'class="mark read-unread"[^>]*>.*zzqx', page, re.DOTALL)
    page = _followed(client, {**FORM, "p1_label": "zzqx 17 flurb\n" + TABLET["p1_label"]})
    assert "1 part not understood" in page


@pytest.mark.parametrize(
    ("changes", "field", "hint"),
    [
        ({"weight": "34"}, "weight", "has no unit"),
        ({"weight": ""}, "weight", "for example 34 kg"),
        ({"weight": "500 kg"}, "weight", "outside 0.1 to 120 kg"),
        ({"age_years": "old"}, "age_years", "plain number"),
        ({"p1_price": "cheap"}, "p1_price", "plain number"),
        ({"p1_currency": ""}, "p1_currency", "Give price and currency together"),
        ({"p1_currency": "usd"}, "p1_currency", "three capitals"),
        ({"p1_unit_count": "0"}, "p1_unit_count", "at least 0.001"),
        ({"p1_label": ""}, "p1_label", "Paste what is printed"),
        ({"ingredients": "no such thing"}, "ingredients", "not known for sure"),
        ({"ingredients": "glucosamine, msm, msm, chondroitin, curcumin, fish oil"}, "ingredients", "at most 4"),
        ({"years": "100"}, "years", "at most 30"),
        ({"medications": "a," * 30 + "b"}, "medications", "at most 20 names"),
    ],
)
def test_a_wrong_entry_is_said_beside_its_field(
    client: FlaskClient, changes: dict[str, str], field: str, hint: str
) -> None:
    page = _followed(client, {**FORM, **changes})
    error = re.search(rf'id="{field}-error" role="alert">([^<]*)<', page)
    assert error, page[:3000]
    assert hint in error[1]
    assert f'<a href="#{field}">' in page
    for name, value in {**FORM, **changes}.items():
        if value and name != "action":
            assert value.split("\n")[0] in page


def test_other_parts_stand_where_one_entry_is_wrong(client: FlaskClient) -> None:
    page = _followed(client, {**FORM, "weight": "34", "p1_label": TABLET["p1_label"] + ", xylitol"})
    assert "What one unit holds" in page
    assert "Stop" in page


def test_a_cat_is_screened_where_no_amount_is_known(client: FlaskClient) -> None:
    page = _followed(client, {**FORM, "species": "cat", "weight": "4 kg"})
    assert "of which an amount for a cat is published" in page
    assert "What speaks against them" in page


def test_a_label_can_be_added_and_taken_away(client: FlaskClient) -> None:
    added = _text(client.post("/workbench", data={**FORM, "action": "add"}))
    assert 'id="p2_label"' in added
    two = {**FORM, "p2_label": "MSM 500 mg", "p2_name": "Second", "action": "remove-1"}
    page = _followed(client, two)
    assert "Second" in page
    assert "Glucosamine HCl" not in page


def test_a_note_for_the_practice(client: FlaskClient) -> None:
    form = {**FORM, "medications": "carprofen", "action": "note-1", "age_years": "11"}
    page = _text(client.post("/workbench", data=form))
    for told in ("Invented tablet", "carprofen", "34 kg", "loading", "Glucosamine HCl"):
        assert told.casefold() in page.casefold()


@pytest.mark.parametrize("number", ["2", "0", "x", ""])
def test_no_note_without_its_product(client: FlaskClient, number: str) -> None:
    response = client.post("/workbench", data={**FORM, "action": f"note-{number}"})
    assert response.status_code == 303


def test_several_currencies_are_refused_with_a_sentence(client: FlaskClient) -> None:
    second = {name.replace("p1", "p2"): value for name, value in TABLET.items()}
    page = _followed(client, {**FORM, **second, "p2_currency": "EUR"})
    assert "several currencies" in page


def test_nothing_typed_can_become_markup(client: FlaskClient) -> None:
    evil = '"><script>alert(1)</script>'
    form = {**FORM, "weight": evil, "p1_name": evil, "p1_label": evil, "medications": evil, "ingredients": evil}
    response = client.post("/workbench", data=form)
    page = client.get(urlsplit(response.headers["Location"])._replace(fragment="").geturl()).get_data(as_text=True)
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_a_broken_address_says_so(client: FlaskClient) -> None:
    page = _text(client.get("/workbench?state=broken"))
    assert "was cut or changed on the way" in page


def test_too_much_for_one_address_is_answered_all_the_same(client: FlaskClient) -> None:
    # Text that does not compress: every line its own digits.
    long_label = "\n".join(f"{number * 7919 % 100003:x} {number * 104729 % 99991:x}" for number in range(1500))
    page = _text(client.post("/workbench", data={**FORM, "p1_label": TABLET["p1_label"] + "\n" + long_label}))
    assert "cannot be shared by its link" in page
    assert "0.12 USD" in page
    assert "/charts/comparison.svg" not in page


def test_ids_are_unique_and_anchors_resolve(client: FlaskClient) -> None:
    page = _example(client)
    ids = re.findall(r'\sid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    targets = set(re.findall(r'href="#([^"]+)"', page)) | set(re.findall(r'popovertarget="([^"]+)"', page))
    assert targets <= set(ids)


@pytest.mark.parametrize("chart", ["comparison", "composition", "course"])
def test_charts_have_addresses_of_their_own(client: FlaskClient, chart: str) -> None:
    response = client.get(f"/charts/{chart}.svg", query_string={"state": to_token(example_state())})
    assert response.status_code == 200
    assert response.content_type == "image/svg+xml; charset=utf-8"
    text = response.get_data(as_text=True)
    assert "Invented tablet" in text
    assert "1.1.0" in text
    assert response.headers["ETag"]


@pytest.mark.parametrize("chart", ["comparison", "composition", "course"])
def test_charts_come_as_tables_too(client: FlaskClient, chart: str) -> None:
    response = client.get(f"/charts/{chart}.csv", query_string={"state": to_token(example_state())})
    assert response.status_code == 200
    assert response.mimetype == "text/csv"
    assert "Invented tablet" in response.get_data(as_text=True)


@pytest.mark.parametrize("chart", ["comparison", "composition", "course"])
def test_charts_for_telephones_and_dark_pages(client: FlaskClient, chart: str) -> None:
    query = {"state": to_token(example_state())}
    looks = [{}, {"layout": "narrow"}, {"theme": "dark"}]
    drawn = [client.get(f"/charts/{chart}.svg", query_string={**query, **look}).data for look in looks]
    assert len(set(drawn)) == len(looks)


def test_the_state_of_the_documentation_is_an_invented_tablet(client: FlaskClient) -> None:
    state = from_token(EXAMPLE_STATE)
    assert state.weight == "34 kg"
    assert [product.name for product in state.products] == ["Plain tablet (invented)"]


@pytest.mark.parametrize("chart", ["comparison", "composition", "course"])
@pytest.mark.parametrize("state", ["broken", to_token(State(weight="34 kg")), to_token(State(weight="34"))])
def test_a_chart_of_nothing_is_a_problem(client: FlaskClient, chart: str, state: str) -> None:
    response = client.get(f"/charts/{chart}.svg", query_string={"state": state})
    assert_problem(response, "invalid-input", names="state")


def test_all_products_of_the_shelter_side_by_side(client: FlaskClient) -> None:
    every = tuple(ProductTexts(one["name"], label(one["id"]), f"{one['price']}", one["currency"]) for one in products())
    page = _text(client.get("/workbench", query_string={"state": to_token(State(weight="34 kg", products=every))}))
    for one in products():
        assert one["name"] in page
