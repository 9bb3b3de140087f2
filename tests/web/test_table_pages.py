"""How a table is laid out for people."""

from __future__ import annotations

import re

import pytest
from flask.testing import FlaskClient

from service.web.html_tables import is_long
from service.web.table_pages import MOST_ROWS_ON_A_PAGE, Layout, plain_layout, words
from tests.web.invented import DOSE

LONG = "A sentence that is far too long to stand in a cell of a table beside other cells."


def test_sentences_go_under_the_table() -> None:
    rows = [{"id": "a", "mg": 1, "why": LONG, "note": "short"}, {"id": "b", "mg": 2, "why": None, "note": None}]
    page = plain_layout(("id", "mg", "why", "note"), rows).page(rows)
    assert page.columns == ("id", "mg")
    assert [row.cells for row in page.rows] == [("a", 1), ("b", 2)]
    assert page.rows[0].texts == (("why", LONG), ("note", "short"))
    assert page.rows[1].texts == ()
    assert page.has_notes


def test_one_long_name_leaves_a_column_where_it_is() -> None:
    rows = [{"id": "a", "name": "a name of more than forty-four characters, alone"}, *({"id": "b", "name": "x"},) * 5]
    page = plain_layout(("id", "name"), rows).page(rows)
    assert page.columns == ("id", "name")
    assert not page.has_notes


def test_the_first_column_names_the_row() -> None:
    rows = [{"note": LONG * 3}]
    page = plain_layout(("note",), rows).page(rows)
    assert page.columns == ("note",)
    assert page.rows[0].name == LONG * 3


def test_an_empty_column_is_left_out_and_another_can_name_the_row() -> None:
    layout = Layout((("rank", lambda row: row["rank"]), ("name", lambda row: row["name"])), name="name")
    page = layout.page([{"rank": None, "name": "p"}])
    assert page.columns == ("name",)
    assert page.rows[0].name == "p"


def test_a_page_has_an_end() -> None:
    rows = [{"id": number} for number in range(MOST_ROWS_ON_A_PAGE + 1)]
    page = plain_layout(("id",), rows).page(rows)
    assert len(page.rows) == MOST_ROWS_ON_A_PAGE
    assert page.row_count == MOST_ROWS_ON_A_PAGE + 1


def test_no_rows_no_columns() -> None:
    page = plain_layout(("id",), []).page([])
    assert page.rows == ()
    assert page.columns == ()


@pytest.mark.parametrize(
    ("text", "long"), [("short", False), ("a" * 37, True), (["a" * 20, "b" * 20], True), (1, False)]
)
def test_long_cells_may_break(text: object, long: bool) -> None:
    assert is_long(text) == long


def test_words_for_people() -> None:
    assert words("nothing_found") == "nothing found"
    assert words(None) is None


def cells_of(page: str) -> list[str]:
    """Give the texts of the cells of a page."""
    return re.findall(r"<td[^>]*>(.*?)</td>", page, re.DOTALL)


def test_dose_page_says_the_evidence_once(client: FlaskClient) -> None:
    summary = client.get("/v1/dose", query_string=DOSE).get_json()["evidence"]["summary"]
    page = client.get("/v1/dose.html", query_string=DOSE).get_data(as_text=True)
    assert page.count(summary[:60]) == 1
    assert page.count("not a prescription") == 1
    assert "1000 to 2000" in cells_of(page)
    assert max(map(len, cells_of(page))) < 60


@pytest.mark.parametrize("table", ["limits", "interactions", "hazard_thresholds", "regimens"])
def test_cells_of_the_dataset_are_short_and_nothing_is_lost(client: FlaskClient, table: str) -> None:
    page = client.get(f"/v1/dataset/1.0.0/{table}.html").get_data(as_text=True)
    assert max(map(len, cells_of(page))) < 160
    row = client.get(f"/v1/dataset/1.0.0/{table}.json").get_json()["rows"][0]
    for value in row.values():
        if isinstance(value, str) and not re.search(r"[<>&'\"]", value):
            assert value in page


def test_every_note_is_linked_there_and_back(client: FlaskClient) -> None:
    page = client.get("/v1/dataset/1.0.0/limits.html").get_data(as_text=True)
    notes = set(re.findall(r'id="(note-[0-9]+)"', page))
    rows = set(re.findall(r'id="(row-[0-9]+)"', page))
    linked = set(re.findall(r'href="#([a-z]+-[0-9]+)"', page))
    assert notes
    assert notes <= linked <= notes | rows
