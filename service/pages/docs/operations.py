"""One operation of the OpenAPI document as the reference shows it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.pages.docs.blocks import Block, blocks
from service.pages.docs.code import first_of, json_text
from service.pages.docs.curl import address, curl
from service.pages.docs.members import Member, Schemas, Shape

_SLUG = re.compile(r"`([a-z-]+)`: ")
_JSON = "application/json"
_HTML = "text/html"


@dataclass(frozen=True, slots=True)
class Content:
    """A body or an answer in one media type; ``example`` is empty where there is none.

    ``same_as`` is the anchor of the operation that has shown this shape before.
    """

    media_type: str
    shape: Shape
    same_as: str | None
    example: str
    example_summary: str


@dataclass(frozen=True, slots=True)
class OperationView:
    """One operation. ``problems`` are pairs of status and slugs; ``anchor`` is its id on the page."""

    anchor: str
    method: str
    path: str
    summary: str
    about: tuple[Block, ...]
    parameters: tuple[Member, ...]
    body_about: str
    bodies: tuple[Content, ...]
    curl: str
    answers: tuple[Content, ...]
    problems: tuple[tuple[str, tuple[str, ...]], ...]


class OperationsPage:
    """Lays out operations that stand on one page: what several of them share is shown once.

    Parameters
    ----------
    schemas
        The schemas of the document.
    root
        Absolute address of the service, for the commands.
    """

    def __init__(self, schemas: Schemas, root: str) -> None:
        self._schemas = schemas
        self._root = root
        self._shown: dict[str, str] = {}

    def present(self, path: str, method: str, operation: Mapping[str, Any]) -> OperationView:
        """Lay out the operation that stands in the document under a path and a method."""
        anchor = operation["operationId"]
        body = operation.get("requestBody", {})
        return OperationView(
            anchor=anchor,
            method=method.upper(),
            path=path,
            summary=operation["summary"],
            about=blocks(operation["description"]),
            parameters=tuple(_parameters(self._schemas, operation)),
            body_about=body.get("description", ""),
            bodies=tuple(self._contents(body, f"{anchor}-body")),
            curl=_curl(self._root, path, operation),
            answers=tuple(self._contents(operation["responses"]["200"], f"{anchor}-answer")),
            problems=tuple(
                (status, tuple(_SLUG.findall(answer["description"])))
                for status, answer in operation["responses"].items()
                if status != "200"
            ),
        )

    def _contents(self, part: Mapping[str, Any], anchor: str) -> Iterator[Content]:
        for media_type, content in part.get("content", {}).items():
            summary, value = _example(content)
            shape = self._schemas.shape(content["schema"])
            before = self._shown.setdefault(shape.name, anchor) if shape.name else anchor
            yield Content(media_type, shape, None if before == anchor else before, _shown(media_type, value), summary)


def operation_schemas(operation: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Give the schemas of the body and of the answer of an operation."""
    for part in (operation.get("requestBody", {}), operation["responses"]["200"]):
        for content in part.get("content", {}).values():
            yield content["schema"]


def _parameters(schemas: Schemas, operation: Mapping[str, Any]) -> Iterator[Member]:
    for given in operation["parameters"]:
        schema = {**given["schema"], "description": given["description"]}
        yield schemas.member(given["name"], 0, schema, given["required"])


def _example(content: Mapping[str, Any]) -> tuple[str, Any]:
    named = next(iter(content.get("examples", {}).values()), None)
    if named is not None:
        return named["summary"], named["value"]
    return "Invented example", content.get("example")


def _shown(media_type: str, value: object) -> str:
    """Write an example; the markup of a page tells nobody anything."""
    if value is None or media_type == _HTML:
        return ""
    return value if isinstance(value, str) else json_text(first_of(value))


def _curl(root: str, path: str, operation: Mapping[str, Any]) -> str:
    query = {}
    for given in operation["parameters"]:
        if given["in"] == "path":
            path = path.replace(f"{{{given['name']}}}", given["example"])
        elif "example" in given:
            query[given["name"]] = given["example"]
    content = operation.get("requestBody", {}).get("content", {})
    media_type = next(iter(content), _JSON)
    _, body = _example(content[media_type]) if content else ("", None)
    return curl(address(root, path, query), body, media_type)
