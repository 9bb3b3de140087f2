"""Strict reading of JSON bodies: bounded, one meaning only, every fault with a pointer to it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from itertools import islice
from typing import Any

from flask import request
from marshmallow import Schema, ValidationError, fields

from service.domain.suggesting import nearest_ids
from service.schemas.request_fields import forbidden_character, shown
from service.web.faults import Fault, invalid_input

_DEEPEST = 32
_LONGEST_NUMBER = 40
_MOST_ERRORS = 20
Path = tuple[str | int, ...]


class _Repeated(dict[str, Any]):
    """An object in which keys were repeated; found again, with its path, when the document is walked."""

    repeated: tuple[str, ...] = ()


class _LongNumber:
    """Stands for a number with more digits than anything here can mean."""


def read(schema: Schema) -> Any:
    """Read the body of the current request.

    Parameters
    ----------
    schema
        Request schema; build it once per process.

    Returns
    -------
    dict
        What the schema makes of the body, numbers as ``Decimal``.

    Raises
    ------
    Fault
        ``unsupported-media-type``, ``malformed-body`` or ``invalid-input``; Flask raises 413 for a long body.
    """
    _check_media_type()
    document = _parse(request.get_data(cache=False))
    if not isinstance(document, dict):
        raise invalid_input([{"pointer": "#", "detail": "the body must be a JSON object"}])
    _raise_first(_faults_of(document, ()))
    try:
        return schema.load(document)
    except ValidationError as error:
        _raise_first(_flatten(error.messages, schema, ()))
        raise


def _check_media_type() -> None:
    if request.mimetype != "application/json":
        sent = shown(request.mimetype) if request.mimetype else "none"
        raise Fault("unsupported-media-type", f"Content-Type must be application/json; it is {sent}.")
    charset = request.mimetype_params.get("charset", "utf-8").lower()
    if charset not in ("utf-8", "utf8") or request.headers.get("Content-Encoding", "identity") != "identity":
        raise Fault("unsupported-media-type", "The body must be UTF-8 without a content encoding.")


def _parse(data: bytes) -> Any:
    try:
        return json.loads(
            data.decode("utf-8"),
            object_pairs_hook=_object,
            parse_float=_number,
            parse_int=_number,
            parse_constant=_refuse_constant,
        )
    except UnicodeDecodeError as error:
        raise Fault("malformed-body", f"The body is not UTF-8: byte {error.start} cannot be read.") from None
    except RecursionError:
        raise _too_deep(()) from None
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise Fault("malformed-body", f"The body is not JSON: {error.msg} ({where}).") from None


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    marked, seen = _Repeated(plain), set[str]()
    marked.repeated = tuple(dict.fromkeys(key for key, _ in pairs if key in seen or seen.add(key)))  # type: ignore[func-returns-value]
    return marked


def _number(literal: str) -> Decimal | _LongNumber:
    if len(literal) > _LONGEST_NUMBER:
        return _LongNumber()
    try:
        return Decimal(literal)
    except InvalidOperation:  # an exponent beyond what even Decimal holds
        return _LongNumber()


def _refuse_constant(name: str) -> None:
    raise Fault("malformed-body", f"{name} is not a JSON number; leave the member out or give a number.")


def _faults_of(value: Any, path: Path) -> Iterator[dict[str, str]]:
    """Walk the document for what no schema could see any more: repeated keys, huge numbers, forbidden characters."""
    if len(path) > _DEEPEST:
        raise _too_deep(path)
    if isinstance(value, str):
        if (character := forbidden_character(value)) is not None:
            yield _error(path, f"must not contain the character {character}")
    elif isinstance(value, dict):
        for key in value.repeated if isinstance(value, _Repeated) else ():
            yield _error((*path, key), "is given more than once; give it once")
        for key, member in value.items():
            if (character := forbidden_character(key)) is not None:
                yield _error(path, f"a member name must not contain the character {character}")
            yield from _faults_of(member, (*path, key))
    elif isinstance(value, list):
        for position, member in enumerate(value):
            yield from _faults_of(member, (*path, position))
    elif isinstance(value, _LongNumber):
        yield _error(path, f"is a number with more than {_LONGEST_NUMBER} characters or an unreasonable exponent")


def _flatten(messages: Any, schema: Schema | None, path: Path) -> Iterator[dict[str, str]]:
    """Turn marshmallow's tree of messages into a flat list of pointers."""
    if isinstance(messages, list):
        for message in messages:
            yield _error(path, str(message))
        return
    for key, below in messages.items():
        if key == "_schema":
            yield from _flatten(below, schema, path)
        elif below == ["unknown"] and schema is not None:
            yield _error((*path, key), _unknown(key, schema))
        else:
            yield from _flatten(below, _schema_below(schema, key), (*path, key))


def _schema_below(schema: Schema | None, key: str | int) -> Schema | None:
    if schema is None or isinstance(key, int):
        return schema
    field: Any = schema.fields.get(key)
    if isinstance(field, fields.List):
        field = field.inner
    return field.schema if isinstance(field, fields.Nested) else None


def _unknown(key: str, schema: Schema) -> str:
    near = nearest_ids(key, schema.fields, limit=1)
    hint = f"; nearest: {near[0]}" if near else ""
    return f"is not a known member{hint}; known: {', '.join(schema.fields)}"


def _raise_first(faults: Iterator[dict[str, str]]) -> None:
    if found := list(islice(faults, _MOST_ERRORS)):
        raise invalid_input(found)


def _too_deep(path: Path) -> Fault:
    return invalid_input([_error(path[:4], f"is nested more than {_DEEPEST} levels deep")])


def _error(path: Path, detail: str) -> dict[str, str]:
    return {"pointer": "/".join(("#", *(_token(part) for part in path))), "detail": detail}


def _token(part: str | int) -> str:
    text = str(part)
    if len(text) > 80 or not text.isprintable():
        text = shown(text)
    return text.replace("~", "~0").replace("/", "~1")
