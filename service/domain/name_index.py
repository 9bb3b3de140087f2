"""Spellings by their words, scanned longest first."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from service.domain.label_text import words
from service.reference.records import Name

_AMOUNT_LIKE = re.compile(r"[0-9]+(?:mg|g|kg|mcg|ug|iu|ml|l|kcal|ppm|x)?")
# "Birkenzuckerpulver" is birch sugar as "Birkenzucker, Pulver" is; an oil or a juice can be another substance.
_NEUTRAL_ENDINGS = ("pulver", "poeder", "granulat", "granulaat", "paste", "pasta", "flocken", "extrakt", "extract")
_UNIT_WORDS = frozenset("mg mcg ug iu ml kcal ppm cfu gdu rae dfe".split())


@dataclass(frozen=True, slots=True)
class Hit:
    """A spelling found at words ``start`` to ``end`` (half-open) of a phrase."""

    start: int
    end: int
    row: Name


class NameIndex:
    """Finds known spellings inside a phrase in time linear in its words.

    Parameters
    ----------
    rows
        The spellings.
    fillers
        Words that name nothing by themselves ("dried", "no"): a short name counts with them beside it.
    """

    def __init__(self, rows: Iterable[Name], fillers: frozenset[str] = frozenset()) -> None:
        phrases: dict[tuple[str, ...], list[Name]] = {}
        whole_items: dict[tuple[str, ...], list[Name]] = {}
        for row in rows:
            key = words(row.name)
            if key:
                (whole_items if row.match_mode == "exact_item" else phrases).setdefault(key, []).append(row)
        # "5-HTP" is also printed "5HTP", "vitamin D3" "vitaminD3".
        for key in [key for key in phrases if len(key) > 1 and any(word.isdigit() for word in key)]:
            phrases.setdefault(("".join(key),), phrases[key])
        self._phrases = phrases
        self._whole_items = whole_items
        self._fillers = fillers
        self._longest: dict[str, int] = {}
        for key in phrases:
            self._longest[key[0]] = max(self._longest.get(key[0], 0), len(key))
        self.known_words = frozenset(word for key in (*phrases, *whole_items) for word in key)

    def scan(self, tokens: tuple[str, ...]) -> tuple[Hit, ...]:
        """Find all spellings, longest first from left to right.

        Parameters
        ----------
        tokens
            The words of one item.

        Returns
        -------
        tuple of Hit
            Non-overlapping; one per meaning where a spelling has several. A short or ambiguous name
            (``ALA``, ``salt``) only counts where it is the whole item, fillers aside.
        """
        singular = tuple(self._plain_form(word) for word in tokens)
        core = [at for at, word in enumerate(tokens) if not self.is_unit_like(word)]
        if tokens:
            # A lone "Mg" is the element; after a number it is a unit.
            first, last = (core[0], core[-1] + 1) if core else (0, len(tokens))
            for words_ in (tokens, singular):
                if rows := self._whole_items.get(words_[first:last]):
                    return tuple(Hit(first, last, row) for row in rows)
        hits: list[Hit] = []
        at = 0
        while at < len(tokens):
            length, rows = self._best_at(tokens, singular, at)
            hits.extend(Hit(at, at + length, row) for row in rows)
            at += length or 1
        return tuple(hits) or self._beside_fillers(tokens, singular)

    def rows_of(self, tokens: tuple[str, ...]) -> tuple[Name, ...]:
        """Give the rows of exactly these words, short names included.

        Parameters
        ----------
        tokens
            The words of a name.

        Returns
        -------
        tuple of Name
            Empty where no spelling has these words.
        """
        singular = tuple(self._plain_form(word) for word in tokens)
        for words_ in (tokens, singular):
            if rows := (*self._phrases.get(words_, ()), *self._whole_items.get(words_, ())):
                return rows
        return ()

    def core_of(self, tokens: tuple[str, ...], start: int, end: int) -> tuple[int, ...]:
        """Give the positions of the words from ``start`` to ``end`` that are neither fillers nor amounts.

        Parameters
        ----------
        tokens
            The words of one item, as :func:`service.domain.label_text.words` cuts them.
        start
            First position.
        end
            Position after the last.

        Returns
        -------
        tuple of int
            In order; empty where all words are fillers or amounts.
        """
        return tuple(
            at for at in range(start, end) if tokens[at] not in self._fillers and not self.is_unit_like(tokens[at])
        )

    def _beside_fillers(self, tokens: tuple[str, ...], singular: tuple[str, ...]) -> tuple[Hit, ...]:
        """Find a short name with only fillers beside it: ``dried ALA``, ``no salt``; or a filler that is a class."""
        core = self.core_of(tokens, 0, len(tokens))
        if core:
            for words_ in (tokens, singular):
                if rows := self._whole_items.get(tuple(words_[at] for at in core)):
                    return tuple(Hit(core[0], core[-1] + 1, row) for row in rows)
            return ()
        # The article "the" folds to the same letters as the French word for tea.
        found = (
            (at, self._whole_items.get((word,), ()))
            for at, word in enumerate(tokens)
            if len(word) > 2 and (word != "the" or len(tokens) == 1)
        )
        return tuple(Hit(at, at + 1, row) for at, rows in found for row in rows)

    def _best_at(self, tokens: tuple[str, ...], singular: tuple[str, ...], at: int) -> tuple[int, list[Name]]:
        """Take the longest spelling here, unless a longer one begins inside it."""
        length, rows = self._longest_at(tokens, singular, at, len(tokens))
        for inside in range(1, length):
            if self._longest_at(tokens, singular, at + inside, len(tokens))[0] > length:
                return self._longest_at(tokens, singular, at, at + inside)
        return length, rows

    def _longest_at(
        self, tokens: tuple[str, ...], singular: tuple[str, ...], at: int, end: int
    ) -> tuple[int, list[Name]]:
        most = max(self._longest.get(tokens[at], 0), self._longest.get(singular[at], 0))
        for length in range(min(most, end - at), 0, -1):
            for words_ in (tokens, singular):
                if rows := self._phrases.get(words_[at : at + length]):
                    return length, rows
        return 0, []

    def _plain_form(self, word: str) -> str:
        """Give the known form of a word: its singular, or what a German or Dutch compound is a powder of."""
        if word in self.known_words or len(word) < 4:
            return word
        for ending, replacement in (("ies", "y"), ("es", "e"), ("es", ""), ("s", "")):
            if word.endswith(ending) and word[: -len(ending)] + replacement in self.known_words:
                return word[: -len(ending)] + replacement
        for ending in _NEUTRAL_ENDINGS:
            if word.endswith(ending) and (word[: -len(ending)],) in self._phrases:
                return word[: -len(ending)]
        # German dative: "Spuren von Macadamianüssen".
        return word[:-1] if len(word) > 7 and word.endswith("n") and word[:-1] in self.known_words else word

    @staticmethod
    def is_unit_like(word: str) -> bool:
        """Say whether a word is a number or a number with a unit, as in ``500mg``.

        Parameters
        ----------
        word
            One folded word.

        Returns
        -------
        bool
            ``True`` for an amount or a unit.
        """
        return _AMOUNT_LIKE.fullmatch(word) is not None or word in _UNIT_WORDS
