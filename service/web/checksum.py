"""A checksum of what a caller told: the same for bodies that tell the same, however they are written."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from hashlib import sha256
from typing import Any

from marshmallow import Schema, fields, missing

_NOT_TOLD: tuple[object, ...] = (None, [], {})


def canonical(schema: Schema, values: Mapping[str, Any]) -> str:
    """Write a loaded body as JSON with exactly one spelling.

    Parameters
    ----------
    schema
        The schema that loaded it.
    values
        What it loaded.

    Returns
    -------
    str
        Members sorted by name, no blanks, numbers without exponent and trailing zeros, dates as ``YYYY-MM-DD``.
        Members that are null, empty, or what the schema puts in where they are missing are left out.
    """
    return _object(schema, values)


def checksum(schema: Schema, values: Mapping[str, Any]) -> str:
    """Give the SHA-256, in hexadecimal, of the canonical text in UTF-8."""
    return sha256(canonical(schema, values).encode()).hexdigest()


def _object(schema: Schema, values: Mapping[str, Any]) -> str:
    told = {name: value for name, value in values.items() if _is_told(schema.fields[name], value)}
    members = (f"{json.dumps(name)}:{_value(schema.fields[name], told[name])}" for name in sorted(told))
    return f"{{{','.join(members)}}}"


def _is_told(field: fields.Field[Any], value: object) -> bool:
    default = None if field.load_default is missing else field.load_default
    return value not in _NOT_TOLD and (callable(default) or value != default)


def _value(field: fields.Field[Any], value: Any) -> str:  # noqa: ANN401 - whatever the field loads
    if isinstance(field, fields.Nested):
        return _object(field.schema, value)
    if isinstance(field, fields.List):
        return f"[{','.join(_value(field.inner, item) for item in value)}]"
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return json.dumps(value.isoformat() if isinstance(value, date) else value, ensure_ascii=False)
