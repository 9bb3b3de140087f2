"""What all request schemas and their fields share."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, ClassVar, TypedDict, Unpack

from marshmallow import RAISE, Schema, ValidationError, fields

_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff]")
MESSAGES: dict[str, str | list[Any] | dict[Any, Any]] = {
    "required": "is required",
    "null": "must not be null; leave it out instead",
}


class Presence(TypedDict, total=False):
    """Whether a member must be given, may be null, and what stands for it where it is not given."""

    required: bool
    allow_none: bool
    load_default: object


class Options(Presence, total=False):
    """Presence, and an example for the OpenAPI document."""

    example: object


class RequestSchema(Schema):
    """Base of all request schemas: an unknown member is an error."""

    # Members that may come along and are not used.
    also_accepted: ClassVar[frozenset[str]] = frozenset()
    error_messages = {"unknown": "unknown", "type": "must be an object"}  # noqa: RUF012 - marshmallow's own interface

    class Meta:
        """Refuse what is not listed."""

        unknown = RAISE


class RequestField(fields.Field[Any]):
    """Base of the scalar request fields."""

    default_error_messages = MESSAGES

    def __init__(
        self, description: str, *, schema: Mapping[str, object], example: object = None, **more: Unpack[Presence]
    ) -> None:
        metadata = {"description": description, **schema}
        if example is not None:
            metadata["examples"] = [example]
        super().__init__(metadata=metadata, **more)

    def from_text(self, text: str) -> object:
        """Read the value from a query; a field that only stands in bodies has no such reading."""
        raise TypeError(f"{type(self).__name__} cannot be read from a query")

    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if not isinstance(value, str):
            raise ValidationError("must be a text")
        return self.from_text(value)


def shown(value: str) -> str:
    """Quote a caller's text for an error message, shortened and with everything unprintable escaped."""
    return ascii(value if len(value) <= 40 else value[:37] + "...")


def forbidden_character(text: str) -> str | None:
    """Name the first character that no text may hold (control characters, halves of surrogate pairs)."""
    found = _FORBIDDEN.search(text)
    return f"U+{ord(found[0]):04X}" if found else None
