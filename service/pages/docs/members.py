"""The members of a body or an answer, those of the objects within them included, as a flat list of paths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.pages.docs.schema_words import Schema, choices, kind_words, limits

_REFERENCE = "#/components/schemas/"
# Beside every computed answer; the reference explains them once.
ENVELOPE = ("dataset", "sources", "cautions", "notice")


@dataclass(frozen=True, slots=True)
class Member:
    """One member.

    ``path`` is how it is reached, ``animal.species`` or ``phases[].low_mg``; ``depth`` counts from 0. ``shape`` names
    the schema of the objects in it where that is shown apart.
    """

    path: str
    name: str
    depth: int
    kind: str
    is_required: bool
    description: str
    limits: str
    choices: tuple[str, ...]
    default: str | None
    shape: str | None
    most_characters: int | None

    @property
    def owner(self) -> str:
        """The way to it, ``animal.`` or ``phases[].``; nothing at the top."""
        return self.path[: -len(self.name)]


@dataclass(frozen=True, slots=True)
class Shape:
    """What an object holds. ``is_computed``: the members in ``ENVELOPE`` stand beside those listed."""

    name: str
    about: str
    members: tuple[Member, ...]
    is_computed: bool


class Schemas:
    """The schemas of an OpenAPI document.

    Parameters
    ----------
    components
        Schemas by name.
    roots
        What is shown beside each other; a schema that they hold in more than one place is shown apart, once.
    """

    def __init__(self, components: Mapping[str, Schema], roots: Iterable[Schema] = ()) -> None:
        self._components = components
        self._apart = self._held_more_than_once(roots)

    def shape(self, schema: Schema) -> Shape:
        """List the members of an object."""
        name = _name_of(schema) or ""
        whole = self._components.get(name, schema)
        is_computed = _is_computed(whole)
        members = tuple(self._members(whole, "", 0, ENVELOPE if is_computed else ()))
        return Shape(name, str(whole.get("description", "")), members, is_computed)

    def apart(self) -> tuple[Shape, ...]:
        """List the schemas that are shown apart, by name."""
        return tuple(self.shape({"$ref": f"{_REFERENCE}{name}"}) for name in sorted(self._apart))

    def member(self, path: str, depth: int, schema: Schema, is_required: bool) -> Member:
        """Describe one value."""
        item = _item(schema)
        whole = self._followed(schema)
        within = limits(item) if item is not None else ""
        bounds = (limits(schema), f"each {within}" if within else "")
        held = _name_of(schema)
        return Member(
            path=path,
            name=path.rpartition(".")[2].removesuffix("[]"),
            depth=depth,
            kind=kind_words({**whole, **schema}, self._followed(item) if item is not None else None),
            is_required=is_required,
            description=str(schema.get("description", whole.get("description", ""))),
            limits="; ".join(words for words in bounds if words),
            choices=choices(schema if item is None else item),
            default=_default(schema),
            shape=held if held in self._apart else None,
            most_characters=schema.get("maxLength"),
        )

    def members(self, schema: Schema) -> tuple[Member, ...]:
        """List every member of an object, those beside a computed answer included."""
        return tuple(self._members(self._followed(schema), "", 0))

    def _members(self, schema: Schema, before: str, depth: int, hidden: tuple[str, ...] = ()) -> Iterator[Member]:
        required = set(schema.get("required", ()))
        for name, below in schema.get("properties", {}).items():
            if name in hidden:
                continue
            made = self.member(f"{before}{name}", depth, below, name in required)
            yield made
            if made.shape is None:
                ending = "[]." if _item(below) is not None else "."
                yield from self._members(self._within(below), f"{before}{name}{ending}", depth + 1)

    def _followed(self, schema: Schema) -> Schema:
        name = None if "items" in schema else _name_of(schema)
        return schema if name is None else self._components[name]

    def _within(self, schema: Schema) -> Schema:
        """Give the schema of the objects that a value is or holds."""
        name = _name_of(schema)
        return _item(schema) or schema if name is None else self._components[name]

    def _held_more_than_once(self, roots: Iterable[Schema]) -> frozenset[str]:
        """Count the places, in roots and everything below them, that hold objects of a schema."""
        waiting = [name for name in dict.fromkeys(map(_name_of, roots)) if name is not None]
        seen, places = set(waiting), Counter[str]()
        while waiting:
            whole = self._components[waiting.pop()]
            hidden = ENVELOPE if _is_computed(whole) else ()
            for member, below in whole.get("properties", {}).items():
                name = _name_of(below)
                if name is None or member in hidden:
                    continue
                places[name] += 1
                if name not in seen:
                    seen.add(name)
                    waiting.append(name)
        return frozenset(name for name, count in places.items() if count > 1)


def _name_of(schema: Schema) -> str | None:
    """Name the component that a value, each entry of a list, or a value that is not null has as its schema."""
    for one in (schema, schema.get("items", {}), *schema.get("anyOf", ())):
        if "$ref" in one:
            return str(one["$ref"]).removeprefix(_REFERENCE)
    return None


def _item(schema: Schema) -> Schema | None:
    items: Any = schema.get("items")
    return items if isinstance(items, Mapping) else None


def _is_computed(schema: Schema) -> bool:
    return set(ENVELOPE) <= set(schema.get("properties", ()))


def _default(schema: Schema) -> str | None:
    value = schema.get("default")
    if value is None or value == []:
        return None
    return str(value).lower() if isinstance(value, bool) else str(value)
