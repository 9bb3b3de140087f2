"""Field types for requests that refuse rather than guess.

Each knows two readings: ``from_text`` for a query value and marshmallow's ``_deserialize`` for a
member of a JSON body, where a number must be a JSON number. Limits are stated in ``metadata``, so the
OpenAPI document shows exactly what is enforced here.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, Unpack, cast

from marshmallow import Schema, ValidationError, fields

from service.domain.suggesting import nearest_ids
from service.schemas.request_base import MESSAGES, Options, Presence, RequestField, forbidden_character, shown

_LINE_BREAK = re.compile(r"[\t\n\r]")
_PLAIN_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?", re.ASCII)
_SINGLE_LINE_PATTERN = r"^[^\u0000-\u001f\u007f-\u009f]+$"
_MULTILINE_PATTERN = r"^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]+$"
_LIST_ITEM_PATTERN = r"^[^\u0000-\u001f\u007f-\u009f,]+$"
_LONGEST_NUMBER = 24
_DATE_PATTERN = "^(?:19[89][0-9]|2[01][0-9]{2})-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])$"


class Text(RequestField):
    """A text of bounded length without control characters; where it may be blank, blank means not given."""

    def __init__(
        self,
        description: str,
        *,
        longest: int,
        multiline: bool = False,
        may_be_blank: bool = False,
        schema: Mapping[str, object] | None = None,
        **more: Unpack[Options],
    ) -> None:
        pattern = _MULTILINE_PATTERN if multiline else _SINGLE_LINE_PATTERN
        if may_be_blank:
            pattern = f"{pattern[:-2]}*$"
        own = {"type": "string", "minLength": 0 if may_be_blank else 1, "maxLength": longest, "pattern": pattern}
        super().__init__(description, schema={**own, **(schema or {})}, **more)
        self._longest = longest
        self._multiline = multiline
        self._may_be_blank = may_be_blank

    def from_text(self, text: str) -> object:
        if not text or text.isspace():
            if self._may_be_blank:
                return None
            raise ValidationError("must not be empty")
        if len(text) > self._longest:
            raise ValidationError(f"is {len(text)} characters long; at most {self._longest} are accepted")
        if (character := forbidden_character(text)) is not None:
            raise ValidationError(f"must not contain the character {character}")
        if not self._multiline and _LINE_BREAK.search(text):
            raise ValidationError("must be a single line without tabs")
        return text


class Choice(RequestField):
    """One word of a fixed list."""

    def __init__(self, description: str, *, among: Sequence[str], **more: Unpack[Options]) -> None:
        super().__init__(description, schema={"type": "string", "enum": list(among)}, **more)
        self._among = tuple(among)
        self._any = Text("any word", longest=60)

    def from_text(self, text: str) -> object:
        if text in self._among:
            return text
        if text:
            self._any.from_text(text)
        near = nearest_ids(text, self._among, limit=1)
        hint = f"; nearest: {near[0]}" if near else ""
        raise ValidationError(f"{shown(text)} is not one of {', '.join(self._among)}{hint}")


class Number(RequestField):
    """A finite decimal number within bounds."""

    _type = "number"

    def __init__(
        self,
        description: str,
        *,
        least: str | int = 0,
        most: str | int,
        above_least: bool = False,
        decimals: int | None = None,
        **more: Unpack[Options],
    ) -> None:
        self._least, self._most = Decimal(least), Decimal(most)
        self._above_least, self._decimals = above_least, decimals
        bound = {"exclusiveMinimum" if above_least else "minimum": _json_number(self._least)}
        super().__init__(description, schema={"type": self._type, **bound, "maximum": _json_number(self._most)}, **more)

    def from_text(self, text: str) -> object:
        if len(text) > _LONGEST_NUMBER or not _PLAIN_NUMBER.fullmatch(text):
            raise ValidationError(f"{shown(text)} is not a plain number; write digits with a dot, for example 12.5")
        return self._within(Decimal(text))

    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if not isinstance(value, Decimal):
            raise ValidationError("must be a JSON number, for example 12.5, without quotes")
        return self._within(value)

    def _serialize(self, value: object, attr: str | None, obj: object, **kwargs: object) -> object:
        """Write a default as the OpenAPI document can hold it."""
        return _json_number(value) if isinstance(value, Decimal) else value

    def _within(self, value: Decimal) -> object:
        too_low = value <= self._least if self._above_least else value < self._least
        if too_low or value > self._most:
            word = "above" if self._above_least else "at least"
            raise ValidationError(f"must be {word} {self._least:f} and at most {self._most:f}")
        if self._decimals is not None and value != round(value, self._decimals):
            raise ValidationError(f"must have at most {self._decimals} decimals")
        return value


class WholeNumber(Number):
    """A whole number within bounds."""

    _type = "integer"

    def _within(self, value: Decimal) -> object:
        super()._within(value)
        if value != value.to_integral_value():
            raise ValidationError("must be a whole number")
        return int(value)


class Flag(RequestField):
    """True or false."""

    def __init__(self, description: str, **more: Unpack[Options]) -> None:
        super().__init__(description, schema={"type": "boolean"}, **more)

    def from_text(self, text: str) -> object:
        if text not in ("true", "false"):
            raise ValidationError("must be true or false")
        return text == "true"

    def _deserialize(self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object) -> object:
        if not isinstance(value, bool):
            raise ValidationError("must be true or false, without quotes")
        return value


class CalendarDate(RequestField):
    """A day of the calendar as ISO 8601 writes it, from 1980 to 2199."""

    def __init__(self, description: str, **more: Unpack[Options]) -> None:
        schema = {"type": "string", "format": "date", "minLength": 10, "maxLength": 10, "pattern": _DATE_PATTERN}
        super().__init__(description, schema=schema, **more)

    def from_text(self, text: str) -> object:
        if not re.fullmatch(_DATE_PATTERN, text, re.ASCII):
            raise ValidationError(f"{shown(text)} is not a date of 1980 to 2199; write YYYY-MM-DD")
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise ValidationError(f"{shown(text)} is no day of the calendar") from None


class CommaList(RequestField):
    """A list of short texts, separated by commas in a query."""

    def __init__(self, description: str, *, most_items: int, longest: int = 100, **more: Unpack[Options]) -> None:
        item = {"type": "string", "minLength": 1, "maxLength": longest, "pattern": _LIST_ITEM_PATTERN}
        super().__init__(description, schema={"type": "array", "maxItems": most_items, "items": item}, **more)
        self._item = Text("one item", longest=longest)
        self._most_items = most_items

    def from_text(self, text: str) -> object:
        items = re.split("[,;]", text)
        if len(items) > self._most_items:
            raise ValidationError(f"has {len(items)} items; at most {self._most_items} are accepted")
        if any(not item.strip() for item in items):
            raise ValidationError("has an empty item; separate the items with single commas")
        return tuple(cast(str, self._item.from_text(item.strip())) for item in items)


class ListOf(fields.List[Any]):
    """A list whose length is checked before its items are read, so that a long one costs nothing."""

    default_error_messages = {**MESSAGES, "invalid": "must be a list"}  # noqa: RUF012 - marshmallow's own interface

    def __init__(
        self, inner: fields.Field[Any], description: str, *, least: int = 0, most: int, **more: Unpack[Presence]
    ) -> None:
        super().__init__(inner, metadata={"description": description, "minItems": least, "maxItems": most}, **more)
        self._least, self._most = least, most

    def _deserialize(
        self, value: object, attr: str | None, data: Mapping[str, Any] | None, **kwargs: object
    ) -> list[Any]:
        if isinstance(value, list) and not self._least <= len(value) <= self._most:
            raise ValidationError(f"has {len(value)} items; {self._least} to {self._most} are accepted")
        return super()._deserialize(value, attr, data, **kwargs)


class ObjectOf(fields.Nested):
    """An object with a schema of its own."""

    default_error_messages = {**MESSAGES, "type": "must be an object"}  # noqa: RUF012 - marshmallow's own interface

    def __init__(self, nested: type[Schema], description: str = "", **more: Unpack[Presence]) -> None:
        super().__init__(nested, metadata={"description": description} if description else {}, **more)


def _json_number(value: Decimal) -> int | float:
    return int(value) if value == value.to_integral_value() else float(value)
