"""How cells are written for spreadsheets and for people."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.web.csv_output import cell_text, flatten, write_csv
from service.web.html_tables import cell, heading, is_number, marked

_FORMULAS = ["=1+1", "+1", "-1", "@A1", "\t=1", "\r=1", "\n=1", " =1", "\u00a0=1", "\uff1d1", "-", "+", "@", "-5 mg"]
# Blanks, marks and turns of direction that a spreadsheet may not show or may drop, and other shapes of the signs.
_FORMULAS += [f"{unseen}=1" for unseen in "\u200b\ufeff\u200e\u200f\u202a\u202e\u2066\u2069\u2028\u2029\u3000\u2060"]
_FORMULAS += [f"{sign}1" for sign in "\uff1d\ufe66\uff0b\ufe62\uff0d\ufe63\uff20\ufe6b"]
_FORMULAS += [" \t\u200b \ufeff\uff1d1", " =", "==", "=\u200b"]


@pytest.mark.parametrize("text", _FORMULAS)
def test_text_that_would_run_is_neutralised(text: str) -> None:
    assert cell_text(text) == f"'{text}"


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (None, ""),
        (True, "true"),
        (False, "false"),
        (-5, "-5"),
        (-0.5, "-0.5"),
        (34, "34"),
        (1e-7, "0.0000001"),
        (1e22, "10000000000000000000000"),
        (Decimal("1E+3"), "1000"),
        (Decimal("0.10"), "0.10"),
        (["a", "b"], "a;b"),
        (["=a", "b"], "'=a;b"),
        ([], ""),
        ("caf\xe9", "caf\xe9"),
        ("a = b", "a = b"),
        ("=", "="),
        ("<=", "<="),
        (">", ">"),
        ("\u200ba", "\u200ba"),
    ],
)
def test_cells(value: object, written: str) -> None:
    assert cell_text(value) == written


def test_file() -> None:
    data = write_csv(("a", "b"), [("x, y", 'say "z"'), ("two\nlines", None)])
    assert data == b'a,b\r\n"x, y","say ""z"""\r\n"two\nlines",\r\n'


@given(st.lists(st.tuples(st.text(st.characters(codec="utf-8", exclude_characters="\x00")), st.integers())))
def test_any_text_survives(rows: list[tuple[str, int]]) -> None:
    read = list(csv.reader(io.StringIO(write_csv(("t", "n"), rows).decode(), newline="")))
    assert read[0] == ["t", "n"]
    for (text, number), cells in zip(rows, read[1:], strict=True):
        assert cells[0].removeprefix("'") == text.removeprefix("'")
        assert cells[1] == str(number)
        assert cells[0] == "=" or not cells[0].lstrip(" \u00a0").startswith(("=", "+", "-", "@", "\t", "\r"))


def test_nested_members_become_columns() -> None:
    row = {"a": 1, "band": {"from_kg": 1, "to_kg": None}, "targets": [{"x": 1}, {"x": 2}], "flags": ["f"], "none": []}
    assert flatten(row) == {
        "a": 1,
        "band_from_kg": 1,
        "band_to_kg": None,
        "targets_1_x": 1,
        "targets_2_x": 2,
        "flags": ["f"],
        "none": [],
    }


@pytest.mark.parametrize(
    ("column", "written"),
    [
        ("moiety_low_mg", "moiety low (mg)"),
        ("weight_kg", "weight (kg)"),
        ("id", "id"),
        ("days", "days"),
        ("days_low", "days low"),
        ("cost_per_30_days", "cost per 30 days"),
        ("cost_per_g", "cost per g"),
        ("per_g", "per g"),
        ("energy_kcal_per_day", "energy (kcal per day)"),
        ("limit_mg_per_kg", "limit (mg per kg)"),
        ("container_lasts_days", "container lasts (days)"),
    ],
)
def test_headings(column: str, written: str) -> None:
    assert heading(column) == written


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (None, "\u2013"),
        ([], "\u2013"),
        (True, "yes"),
        (False, "no"),
        (0.5, "0.5"),
        (["a", "b"], "a, b"),
        ("x", "x"),
        (0, "0"),
    ],
)
def test_page_cells(value: object, written: str) -> None:
    assert cell(value) == written


def test_numbers_are_set_flush_right() -> None:
    assert is_number(1.5)
    assert not is_number(True)
    assert not is_number("1.5")


def test_code_is_marked_and_all_else_escaped() -> None:
    assert marked("`GET /v1` <b>") == "<code>GET /v1</code> &lt;b&gt;"
