"""Field types for answers: exact types, every member required, nothing unknown.

Answers are written without marshmallow, for speed. These schemas describe them in the OpenAPI
document, and tests hold every answer against them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from marshmallow import Schema, ValidationError, fields, validate


class AnswerSchema(Schema):
    """Base of all answer schemas. In a test an unknown member is an error; callers must expect new members."""


class _ExactNumber(fields.Field[Any]):
    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise ValidationError("is not a finite number")
        return value


class _ExactInteger(fields.Field[Any]):
    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if isinstance(value, bool) or not isinstance(value, int):
            raise ValidationError("is not an integer")
        return value


class _ExactBoolean(fields.Field[Any]):
    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if not isinstance(value, bool):
            raise ValidationError("is not a boolean")
        return value


def _metadata(description: str, example: object, **more: object) -> dict[str, object]:
    examples = {} if example is None else {"examples": [example]}
    return {"description": description, **more, **examples}


def text(
    description: str, *, example: str | None = None, among: Sequence[str] | None = None, nullable: bool = False
) -> fields.Field[Any]:
    """Describe a text member, optionally one word of a fixed list."""
    checks = [validate.OneOf(among)] if among else []
    return fields.String(required=True, allow_none=nullable, validate=checks, metadata=_metadata(description, example))


def number(description: str, *, example: float | None = None, nullable: bool = False) -> fields.Field[Any]:
    """Describe a finite number."""
    return _ExactNumber(required=True, allow_none=nullable, metadata=_metadata(description, example, type="number"))


def integer(description: str, *, example: int | None = None, nullable: bool = False) -> fields.Field[Any]:
    """Describe a whole number."""
    return _ExactInteger(required=True, allow_none=nullable, metadata=_metadata(description, example, type="integer"))


def boolean(description: str, *, nullable: bool = False) -> fields.Field[Any]:
    """Describe true or false."""
    return _ExactBoolean(required=True, allow_none=nullable, metadata=_metadata(description, None, type="boolean"))


def texts(
    description: str, *, example: Sequence[str] | None = None, among: Sequence[str] | None = None
) -> fields.Field[Any]:
    """Describe a list of texts."""
    checks = [validate.OneOf(among)] if among else []
    inner = fields.String(validate=checks)
    return fields.List(inner, required=True, metadata=_metadata(description, list(example) if example else None))


def numbers(description: str) -> fields.Field[Any]:
    """Describe a list of finite numbers."""
    inner = _ExactNumber(metadata={"type": "number"})
    return fields.List(inner, required=True, metadata={"description": description})


def one(schema: type[Schema], description: str, *, nullable: bool = False) -> fields.Field[Any]:
    """Describe a nested object."""
    return fields.Nested(schema, required=True, allow_none=nullable, metadata={"description": description})


def many(schema: type[Schema], description: str) -> fields.Field[Any]:
    """Describe a list of nested objects."""
    return fields.List(fields.Nested(schema), required=True, metadata={"description": description})
