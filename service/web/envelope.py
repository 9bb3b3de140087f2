"""Adds dataset, sources and notice to an answer. What never changes within a release is written out once."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Protocol

from marshmallow import Schema

from service.domain.common import NOTICE
from service.reference.records import Source
from service.reference.release import Reference
from service.web.wire import Json, dump, field_names, to_wire

_MOST_CACHED_TAILS = 5000


class Answer(Protocol):
    """Any answer of the domain: a frozen dataclass that names its sources."""

    @property
    def source_ids(self) -> tuple[str, ...]:
        """Ids of the sources the answer rests on."""
        ...


class AnswerMismatch(AssertionError):
    """An answer differs from its own schema; only raised where answers are checked."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """Members of an answer that are the same, within a release, for every request with the same ``key``."""

    members: tuple[str, ...]
    key: tuple[str, ...]


_NOTHING_FIXED = Fixed((), ())


class Envelope:
    """Writes the answers computed from one release.

    Parameters
    ----------
    reference
        The release.
    check
        Hold every answer against its schema; for tests.
    """

    def __init__(self, reference: Reference, check: bool = False) -> None:
        self.reference = reference
        self.dataset: dict[str, Json] = to_wire(reference.stamp)
        self._check = check
        self._tails: dict[tuple[type, tuple[str, ...], tuple[str, ...]], str] = {}
        self._checkers: dict[type[Schema], Schema] = {}

    def sources(self, source_ids: tuple[str, ...]) -> list[dict[str, str | None]]:
        """List the wire form of sources, in the given order, each once."""
        return [source_on_wire(self.reference.sources[id_]) for id_ in dict.fromkeys(source_ids)]

    def members(self, answer: Answer) -> dict[str, Json]:
        """Give the complete answer as a dict, for tables."""
        plain: dict[str, Json] = to_wire(answer)
        source_ids = tuple(plain.pop("source_ids"))
        return {**plain, "dataset": self.dataset, "sources": self.sources(source_ids), "notice": NOTICE}

    def json(self, answer: Answer, schema: type[Schema], fixed: Fixed | None = None) -> bytes:
        """Write the complete answer as JSON.

        Parameters
        ----------
        answer
            A domain answer: a frozen dataclass with ``source_ids``.
        schema
            Its schema, for checking.
        fixed
            Which members need not be written out again.

        Returns
        -------
        bytes
            One JSON object in UTF-8.
        """
        fixed = fixed or _NOTHING_FIXED
        plain = {
            name: to_wire(getattr(answer, name))
            for name in field_names(type(answer))
            if name != "source_ids" and name not in fixed.members
        }
        written = f"{dump(plain)[:-1]},{self._tail(answer, fixed)}}}".encode()
        if self._check:
            members = self.members(answer)
            self.check(members, schema)
            if json.loads(written) != members:
                raise AnswerMismatch(f"{schema.__name__}: {fixed.members} are not fixed by {fixed.key}")
        return written

    def plain_json(self, members: dict[str, Json], schema: type[Schema]) -> bytes:
        """Write an answer whose members are already complete and plain."""
        if self._check:
            self.check(members, schema)
        return dump(members).encode()

    def check(self, members: dict[str, Json], schema: type[Schema]) -> None:
        """Raise where an answer differs from its schema or names a source it does not list."""
        checker = self._checkers.get(schema) or self._checkers.setdefault(schema, schema())
        if faults := checker.validate(members):
            raise AnswerMismatch(f"{schema.__name__}: {faults}")
        listed = {source["id"] for source in members.get("sources", ())}
        if "sources" in members and (missing := set(_named_sources(members)) - listed):
            raise AnswerMismatch(f"{schema.__name__}: sources {sorted(missing)} are named but not listed")

    def _tail(self, answer: Answer, fixed: Fixed) -> str:
        key = (type(answer), fixed.key, answer.source_ids)
        tail = self._tails.get(key)
        if tail is None:
            members = {name: to_wire(getattr(answer, name)) for name in fixed.members}
            members |= {"dataset": self.dataset, "sources": self.sources(answer.source_ids), "notice": NOTICE}
            tail = dump(members)[1:-1]
            if len(self._tails) >= _MOST_CACHED_TAILS:
                self._tails.clear()
            self._tails[key] = tail
        return tail


def source_on_wire(source: Source) -> dict[str, str | None]:
    """Give the wire form of one source; a DOI becomes an address where none is recorded."""
    year = f"({source.year})" if source.year else None
    parts = (source.authors, year, source.title, source.container)
    citation = ". ".join(part.rstrip(". ") for part in parts if part) + "."
    url = source.url or (f"https://doi.org/{source.doi}" if source.doi else None)
    return {"id": source.id, "citation": citation, "url": url, "origin": source.origin}


def _named_sources(value: Json) -> list[str]:
    if isinstance(value, list):
        return [id_ for item in value for id_ in _named_sources(item)]
    if not isinstance(value, dict):
        return []
    own = [*value.get("source_ids", ()), *value.get("more_source_ids", ())]
    own += [value["source_id"]] if "source_id" in value else []
    return own + [id_ for item in value.values() for id_ in _named_sources(item)]
