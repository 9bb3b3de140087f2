"""Reading the JSON body of a request against a schema, every fault with a pointer to it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from flask import request
from marshmallow import Schema, ValidationError, fields
from werkzeug.exceptions import RequestEntityTooLarge

from service.domain.suggesting import nearest_ids
from service.schemas.request_base import shown
from service.web.faults import Fault, Path, at_pointer, invalid_input
from service.web.json_document import faults_of, parse
from service.web.wire import Json

LARGEST_BODY_BYTES = 65_536
_MOST_ERRORS = 20


def read(schema: Schema, largest_bytes: int = LARGEST_BODY_BYTES) -> Json:
    """Read the body of the current request.

    Parameters
    ----------
    schema
        Request schema; build it once per process.
    largest_bytes
        Most bytes of the body.

    Returns
    -------
    dict
        What the schema makes of the body, numbers as ``Decimal``.

    Raises
    ------
    Fault
        ``unsupported-media-type``, ``malformed-body`` or ``invalid-input``.
    RequestEntityTooLarge
        Where the body is longer than ``largest_bytes``, whether or not it announced its length.
    """
    _check_media_type()
    document = parse(_bytes(largest_bytes))
    raise_first(faults_of(document))
    return load(schema, document)


def load(schema: Schema, document: Json) -> Json:
    """Load a parsed document that :func:`faults_of` has found nothing in; raises ``invalid-input``."""
    if not isinstance(document, dict):
        raise invalid_input([at_pointer((), "the body must be a JSON object")])
    try:
        return schema.load(document)
    except ValidationError as error:
        raise_first(_flatten(error.messages, schema, ()))
        raise


def _bytes(largest: int) -> bytes:
    # Werkzeug cuts a body without Content-Length silently at its limit, so one byte more is let in and looked for.
    request.max_content_length = largest + 1
    data = request.get_data(cache=False)
    if len(data) > largest:
        raise RequestEntityTooLarge
    return data


def _check_media_type() -> None:
    if request.mimetype != "application/json":
        sent = shown(request.mimetype) if request.mimetype else "none"
        raise Fault("unsupported-media-type", f"Content-Type must be application/json; it is {sent}.")
    charset = request.mimetype_params.get("charset", "utf-8").lower()
    if charset not in ("utf-8", "utf8") or request.headers.get("Content-Encoding", "identity") != "identity":
        raise Fault("unsupported-media-type", "The body must be UTF-8 without a content encoding.")


def _flatten(messages: Json, schema: Schema | None, path: Path) -> Iterator[dict[str, str]]:
    """Turn marshmallow's tree of messages into a flat list of pointers."""
    if isinstance(messages, list):
        for message in messages:
            yield at_pointer(path, str(message))
        return
    for key, below in messages.items():
        if below == ["unknown"] and schema is not None:
            yield at_pointer((*path, key), _unknown(key, schema))
        elif key == "_schema":
            yield from _flatten(below, schema, path)
        else:
            yield from _flatten(below, _schema_below(schema, key), (*path, key))


def _schema_below(schema: Schema | None, key: str | int) -> Schema | None:
    if schema is None or isinstance(key, int):
        return schema
    field = schema.fields.get(key)
    if isinstance(field, fields.List):
        field = field.inner
    return field.schema if isinstance(field, fields.Nested) else None


def _unknown(key: str, schema: Schema) -> str:
    near = nearest_ids(key, schema.fields, limit=1)
    hint = f"; nearest: {near[0]}" if near else ""
    return f"is not a known member{hint}; known: {', '.join(schema.fields)}"


def raise_first(faults: Iterator[dict[str, str]]) -> None:
    """Raise the first faults, if there are any, as ``invalid-input``."""
    if found := list(islice(faults, _MOST_ERRORS)):
        raise invalid_input(found)
