"""Frozen dataclasses to plain JSON values, fast: field names are looked up once per class."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from operator import attrgetter
from typing import Any, TypeAlias, get_type_hints

# Any JSON value: its shape is told by a schema, not by a type.
Json: TypeAlias = Any
_PLAIN: frozenset[type] = frozenset((str, int, bool, type(None), float))
_PLAIN_HINTS = (str, int, bool, str | None, int | None, bool | None)
_encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"), check_circular=False).encode


def to_wire(value: object) -> Json:
    """Convert a domain value to what JSON can hold.

    Parameters
    ----------
    value
        A dataclass, tuple, list, mapping, ``Decimal``, or a plain value.

    Returns
    -------
    object
        Dicts and lists of plain values; a whole ``Decimal`` becomes an ``int``, another a ``float``, a date a text.
    """
    kind = type(value)
    if kind in _PLAIN:
        return value
    convert = _converters.get(kind)
    if convert is None:
        convert = _converters[kind] = _converter_for(kind)
    return convert(value)


def dump(value: object) -> str:
    """Write plain values as compact JSON; refuses NaN and infinity."""
    return _encode(value)


@cache
def field_names(record: type[Any]) -> tuple[str, ...]:
    """Names of a dataclass's fields, which are its wire names."""
    return tuple(field.name for field in fields(record))


def _from_decimal(value: Decimal) -> int | float:
    number = float(value)
    return int(value) if number.is_integer() else number


def _from_sequence(value: Iterable[object]) -> list[Json]:
    return [item if type(item) in _PLAIN else to_wire(item) for item in value]


def _from_mapping(value: Mapping[str, object]) -> dict[str, Json]:
    return {key: to_wire(item) for key, item in value.items()}


def _converter_for(kind: type) -> Callable[[Any], Json]:
    if not is_dataclass(kind):
        raise TypeError(f"{kind.__name__} has no wire form")
    names = field_names(kind)
    hints = get_type_hints(kind)
    # What is declared plain is plain (mypy holds the domain to it), so only the other fields are looked at each time.
    to_convert = tuple(name for name in names if hints[name] not in _PLAIN_HINTS)
    get_all = attrgetter(*names, "__class__")  # one more, so that a single field is given as a tuple too

    def convert(value: object) -> dict[str, Json]:
        members = dict(zip(names, get_all(value), strict=False))
        for name in to_convert:
            item = members[name]
            if type(item) not in _PLAIN:
                members[name] = to_wire(item)
        return members

    return convert


_converters: dict[type, Callable[[Any], Json]] = {
    Decimal: _from_decimal,
    date: date.isoformat,
    tuple: _from_sequence,
    list: _from_sequence,
    dict: _from_mapping,
}
