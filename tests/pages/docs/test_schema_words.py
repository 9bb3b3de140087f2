"""What a schema allows, in words."""

from __future__ import annotations

from typing import Any

import pytest

from service.pages.docs.schema_words import choices, kind_words, kinds_of, limits, may_be_null


@pytest.mark.parametrize(
    ("schema", "words"),
    [
        ({"type": "string"}, "text"),
        ({"type": ["number", "null"]}, "number, or null"),
        ({"type": "integer"}, "whole number"),
        ({"type": "boolean"}, "true or false"),
        ({"type": ["string", "number"]}, "text or number"),
        ({"type": "object", "anyOf": [{"$ref": "#/x"}, {"type": "null"}]}, "object, or null"),
        ({}, "anything"),
    ],
)
def test_kinds(schema: dict[str, Any], words: str) -> None:
    assert kind_words(schema) == words


def test_kind_of_a_list_is_that_of_its_entries() -> None:
    assert kind_words({"type": "array"}, {"type": "string"}) == "list of texts"
    assert kind_words({"type": ["array", "null"]}, {"type": "object"}) == "list of objects, or null"


def test_null_is_no_kind() -> None:
    assert kinds_of({"type": ["string", "null"]}) == ("string",)
    assert may_be_null({"type": "null"})
    assert not may_be_null({"type": "string"})


@pytest.mark.parametrize(
    ("schema", "words"),
    [
        ({"minimum": 0.1, "maximum": 120}, "0.1 to 120"),
        ({"minimum": 0, "maximum": 40}, "0 to 40"),
        ({"minimum": 3}, "at least 3"),
        ({"maximum": 10_000_000}, "at most 10,000,000"),
        ({"exclusiveMinimum": 0, "maximum": 9}, "at most 9, more than 0"),
        ({"minLength": 1, "maxLength": 60}, "1 to 60 characters"),
        ({"minLength": 0, "maxLength": 60}, "at most 60 characters"),
        ({"minItems": 2, "maxItems": 2}, "2 entries"),
        ({"pattern": "^[A-Z]{3}$"}, "three capital letters"),
        ({"pattern": "^[^\\u0000-\\u001f]+$"}, ""),
        ({}, ""),
    ],
)
def test_limits(schema: dict[str, Any], words: str) -> None:
    assert limits(schema) == words


def test_choices_leave_null_out() -> None:
    assert choices({"enum": ["dog", "cat", None]}) == ("dog", "cat")
    assert choices({"type": "string"}) == ()
