"""Strict reading of query strings: nothing unknown, nothing twice, nothing guessed."""

from __future__ import annotations

from typing import Any
from urllib.parse import parse_qsl

from flask import request
from marshmallow import Schema, ValidationError, missing

from service.domain.suggesting import nearest_ids
from service.schemas.request_base import RequestField, shown
from service.web.faults import Fault, invalid_input

LONGEST_QUERY_BYTES = 8000
MOST_PARAMETERS = 60


class QueryReader:
    """Reads the query parameters that a schema lists. Build it once, use it for every request."""

    def __init__(self, schema: type[Schema]) -> None:
        declared = schema().fields
        self._fields = {name: field for name, field in declared.items() if isinstance(field, RequestField)}
        self._required = tuple(name for name, field in self._fields.items() if field.required)
        self._defaults = {
            name: None if field.load_default is missing else field.load_default for name, field in self._fields.items()
        }

    def read(self) -> dict[str, Any]:
        """Read the current request's query.

        Returns
        -------
        dict
            Every parameter of the schema; one that was not given has its default or ``None``.

        Raises
        ------
        Fault
            ``uri-too-long``, or ``invalid-input`` with one error per parameter at fault.
        """
        values = dict(self._defaults)
        faults: list[dict[str, str]] = []
        seen: set[str] = set()
        for name, text in pairs(request.environ.get("QUERY_STRING", "")):
            field = self._fields.get(name)
            if name in seen:
                faults.append(_fault(name, "is given more than once; give it once"))
            elif field is None:
                faults.append(_fault(name, self._unknown(name)))
            else:
                try:
                    values[name] = field.from_text(text)
                except ValidationError as error:
                    faults.append(_fault(name, str(error.messages[0])))
            seen.add(name)
        faults += [_fault(name, "is required") for name in self._required if name not in seen]
        if faults:
            raise invalid_input(faults[:20])
        return values

    def _unknown(self, name: str) -> str:
        near = nearest_ids(name, self._fields, limit=1)
        hint = f"; nearest: {near[0]}" if near else ""
        known = ", ".join(self._fields) or "none"
        return f"is not a parameter of this address{hint}; known: {known}"


def _fault(name: str, detail: str) -> dict[str, str]:
    return {"parameter": name if name.isprintable() and len(name) <= 80 else shown(name), "detail": detail}


def pairs(query: str) -> list[tuple[str, str]]:
    """Split a query string into names and values, or raise the problem of one that cannot be read."""
    if not query:
        return []
    if len(query) > LONGEST_QUERY_BYTES:
        raise Fault("uri-too-long", f"The query string has {len(query)} bytes; at most {LONGEST_QUERY_BYTES} are read.")
    try:
        # WSGI hands the bytes over as Latin-1; a client that did not percent-encode sent UTF-8.
        text = query if query.isascii() else query.encode("latin-1").decode("utf-8")
        return parse_qsl(text, keep_blank_values=True, errors="strict", max_num_fields=MOST_PARAMETERS)
    except UnicodeError:
        raise invalid_input([_fault("query", "is not valid UTF-8; percent-encode each byte of UTF-8")]) from None
    except ValueError:
        raise invalid_input([_fault("query", f"has more than {MOST_PARAMETERS} parameters")]) from None
