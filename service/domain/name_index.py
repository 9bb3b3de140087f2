"""Spellings by their words, scanned longest first."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from service.domain.label_text import words
from service.reference.records import Name

_AMOUNT_LIKE = re.compile(r"[0-9]+(?:mg|g|kg|mcg|ug|iu|ml|l|kcal|ppm|x)?")


@dataclass(frozen=True, slots=True)
class Hit:
    """A spelling found at words ``start`` to ``end`` (half-open) of a phrase."""

    start: int
    end: int
    row: Name


class NameIndex:
    """Finds known spellings inside a phrase in time linear in its words."""

    def __init__(self, rows: Iterable[Name]) -> None:
        phrases: dict[tuple[str, ...], list[Name]] = {}
        whole_items: dict[tuple[str, ...], list[Name]] = {}
        for row in rows:
            key = words(row.name)
            if key:
                (whole_items if row.match_mode == "exact_item" else phrases).setdefault(key, []).append(row)
        self._phrases = phrases
        self._whole_items = whole_items
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
            (``ALA``, ``salt``) only counts where it is the whole item.
        """
        singular = tuple(self._singular(word) for word in tokens)
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
            length, rows = self._longest_at(tokens, singular, at)
            hits.extend(Hit(at, at + length, row) for row in rows)
            at += length or 1
        return tuple(hits)

    def _longest_at(self, tokens: tuple[str, ...], singular: tuple[str, ...], at: int) -> tuple[int, list[Name]]:
        most = max(self._longest.get(tokens[at], 0), self._longest.get(singular[at], 0))
        for length in range(min(most, len(tokens) - at), 0, -1):
            for words_ in (tokens, singular):
                if rows := self._phrases.get(words_[at : at + length]):
                    return length, rows
        return 0, []

    def _singular(self, word: str) -> str:
        if word in self.known_words or len(word) < 4:
            return word
        for ending, replacement in (("ies", "y"), ("es", "e"), ("es", ""), ("s", "")):
            if word.endswith(ending) and word[: -len(ending)] + replacement in self.known_words:
                return word[: -len(ending)] + replacement
        return word

    @staticmethod
    def is_unit_like(word: str) -> bool:
        """Say whether a word is a number or a number with a unit, as in ``500mg``."""
        return _AMOUNT_LIKE.fullmatch(word) is not None or word in ("mg", "mcg", "ug", "iu", "ml", "kcal", "ppm", "cfu")
