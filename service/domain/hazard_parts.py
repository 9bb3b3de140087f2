"""Parts of a name that name a hazard by themselves: ``alpha-lipoic`` without acid, ``johimbe`` without a genus."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from service.domain.label_text import words
from service.reference.records import Name

_SHORTEST_PART = 6
_ACIDS = frozenset("acid acide acido acidum saure zuur syra".split())


class HazardParts:
    """Knows the words that stand in the names of one hazard and in no other name.

    Parameters
    ----------
    rows
        Every spelling.
    hazards
        The spellings whose parts count, with their hazard.
    """

    def __init__(self, rows: Iterable[Name], hazards: Mapping[Name, str]) -> None:
        self._adjectives: dict[str, tuple[Name, str]] = {}
        self._botanical: dict[str, tuple[Name, str]] = {}
        for row, hazard in hazards.items():
            tokens = words(row.name)
            acid = not _ACIDS.isdisjoint(tokens)
            for word in tokens:
                if len(word) < _SHORTEST_PART:
                    continue
                if acid:
                    self._adjectives.setdefault(word, (row, hazard))
                if row.type == "botanical":
                    self._botanical.setdefault(word, (row, hazard))
        self._drop_shared(rows)

    def _drop_shared(self, rows: Iterable[Name]) -> None:
        for row in rows:
            for word in words(row.name):
                for parts in (self._adjectives, self._botanical):
                    if word in parts and row.target_id != parts[word][1]:
                        del parts[word]

    def named_by(self, left_over: list[str]) -> Iterator[tuple[str, Name, str]]:
        """Find the hazards that words which were not understood are a part of.

        Parameters
        ----------
        left_over
            The words.

        Returns
        -------
        iterator of tuple
            The word, a spelling that it is a part of, and the hazard. A botanical epithet counts only where nothing
            else was left over: plants of other genera share it.
        """
        for word in left_over:
            if word in self._adjectives:
                yield (word, *self._adjectives[word])
        if all(word in self._botanical for word in left_over):
            for word in left_over:
                yield (word, *self._botanical[word])
