"""Adds dataset, sources and notice to an answer. What never changes within a release is written out once."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema

from service.domain.common import NOTICE
from service.reference.records import Source
from service.reference.release import Reference
from service.web.wire import dump, to_wire

_MOST_CACHED_TAILS = 5000


class AnswerMismatch(AssertionError):
    """An answer differs from its own schema; only raised where answers are checked."""


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
        self.dataset: dict[str, Any] = to_wire(reference.stamp)
        self._check = check
        self._tails: dict[tuple[str, ...], str] = {}
        self._checkers: dict[type[Schema], Schema] = {}

    def sources(self, source_ids: tuple[str, ...]) -> list[dict[str, str | None]]:
        """List the wire form of sources, in the given order, each once."""
        return [source_on_wire(self.reference.sources[id_]) for id_ in dict.fromkeys(source_ids)]

    def members(self, answer: object) -> dict[str, Any]:
        """Give the complete answer as a dict, for tables."""
        plain: dict[str, Any] = to_wire(answer)
        source_ids = tuple(plain.pop("source_ids"))
        return {**plain, "dataset": self.dataset, "sources": self.sources(source_ids), "notice": NOTICE}

    def json(self, answer: object, schema: type[Schema]) -> bytes:
        """Write the complete answer as JSON.

        Parameters
        ----------
        answer
            A domain answer: a frozen dataclass with ``source_ids``.
        schema
            Its schema, for checking.

        Returns
        -------
        bytes
            One JSON object in UTF-8.
        """
        plain: dict[str, Any] = to_wire(answer)
        source_ids = tuple(plain.pop("source_ids"))
        if self._check:
            self.check(self.members(answer), schema)
        return f"{dump(plain)[:-1]},{self._tail(source_ids)}}}".encode()

    def check(self, members: dict[str, Any], schema: type[Schema]) -> None:
        """Raise where an answer differs from its schema or names a source it does not list."""
        checker = self._checkers.get(schema) or self._checkers.setdefault(schema, schema())
        if faults := checker.validate(members):
            raise AnswerMismatch(f"{schema.__name__}: {faults}")
        listed = {source["id"] for source in members.get("sources", ())}
        if "sources" in members and (missing := set(_named_sources(members)) - listed):
            raise AnswerMismatch(f"{schema.__name__}: sources {sorted(missing)} are named but not listed")

    def _tail(self, source_ids: tuple[str, ...]) -> str:
        tail = self._tails.get(source_ids)
        if tail is None:
            members = {"dataset": self.dataset, "sources": self.sources(source_ids), "notice": NOTICE}
            tail = dump(members)[1:-1]
            if len(self._tails) >= _MOST_CACHED_TAILS:
                self._tails.clear()
            self._tails[source_ids] = tail
        return tail


def source_on_wire(source: Source) -> dict[str, str | None]:
    """Give the wire form of one source; a DOI becomes an address where none is recorded."""
    year = f"({source.year})" if source.year else None
    parts = (source.authors, year, source.title, source.container)
    citation = ". ".join(part.rstrip(". ") for part in parts if part) + "."
    url = source.url or (f"https://doi.org/{source.doi}" if source.doi else None)
    return {"id": source.id, "citation": citation, "url": url, "origin": source.origin}


def _named_sources(value: Any) -> list[str]:
    if isinstance(value, list):
        return [id_ for item in value for id_ in _named_sources(item)]
    if not isinstance(value, dict):
        return []
    own = list(value.get("source_ids", ()))
    return own + [id_ for item in value.values() for id_ in _named_sources(item)]
