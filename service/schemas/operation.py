"""How one HTTP operation is described in the OpenAPI document."""

from __future__ import annotations

from dataclasses import dataclass

from marshmallow import Schema

INPUT_PROBLEMS = ("invalid-input", "uri-too-long", "not-acceptable")
BODY_PROBLEMS = (*INPUT_PROBLEMS, "malformed-body", "unsupported-media-type", "body-too-large")
COMPUTED = ("unknown-dataset-release", "not-ready", "internal")


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One method on one path.

    ``example`` names a file under ``openapi/examples`` with an invented request and answer. ``media_types``
    lists what it answers with; only JSON has a schema. ``text_body`` lists the media types of a body that is text,
    with an example of each under ``openapi/examples``.
    """

    id: str
    path: str
    tag: str
    summary: str
    description: str
    method: str = "get"
    query: type[Schema] | None = None
    body: type[Schema] | None = None
    text_body: tuple[str, ...] = ()
    answer: type[Schema] | None = None
    media_types: tuple[str, ...] = ("application/json",)
    problems: tuple[str, ...] = ()
    example: str | None = None
    linked: bool = True
