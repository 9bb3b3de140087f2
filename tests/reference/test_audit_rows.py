"""Rows held against each other: each check by itself, on records instead of files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from service.reference.audit_rows import check_rows
from service.reference.releases import load_working_tables
from tests.reference.small_dataset import SmallDataset

Rows = dict[str, tuple[Any, ...]]


@pytest.fixture
def tables(dataset: SmallDataset) -> Rows:
    """Load the small dataset."""
    return dict(load_working_tables(dataset.directory).tables)


def test_the_small_dataset_contradicts_nothing(tables: Rows) -> None:
    assert check_rows(tables) == ()


def _unused_source(tables: Rows) -> None:
    tables["sources"] += (replace(tables["sources"][0], id="zz-9", note=None),)


def _wrong_amount(tables: Rows) -> None:
    row = tables["guidance"][0]
    tables["guidance"] = (replace(row, amount_high=row.amount_high + 1), *tables["guidance"][1:])


def _wrong_check_digit(tables: Rows) -> None:
    tables["hazards"] = (replace(tables["hazards"][0], cas="87-99-1"), *tables["hazards"][1:])


def _no_names(tables: Rows) -> None:
    tables["names"] = ()


@pytest.mark.parametrize(
    ("spoil", "defect"),
    [
        (_unused_source, "sources zz-9: no row uses it"),
        (_wrong_amount, "its rule gives"),
        (_wrong_check_digit, "the check digit of CAS 87-99-1 is wrong"),
        (_no_names, "ingredients glucosamine: no name leads to it"),
    ],
)
def test_a_contradiction_is_named(tables: Rows, spoil: Callable[[Rows], None], defect: str) -> None:
    spoil(tables)
    assert any(defect in found for found in check_rows(tables))


def test_a_source_that_backs_a_convention_needs_no_row(tables: Rows) -> None:
    tables["sources"] += (replace(tables["sources"][0], id="zz-9", note="used for: how labels count spoons"),)
    assert check_rows(tables) == ()
