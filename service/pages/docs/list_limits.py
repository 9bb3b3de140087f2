"""How much the lists and long texts of a request may hold, by operation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.pages.docs.members import Member, Schemas
from service.pages.docs.reference import Document, entries

# Names and ids are far shorter than anybody would make them by accident.
_LONG_CHARACTERS = 1000


@dataclass(frozen=True, slots=True)
class ListLimits:
    """Limits of one operation, as pairs of member and words; ``anchor`` and ``tag`` say where the reference has it."""

    tag: str
    anchor: str
    method: str
    path: str
    members: tuple[tuple[str, str], ...]


def list_limits(document: Document) -> tuple[ListLimits, ...]:
    """List the limits of everything that can grow; a body that several operations take is listed once.

    Parameters
    ----------
    document
        The OpenAPI document.

    Returns
    -------
    tuple of ListLimits
        In the order of the document.
    """
    schemas = Schemas(document["components"]["schemas"])
    seen: set[tuple[str, ...]] = set()
    found = []
    for path, method, operation in entries(document):
        growing = [one for one in _members(schemas, operation) if one.limits and _can_grow(one)]
        key = (method, *(one.path for one in growing))
        if not growing or key in seen:
            continue
        seen.add(key)
        tag, anchor = operation["tags"][0], operation["operationId"]
        pairs = tuple((one.path, one.limits) for one in growing)
        found.append(ListLimits(tag, anchor, method.upper(), path, pairs))
    return tuple(found)


def _members(schemas: Schemas, operation: Mapping[str, Any]) -> Iterator[Member]:
    for given in operation["parameters"]:
        yield schemas.member(given["name"], 0, given["schema"], given["required"])
    content = operation.get("requestBody", {}).get("content", {})
    if "application/json" in content:
        yield from schemas.members(content["application/json"]["schema"])


def _can_grow(member: Member) -> bool:
    return member.kind.startswith("list") or (member.most_characters or 0) > _LONG_CHARACTERS
