"""Reading the CSV tables of a release into records, on purpose and cell by cell."""

from __future__ import annotations

import csv
import io
import re
import types
import typing
from collections.abc import Callable
from dataclasses import fields
from decimal import Decimal
from typing import Any

from service.reference import records

TABLES: dict[str, type[Any]] = {
    "sources": records.Source,
    "ingredients": records.Ingredient,
    "ingredient_groups": records.IngredientGroup,
    "names": records.Name,
    "forms": records.Form,
    "regimens": records.Regimen,
    "guidance": records.Guidance,
    "limits": records.Limit,
    "evidence": records.Evidence,
    "beliefs": records.Belief,
    "hazards": records.Hazard,
    "hazard_thresholds": records.Threshold,
    "content_factors": records.ContentFactor,
    "medications": records.Medication,
    "drug_classes": records.DrugClass,
    "conditions": records.Condition,
    "interactions": records.Interaction,
    "units": records.Unit,
}
_FACT_COLUMNS = tuple(field.name for field in fields(records.Fact))
_DECIMAL = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
_INTEGER = re.compile(r"-?[0-9]+")


class TableError(ValueError):
    """A cell or header of a table cannot be what the table promises."""


def _decimal(cell: str) -> Decimal:
    if not _DECIMAL.fullmatch(cell):
        raise ValueError("is not a plain decimal number")
    return Decimal(cell)


def _integer(cell: str) -> int:
    if not _INTEGER.fullmatch(cell):
        raise ValueError("is not a whole number")
    return int(cell)


def _boolean(cell: str) -> bool:
    if cell not in ("true", "false"):
        raise ValueError("is neither true nor false")
    return cell == "true"


def _list(cell: str) -> tuple[str, ...]:
    items = tuple(cell.split(";"))
    if any(not item or item != item.strip() for item in items):
        raise ValueError("has an empty or padded list item")
    return items


_CONVERTERS: dict[object, Callable[[str], object]] = {
    str: str,
    Decimal: _decimal,
    int: _integer,
    bool: _boolean,
    tuple[str, ...]: _list,
}


def columns(record: type[Any]) -> tuple[str, ...]:
    """Column names of a table in file order: the facts of the row, then where they come from.

    Parameters
    ----------
    record
        A dataclass of :mod:`service.reference.records`.

    Returns
    -------
    tuple of str
        As the header of the file has them.
    """
    names = tuple(field.name for field in fields(record))
    if not issubclass(record, records.Fact):
        return names
    return tuple(name for name in names if name not in _FACT_COLUMNS) + _FACT_COLUMNS


def _plan(record: type[Any]) -> list[tuple[str, Callable[[str], object], object]]:
    """For each column: its name, its converter, and what an empty cell becomes (``...`` = not allowed)."""
    hints = typing.get_type_hints(record)
    plan = []
    for name in columns(record):
        kind = hints[name]
        empty: object = ...
        if isinstance(kind, types.UnionType):
            kind = typing.get_args(kind)[0]
            empty = None
        elif kind == tuple[str, ...]:
            empty = ()
        plan.append((name, _CONVERTERS[kind], empty))
    return plan


def read_table(table: str, text: str) -> tuple[Any, ...]:
    """Turn the text of one CSV table into records.

    Parameters
    ----------
    table
        Name of the table, a key of ``TABLES``.
    text
        The whole file.

    Returns
    -------
    tuple
        One record per row, in file order.

    Raises
    ------
    TableError
        If the header differs from the record's columns or a cell cannot be converted; names row and column.
    """
    record = TABLES[table]
    plan = _plan(record)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    header = next(reader, [])
    if header != [name for name, _, _ in plan]:
        raise TableError(f"{table}: the header is {header}, expected {[name for name, _, _ in plan]}")
    return tuple(_read_row(table, record, plan, number, row) for number, row in enumerate(reader, start=2))


def _read_row(
    table: str, record: type[Any], plan: list[tuple[str, Callable[[str], object], object]], number: int, row: list[str]
) -> object:
    if len(row) != len(plan):
        raise TableError(f"{table} line {number}: {len(row)} cells, expected {len(plan)}")
    values: dict[str, object] = {}
    for (name, convert, empty), cell in zip(plan, row, strict=True):
        if cell == "":
            if empty is ...:
                raise TableError(f"{table} line {number}, {name}: must not be empty")
            values[name] = empty
            continue
        try:
            values[name] = convert(cell)
        except ValueError as error:
            raise TableError(f"{table} line {number}, {name}: {cell!r} {error}") from error
    return record(**values)
