"""Cells become values or are refused with their place; nothing is guessed."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal

import pytest

from service.reference import records
from service.reference.loading import TABLES, TableError, columns, read_table
from tests.reference.small_dataset import SmallDataset


def _text(table: str, *rows: dict[str, str]) -> str:
    names = columns(TABLES[table])
    lines = [",".join(names), *(",".join(row.get(name, "") for name in names) for row in rows)]
    return "\n".join(lines) + "\n"


LIMIT = {
    "id": "a",
    "ingredient_id": "b",
    "species": "dog",
    "kind": "c",
    "amount": "0.50",
    "unit": "mg",
    "basis": "per_day",
    "enforced": "true",
    "source_id": "s",
    "more_source_ids": "t;u",
    "origin": "read",
}


def test_every_table_of_the_design_has_a_record() -> None:
    names = (
        "sources ingredients ingredient_groups names forms regimens guidance limits evidence beliefs hazards "
        "hazard_thresholds content_factors medications drug_classes conditions interactions units"
    )
    assert set(TABLES) == set(names.split())


@pytest.mark.parametrize("table", TABLES)
def test_where_a_fact_comes_from_stands_last(table: str) -> None:
    names = columns(TABLES[table])
    assert set(names) == {field.name for field in fields(TABLES[table])}
    if table != "sources":
        assert names[-4:] == ("source_id", "more_source_ids", "locator", "origin")


def test_cells_become_values_of_the_declared_types() -> None:
    (row,) = read_table("limits", _text("limits", LIMIT))
    assert isinstance(row, records.Limit)
    assert (row.amount, str(row.amount), row.enforced) == (Decimal("0.5"), "0.50", True)
    assert row.source_ids == ("s", "t", "u")


def test_an_empty_cell_is_nothing_and_never_zero() -> None:
    (row,) = read_table("limits", _text("limits", {**LIMIT, "amount": "", "more_source_ids": ""}))
    assert (row.amount, row.note, row.locator, row.more_source_ids) == (None, None, None, ())


@pytest.mark.parametrize(
    "cell",
    ["NaN", "nan", "inf", "-Infinity", "1_0", "1e3", "1,5", " 1", "1 ", "+1", ".5", "5.", "٣", "0x10", "1000 mg"],
)
def test_only_plain_decimals_are_numbers(cell: str) -> None:
    row = {**LIMIT, "amount": f'"{cell}"'}
    with pytest.raises(TableError, match=r"limits line 2, amount: .* is not a plain decimal number"):
        read_table("limits", _text("limits", row))


@pytest.mark.parametrize("cell", ["1.0", "1_0", "one", "٣", " 1"])
def test_only_plain_digits_are_whole_numbers(cell: str, dataset: SmallDataset) -> None:
    dataset.set("regimens", 0, time_to_effect_days_high=cell)
    with pytest.raises(TableError, match=r"regimens line 2, time_to_effect_days_high: .* is not a whole number"):
        read_table("regimens", dataset.path("regimens").read_text("utf-8"))


@pytest.mark.parametrize("cell", ["True", "1", "yes", " true"])
def test_only_two_words_are_booleans(cell: str) -> None:
    with pytest.raises(TableError, match=r"limits line 2, enforced: .* is neither true nor false"):
        read_table("limits", _text("limits", {**LIMIT, "enforced": cell}))


@pytest.mark.parametrize("cell", ["a;", ";a", "a;;b", "a; b", "a ;b"])
def test_lists_have_no_empty_or_padded_items(cell: str) -> None:
    with pytest.raises(TableError, match=r"limits line 2, more_source_ids: .* empty or padded list item"):
        read_table("limits", _text("limits", {**LIMIT, "more_source_ids": cell}))


@pytest.mark.parametrize("column", ["id", "unit", "enforced", "source_id", "origin"])
def test_a_required_cell_must_not_be_empty(column: str) -> None:
    with pytest.raises(TableError, match=f"limits line 2, {column}: must not be empty"):
        read_table("limits", _text("limits", {**LIMIT, column: ""}))


def test_the_line_of_a_bad_row_is_named() -> None:
    with pytest.raises(TableError, match="limits line 3, amount"):
        read_table("limits", _text("limits", LIMIT, {**LIMIT, "amount": "x"}))


@pytest.mark.parametrize(
    ("old", "new"),
    [("id,ingredient_id", "ingredient_id,id"), (",origin", ""), (",origin", ",origin,extra"), ("unit", "Unit")],
)
def test_another_header_is_refused(old: str, new: str) -> None:
    text = _text("limits", LIMIT).replace(old, new, 1)
    with pytest.raises(TableError, match="limits: the header is"):
        read_table("limits", text)


def test_an_empty_file_has_no_header() -> None:
    with pytest.raises(TableError, match=r"limits: the header is \[\]"):
        read_table("limits", "")


@pytest.mark.parametrize("change", [",surplus\n", "\n\n"])
def test_a_row_of_another_length_is_refused(change: str) -> None:
    text = _text("limits", LIMIT)[:-1] + change
    with pytest.raises(TableError, match=r"limits line \d: \d+ cells, expected 13"):
        read_table("limits", text)
