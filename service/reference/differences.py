"""What changed between two sets of tables, cell by cell, and the least version that may carry it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import pandas as pd

from service.reference.loading import TABLES
from service.reference.table_columns import row_key

Frames = Mapping[str, pd.DataFrame]
Bump = Literal["major", "minor", "patch", "none"]
_ORDER: tuple[Bump, ...] = ("none", "patch", "minor", "major")


@dataclass(frozen=True, slots=True)
class ChangedCell:
    """One cell with another text; ``source_id`` is that of the new row."""

    row: str
    column: str
    old: str
    new: str
    source_id: str


@dataclass(frozen=True, slots=True)
class TableDifference:
    """What changed in one table."""

    table: str
    columns_changed: bool
    added: tuple[str, ...]
    withdrawn: tuple[str, ...]
    cells: tuple[ChangedCell, ...]

    @property
    def bump(self) -> Bump:
        """Least part of the version that must rise."""
        if self.columns_changed or any((self.table, cell.column) in _CHANGED_MEANING for cell in self.cells):
            return "major"
        if self.added or self.withdrawn:
            return "minor"
        return "patch" if self.cells else "none"


# The README counts a changed rule of guidance as a change of meaning.
_CHANGED_MEANING = frozenset({("guidance", "rule_id"), ("guidance", "basis")})


def read_frames(directory: Path) -> dict[str, pd.DataFrame]:
    """Read all tables of a dataset or release as text, empty cells as empty text.

    Parameters
    ----------
    directory
        Dataset or release that holds ``tables``.

    Returns
    -------
    dict
        A frame per table that exists, by its name.
    """
    paths = {table: directory / "tables" / f"{table}.csv" for table in TABLES}
    return {
        table: pd.read_csv(path, dtype=str, keep_default_na=False, encoding="utf-8")
        for table, path in paths.items()
        if path.is_file()
    }


def least_bump(old_tables: Frames, new_tables: Frames) -> Bump:
    """Least part of the version that must rise from one set of tables to another.

    Parameters
    ----------
    old_tables, new_tables
        Tables as text by name, as :func:`read_frames` gives them.

    Returns
    -------
    str
        ``major`` where a column or rule changed or a table went, ``minor`` where a table or row came or a row was
        withdrawn, ``patch`` where cells changed, ``none`` where nothing did.
    """
    found: list[Bump] = [difference.bump for difference in differences(old_tables, new_tables)]
    if old_tables.keys() - new_tables.keys():
        found.append("major")
    if new_tables.keys() - old_tables.keys():
        found.append("minor")
    return max(found, key=_ORDER.index, default="none")


def next_version(version: str, bump: Bump) -> str:
    """Lowest version that a bump allows; the lowest above the old one where nothing changed in the tables.

    Parameters
    ----------
    version
        For example ``1.0.0``.
    bump
        ``major``, ``minor``, ``patch`` or none.

    Returns
    -------
    str
        Three numbers joined with points.
    """
    major, minor, patch = map(int, version.split("."))
    if bump == "major":
        return f"{major + 1}.0.0"
    return f"{major}.{minor + 1}.0" if bump == "minor" else f"{major}.{minor}.{patch + 1}"


def differences(old_tables: Frames, new_tables: Frames) -> tuple[TableDifference, ...]:
    """Compare the tables that both sets have, and name only those that differ.

    Parameters
    ----------
    old_tables, new_tables
        Tables as text by name, as :func:`read_frames` gives them.

    Returns
    -------
    tuple of TableDifference
        In the order of the tables.
    """
    both = [table for table in TABLES if table in old_tables and table in new_tables]
    found = (_difference(table, old_tables[table], new_tables[table]) for table in both)
    return tuple(one for one in found if one.bump != "none")


def _difference(table: str, old: pd.DataFrame, new: pd.DataFrame) -> TableDifference:
    key = list(row_key(table))
    if not set(key) <= set(old.columns) & set(new.columns):
        return TableDifference(table, True, (), (), ())
    before, after = _keyed(old, key), _keyed(new, key)
    common = before.index.intersection(after.index, sort=False)
    shared = [column for column in after.columns if column in before.columns]
    left, right = before.loc[common, shared], after.loc[common, shared]
    changed = left.ne(right)
    cells = tuple(
        ChangedCell(
            row=str(row),
            column=str(column),
            old=str(left.at[row, column]),
            new=str(right.at[row, column]),
            source_id=str(after.at[row, "source_id"]) if "source_id" in after.columns else str(row),
        )
        for row, marks in changed[changed.any(axis=1)].iterrows()
        for column in marks[marks].index
    )
    return TableDifference(
        table=table,
        columns_changed=list(old.columns) != list(new.columns),
        added=tuple(map(str, after.index.difference(before.index, sort=False))),
        withdrawn=tuple(map(str, before.index.difference(after.index, sort=False))),
        cells=cells,
    )


def _keyed(frame: pd.DataFrame, key: list[str]) -> pd.DataFrame:
    """Index the rows by their key, written as one text."""
    labels = [" + ".join(cells) for cells in frame[key].itertuples(index=False)]
    return frame.set_axis(pd.Index(labels, dtype=object), axis=0)
