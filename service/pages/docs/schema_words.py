"""What a schema of the OpenAPI document allows, in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Schema = Mapping[str, Any]

_KINDS = {
    "string": ("text", "texts"),
    "number": ("number", "numbers"),
    "integer": ("whole number", "whole numbers"),
    "boolean": ("true or false", "true or false"),
    "object": ("object", "objects"),
}
# Of the patterns only this one tells a caller more than that control characters are refused.
_PATTERN_WORDS = {"^[A-Z]{3}$": "three capital letters"}
_SOMETHING = "anything"


def kinds_of(schema: Schema) -> tuple[str, ...]:
    """Give the JSON types a schema allows, ``null`` left out."""
    named = schema.get("type", ())
    every = (named,) if isinstance(named, str) else tuple(named)
    return tuple(kind for kind in every if kind != "null")


def may_be_null(schema: Schema) -> bool:
    """Say whether ``null`` is allowed."""
    named = schema.get("type", ())
    return "null" in ((named,) if isinstance(named, str) else named) or any(
        may_be_null(below) for below in schema.get("anyOf", ())
    )


def kind_words(schema: Schema, item: Schema | None = None) -> str:
    """Name what a value is.

    Parameters
    ----------
    schema
        Its schema, references followed.
    item
        Schema of the entries, where it is a list.

    Returns
    -------
    str
        For example ``list of texts, or null``.
    """
    if item is not None:
        words = f"list of {_named(item, 1)}"
    else:
        words = _named(schema, 0)
    return f"{words}, or null" if may_be_null(schema) else words


def _named(schema: Schema, number: int) -> str:
    return " or ".join(_KINDS[kind][number] for kind in kinds_of(schema)) or _SOMETHING


def choices(schema: Schema) -> tuple[str, ...]:
    """Give the words that a value is one of; none where it is free."""
    return tuple(str(value) for value in schema.get("enum", ()) if value is not None)


def limits(schema: Schema) -> str:
    """Say what bounds a value; empty where nothing does."""
    found = (
        _between(schema.get("minimum"), schema.get("maximum"), ""),
        f"more than {_number(schema['exclusiveMinimum'])}" if "exclusiveMinimum" in schema else "",
        _between(schema.get("minLength") or None, schema.get("maxLength"), "characters"),
        _between(schema.get("minItems") or None, schema.get("maxItems"), "entries"),
        _PATTERN_WORDS.get(schema.get("pattern", ""), ""),
    )
    return ", ".join(words for words in found if words)


def _between(low: float | None, high: float | None, of: str) -> str:
    if low is not None and high is not None:
        words = _number(low) if low == high else f"{_number(low)} to {_number(high)}"
    elif high is not None:
        words = f"at most {_number(high)}"
    elif low is not None:
        words = f"at least {_number(low)}"
    else:
        return ""
    return f"{words} {of}".rstrip()


def _number(value: float) -> str:
    return f"{value:,}"
