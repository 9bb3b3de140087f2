"""Reading the address of a page: unknown names are let be, values are held to the schemas of the interface."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask import request
from marshmallow import Schema, ValidationError

from service.pages.wording import sentence_case
from service.schemas.request_base import RequestField
from service.web.query import pairs

# What no HTML document may hold; a text goes back into its field with a mark in its place.
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufdd0-\ufdef\ufffe\uffff]")
# Details of an error that begin like this need the name of the field before them.
_NEEDS_A_SUBJECT = ("is ", "must ", "has ")


def printable(text: str) -> str:
    """Put a mark in the place of every character that no HTML document may hold."""
    return _UNPRINTABLE.sub("\ufffd", text)


@dataclass(frozen=True, slots=True)
class PageInput:
    """What a reader filled in.

    ``values`` are those that could be read, ``texts`` all of them as typed, ``errors`` a sentence per field at fault.
    """

    values: Mapping[str, Any]
    texts: Mapping[str, str]
    errors: Mapping[str, str]

    @property
    def is_blank(self) -> bool:
        """Whether nothing was filled in."""
        return not any(self.texts.values())


class PageQuery:
    """Reads some of the fields of a schema from the address of a page. Build it once, use it for every request."""

    def __init__(self, schema: type[Schema], labels: Mapping[str, str]) -> None:
        declared = schema().fields
        self._labels = labels
        self._fields = {name: field for name in labels if isinstance(field := declared[name], RequestField)}

    def read(self) -> PageInput:
        """Read the current request's query; a field left empty counts as not given."""
        values: dict[str, Any] = {}
        texts = dict.fromkeys(self._fields, "")
        errors: dict[str, str] = {}
        for name, text in pairs(request.environ.get("QUERY_STRING", "")):
            field = self._fields.get(name)
            if field is None or not text.strip():
                continue
            if texts[name]:
                errors[name] = self.sentence(name, "is given more than once; give it once")
                continue
            texts[name] = printable(text.strip())
            try:
                values[name] = field.from_text(text.strip())
            except ValidationError as error:
                errors[name] = self.sentence(name, str(error.messages[0]))
        return PageInput(values, texts, errors)

    def sentence(self, name: str, detail: str) -> str:
        """Make a sentence of what is wrong with a field."""
        subject = f"{self._labels[name]} " if detail.startswith(_NEEDS_A_SUBJECT) else ""
        return f"{sentence_case(subject + detail).rstrip('.')}."
