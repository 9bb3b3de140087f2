"""The reference: every operation of the OpenAPI document, a page for each of its tags."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.pages.docs.blocks import Block, blocks
from service.pages.docs.members import ENVELOPE, Member, Schemas, Shape
from service.pages.docs.operations import OperationsPage, OperationView, operation_schemas

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Line:
    """An operation in the table of contents."""

    anchor: str
    method: str
    path: str
    summary: str


@dataclass(frozen=True, slots=True)
class Chapter:
    """A tag in the table of contents."""

    name: str
    about: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class TagPage:
    """The operations of a tag, and the shapes of objects that stand in several places of them."""

    operations: tuple[OperationView, ...]
    shapes: tuple[Shape, ...]


def chapters(document: Document) -> tuple[Chapter, ...]:
    """List every operation by tag, in the order of the document."""
    every = tuple(entries(document))
    return tuple(
        Chapter(
            tag["name"],
            tag["description"],
            tuple(
                Line(operation["operationId"], method.upper(), path, operation["summary"])
                for path, method, operation in every
                if tag["name"] in operation["tags"]
            ),
        )
        for tag in document["tags"]
    )


def page(document: Document, tag: str, root: str) -> TagPage:
    """Lay out the operations of one tag.

    Parameters
    ----------
    document
        The OpenAPI document.
    tag
        Name of the tag.
    root
        Absolute address of the service, for the commands.

    Returns
    -------
    TagPage
        Its operations, and the shapes that they share.
    """
    chosen = [entry for entry in entries(document) if tag in entry[2]["tags"]]
    roots = [schema for _, _, operation in chosen for schema in operation_schemas(operation)]
    schemas = Schemas(document["components"]["schemas"], roots)
    laid_out = OperationsPage(schemas, root)
    return TagPage(tuple(laid_out.present(*entry) for entry in chosen), schemas.apart())


def about(document: Document) -> tuple[Block, ...]:
    """Give what the document says of the whole."""
    return blocks(document["info"]["description"])


def envelope_members(document: Document) -> tuple[Member, ...]:
    """List what every computed answer has beside its result, by way of one that has it all."""
    components = document["components"]["schemas"]
    computed = next(schema for schema in components.values() if set(ENVELOPE) <= set(schema.get("properties", ())))
    only = {name: computed["properties"][name] for name in ENVELOPE}
    return Schemas(components).members({"properties": only, "required": ENVELOPE})


def problem_members(document: Document) -> tuple[Member, ...]:
    """List the members of a problem answer."""
    components = document["components"]["schemas"]
    return Schemas(components).members(components["Problem"])


def entries(document: Document) -> Iterator[tuple[str, str, Mapping[str, Any]]]:
    """Walk the operations of a document: path, method, entry."""
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation
