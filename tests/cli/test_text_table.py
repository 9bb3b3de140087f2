"""Text tables: numbers as people write them, columns that fit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.cli.text_table import WIDTH, number, paragraph, span, table


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (None, "-"),
        (0, "0"),
        (1, "1"),
        (0.5, "0.5"),
        (830.9, "830.9"),
        (1661.8, "1,662"),
        (12345678, "12,345,678"),
        (0.00028912, "0.0002891"),
        (-2.5, "-2.5"),
        (100, "100"),
    ],
)
def test_number(value: float | None, written: str) -> None:
    assert number(value) == written


def test_span_is_one_number_where_both_ends_agree() -> None:
    assert span(500, 1000) == "500 to 1,000"
    assert span(500, 500) == "500"


def test_numbers_align_right_and_words_left() -> None:
    lines = table(("what", "mg"), [("a", "1,000"), ("longer", "5")], indent="").splitlines()
    assert lines == ["what       mg", "------  -----", "a       1,000", "longer      5"]


def test_no_rows() -> None:
    assert "nothing" in table(("a",), [])


@given(st.lists(st.tuples(*[st.text(alphabet="abc xyz", max_size=120)] * 4), min_size=1, max_size=5))
def test_no_line_is_wider_than_a_terminal_and_no_letter_is_lost(rows: list[tuple[str, ...]]) -> None:
    text = table(("a", "b", "c", "d"), rows)
    assert max(map(len, text.splitlines())) <= WIDTH
    kept = text.replace("-", "")
    for letter in "xyz":
        assert kept.count(letter) == sum(cell.count(letter) for row in rows for cell in row)


def test_paragraph_hangs_below_its_bullet() -> None:
    lines = paragraph("word " * 40, bullet="! ", width=50).splitlines()
    assert lines[0].startswith("   ! word")
    assert all(line.startswith("     word") for line in lines[1:])
