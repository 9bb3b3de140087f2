"""``/care-note``: the form without a program, and its answers."""

from __future__ import annotations

import json
from html import unescape

import pytest
from flask.testing import FlaskClient

from service import demo
from tests.web.asserting import assert_problem

PATH = "/care-note"


def filled_in(page: str) -> str:
    """Give what stands in the field."""
    inside = page.partition("<textarea")[2].partition(">")[2].partition("</textarea>")[0]
    return unescape(inside.removeprefix("\n"))


def test_the_form_holds_an_invented_note(client: FlaskClient) -> None:
    response = client.get(PATH)
    page = response.get_data(as_text=True)
    assert (response.status_code, response.content_type) == (200, "text/html; charset=utf-8")
    assert json.loads(filled_in(page)) == demo.care_note_body()
    assert "what stands below is invented" in page
    assert '<form action="/care-note" method="post"' in page
    assert_problem(client.get(PATH, headers={"Accept": "application/json"}), "not-acceptable")


def test_what_the_form_holds_makes_the_page_of_the_interface(client: FlaskClient) -> None:
    made = client.post(PATH, data={"note": filled_in(client.get(PATH).get_data(as_text=True)), "form": "html"})
    same = client.post("/v1/care-note.html", json=demo.care_note_body())
    assert made.status_code == 200
    assert "Care note: Bramble (invented)" in made.get_data(as_text=True)
    without_navigation = [page.get_data(as_text=True).partition("<main")[2] for page in (made, same)]
    assert without_navigation[0] == without_navigation[1]
    assert made.headers["Cache-Control"] == "no-store"


def test_plain_text_is_the_other_button(client: FlaskClient) -> None:
    note = json.dumps(demo.care_note_body())
    made = client.post(PATH, data={"note": note, "form": "text"})
    assert made.content_type == "text/plain; charset=utf-8"
    assert made.get_data() == client.post("/v1/care-note.txt", json=demo.care_note_body()).get_data()
    assert client.post(PATH, data={"note": note, "form": "pdf"}).content_type == "text/html; charset=utf-8"
    assert client.post(PATH, data={"note": note}).content_type == "text/html; charset=utf-8"


@pytest.mark.parametrize(
    ("note", "place", "message"),
    [
        ("", "", "This is not JSON"),
        ('{"animal": ', "", "This is not JSON"),
        ("[]", "", "must be a JSON object"),
        ('{"animal": {"species": "dog"}}', "products", "is required"),
        ('{"animal": {"species": "dig"}, "products": []}', "animal/species", "nearest: dog"),
        ('{"a": 1, "a": 2}', "a", "given more than once"),
        (
            '{"animal": {"species": "dog"}, "products": [{"phases": [{"units_per_day": 0}]}]}',
            "products",
            "every phase is a pause",
        ),
        (
            '{"animal": {"species": "dog", "weight": "34 kg"}, "products": [{"facts": [], "phases": '
            '[{"mg_per_day": 1, "ingredient": "nosuch"}]}]}',
            "",
            "No ingredient has the id",
        ),
        ('{"animal": {"species": "dog"}, "products": [{"price": 3}]}', "products/0/currency", "given together"),
    ],
)
def test_what_is_wrong_is_told_beside_what_was_sent(client: FlaskClient, note: str, place: str, message: str) -> None:
    response = client.post(PATH, data={"note": note})
    page = response.get_data(as_text=True)
    assert (response.status_code, response.headers["Cache-Control"]) == (200, "no-store")
    assert filled_in(page) == note
    assert 'role="alert"' in page
    assert message in unescape(page)
    assert (f"<code>{place}</code>" in page) == bool(place)
    assert 'aria-invalid="true"' in page


def test_markup_in_what_was_sent_stays_text(client: FlaskClient) -> None:
    note = '</textarea><script>alert(1)</script>{"<b>": 1}'
    page = client.post(PATH, data={"note": note}).get_data(as_text=True)
    assert "<script>" not in page
    assert filled_in(page) == note


def test_what_no_page_may_hold_comes_back_marked(client: FlaskClient) -> None:
    page = client.post(PATH, data={"note": '{"a": "\x01\x1b"}'}).get_data(as_text=True)
    assert filled_in(page) == '{"a": "\ufffd\ufffd"}'


def test_bytes_that_are_no_utf_8_are_no_failure(client: FlaskClient) -> None:
    response = client.post(PATH, data=b"note=%FF%FE", content_type="application/x-www-form-urlencoded")
    assert response.status_code == 200
    assert "This is not JSON" in response.get_data(as_text=True)


def test_how_it_must_be_sent(client: FlaskClient) -> None:
    assert_problem(client.post(PATH, json={}), "unsupported-media-type")
    assert_problem(client.post(PATH, data={"note": "x"}, content_type="multipart/form-data"), "unsupported-media-type")
    assert_problem(client.post(PATH, data={"note": "x" * 300_000}), "body-too-large")
    assert_problem(client.delete(PATH), "method-not-allowed")


def test_every_form_a_note_may_have_fits(client: FlaskClient) -> None:
    products = [{**product, "id": f"p{n}", "units_per_day": 1} for n, product in enumerate((demo.products() * 5)[:50])]
    note = json.dumps({**demo.care_note_body(), "products": products})
    assert client.post(PATH, data={"note": note}).get_data(as_text=True).count('<table class="wrapping given') == 50
