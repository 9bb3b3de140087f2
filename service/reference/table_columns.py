"""What the record classes demand of each column: its type, whether it may be empty, its words and its keys.

The descriptor ``datapackage.json`` says the same to readers without this code; ``audit_descriptor`` holds them equal.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from service.reference import vocabulary
from service.reference.checking import FOREIGN_KEYS
from service.reference.loading import TABLES, columns
from service.reference.records import Fact

LIST = tuple[str, ...]
_TYPES: Mapping[object, str] = {str: "string", LIST: "string", Decimal: "number", int: "integer", bool: "boolean"}
# Tables whose rows are not known by a column `id`.
_KEYS: Mapping[str, tuple[str, ...]] = {
    "evidence": ("ingredient_id",),
    "names": ("name", "target_kind", "target_id", "match_mode"),
    "units": ("alias",),
}
# `target_id` of a name may be empty, and a primary key may not: there the key is one of the unique keys.
_WITHOUT_PRIMARY_KEY = ("names",)


@dataclass(frozen=True, slots=True)
class Column:
    """One column as the record class declares it; ``type`` is a word of Table Schema."""

    name: str
    type: str
    required: bool
    is_list: bool
    words: tuple[str, ...]


@cache
def columns_of(table: str) -> tuple[Column, ...]:
    """Columns of a table in file order.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    tuple of Column
        Name, type and vocabulary of each.
    """
    hints = typing.get_type_hints(TABLES[table])
    return tuple(_column(table, name, hints[name]) for name in columns(TABLES[table]))


def _column(table: str, name: str, hint: object) -> Column:
    optional = isinstance(hint, types.UnionType)
    kind = typing.get_args(hint)[0] if optional else hint
    is_list = kind == LIST
    words = vocabulary.ORIGINS if name == "origin" else vocabulary.WORDS.get((table, name), ())
    return Column(name, _TYPES[kind], not optional and not is_list, is_list, words)


def row_key(table: str) -> tuple[str, ...]:
    """Columns that together name one row.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    tuple of str
        Column names.
    """
    return _KEYS.get(table, ("id",))


def primary_key(table: str) -> tuple[str, ...]:
    """Columns that name one row and are never empty; none where the key has an optional part.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    tuple of str
        Column names.
    """
    return () if table in _WITHOUT_PRIMARY_KEY else row_key(table)


def foreign_keys(table: str) -> dict[str, str]:
    """Single-valued columns and the table whose key each of them must hold; lists cannot be put so.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    dict
        Table by column name.
    """
    lists = {column.name for column in columns_of(table) if column.is_list}
    found = {
        column: target for (owner, column), target in FOREIGN_KEYS.items() if owner == table and column not in lists
    }
    if issubclass(TABLES[table], Fact):
        found["source_id"] = "sources"
    return found


def resource_name(table: str) -> str:
    """Name of a table in the descriptor.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    str
        With hyphens for underscores.
    """
    return table.replace("_", "-")
