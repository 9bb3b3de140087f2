"""Frozen dataclasses to plain JSON values, fast: field names are looked up once per class."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from functools import cache
from operator import attrgetter
from typing import Any

_PLAIN: frozenset[type] = frozenset((str, int, bool, type(None), float))
_encode = json.JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"), check_circular=False).encode


def to_wire(value: object) -> Any:
    """Convert a domain value to what JSON can hold.

    Parameters
    ----------
    value
        A dataclass, tuple, list, mapping, ``Decimal``, or a plain value.

    Returns
    -------
    object
        Dicts and lists of plain values; a whole ``Decimal`` becomes an ``int``, another a ``float``.
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


def _from_sequence(value: Any) -> list[Any]:
    return [item if type(item) in _PLAIN else to_wire(item) for item in value]


def _from_mapping(value: Mapping[str, Any]) -> dict[str, Any]:
    return {key: to_wire(item) for key, item in value.items()}


def _converter_for(kind: type) -> Callable[[Any], Any]:
    if not is_dataclass(kind):
        raise TypeError(f"{kind.__name__} has no wire form")
    names = field_names(kind)
    if len(names) == 1:
        return lambda value: {names[0]: to_wire(getattr(value, names[0]))}
    get_all = attrgetter(*names)

    def convert(value: Any) -> dict[str, Any]:
        return {
            name: item if type(item) in _PLAIN else to_wire(item)
            for name, item in zip(names, get_all(value), strict=True)
        }

    return convert


_converters: dict[type, Callable[[Any], Any]] = {
    Decimal: _from_decimal,
    tuple: _from_sequence,
    list: _from_sequence,
    dict: _from_mapping,
}
