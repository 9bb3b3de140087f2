"""Spellings by their words, scanned longest first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from service.domain.denial_words import JOINING, REOPENING, SINGLE
from service.domain.label_text import words
from service.domain.plurals import without_number
from service.reference.records import Name

_AMOUNT_LIKE = re.compile(r"[0-9]+(?:mg|g|kg|mcg|ug|iu|ml|l|kcal|ppm|x)?")
# "Birkenzuckerpulver" is birch sugar as "Birkenzucker, Pulver" is; an oil or a juice can be another substance.
_NEUTRAL_ENDINGS = (
    *("pulver", "poeder", "granulat", "granulaat", "paste", "pasta", "flocken", "vlokken", "extrakt", "extract"),
    *("sirup", "siroop", "kristalle", "kristallen", "doppen", "stucke", "stukjes", "zubereitung", "konzentrat"),
)
# "E 967 (i)" is a kind of E 967.
_KIND_OF_CODE = re.compile(r"(e[0-9]{3,4})(?:[a-z]|[a-z]?(?:i{1,3}|iv|v))")
_UNIT_WORDS = frozenset("mg mcg ug iu ml kcal ppm cfu gdu rae dfe".split())
# "Birch-derived sweetener" is birch sweetener: such a word between two parts of a name is none of them.
_LINKING = frozenset("derived based sourced made".split())
# Between these a short name of a hazard is a name of its own; "lys" is also lysine.
_PARTING = JOINING | REOPENING | SINGLE | frozenset("por also auch aussi".split())
_BESIDE = frozenset("grain grains grano bulb bulbs bulbe bulbo cabeza tete zehe zehen".split())
_ALSO_OTHERS = frozenset({"lys"})
_ONION_OR_UNIT = "ui"
# "Neo-X" and "nor-X" are other substances than X.
_CHANGING = frozenset(("neo", "nor"))


@dataclass(frozen=True, slots=True)
class Hit:
    """A spelling found at words ``start`` to ``end`` (half-open) of a phrase."""

    start: int
    end: int
    row: Name


_MOST_REMEMBERED = 4096
_NONE: frozenset[int] = frozenset()


def _shared(lengths: dict[str, set[int]]) -> dict[str, frozenset[int]]:
    """Keep each set of lengths once: thousands of words share a few dozen."""
    known: dict[frozenset[int], frozenset[int]] = {}
    frozen = ((first, frozenset(several)) for first, several in lengths.items())
    return {first: known.setdefault(several, several) for first, several in frozen}


class _Forms(NamedTuple):
    """The words of a phrase: as they are, in the singular, and without their number."""

    tokens: tuple[str, ...]
    singular: tuple[str, ...]
    numberless: tuple[str, ...]


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
        for known in (phrases, whole_items):
            for key in [key for key in known if len(key) > 1 and any(word.isdigit() for word in key)]:
                known.setdefault(("".join(key),), known[key])
        self._phrases = phrases
        self._numberless = _without_numbers(phrases)
        self._whole_items = whole_items
        self._short = {key: rows for key, rows in whole_items.items() if all(map(_is_word_for_hazard, rows))}
        self._short_words = frozenset(word for key in self._short for word in key)
        self._fillers = fillers
        self._plain_forms: dict[str, str] = {}
        lengths: dict[str, set[int]] = {}
        for key in (*phrases, *self._numberless):
            lengths.setdefault(key[0], set()).add(len(key))
        self._lengths = _shared(lengths)
        for key in whole_items:
            lengths.setdefault(key[0], set()).add(len(key))
        self._lengths_of_all = _shared(lengths)
        self.most_words = max((len(key) for key in (*phrases, *whole_items)), default=0)
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
        if whole := self._whole(tokens, singular):
            return whole
        hits = self._phrases_in(tokens, singular)
        if not _LINKING.isdisjoint(tokens):
            hits = self._over_links(tokens, hits)
        if not hits and (beside := self._beside_fillers(tokens, singular)):
            return beside
        if self._short_words.intersection(tokens):
            hits = sorted((*hits, *self._among_others(tokens, hits)), key=lambda hit: hit.start)
        return tuple(hits)

    def _whole(self, tokens: tuple[str, ...], singular: tuple[str, ...]) -> tuple[Hit, ...]:
        """Find a short name that is the whole item: a lone "Mg" is the element, after a number it is a unit."""
        if not tokens:
            return ()
        core = [at for at, word in enumerate(tokens) if not self.is_unit_like(word)]
        first, last = (core[0], core[-1] + 1) if core else (0, len(tokens))
        if _is_a_unit(tokens, first):
            return ()
        # "Red 3" is a name with its number.
        for start, end in dict.fromkeys(((0, len(tokens)), (first, last))):
            for words_ in (tokens, singular):
                if rows := self._whole_items.get(words_[start:end]):
                    return tuple(Hit(start, end, row) for row in rows)
        return ()

    def _phrases_in(self, tokens: tuple[str, ...], singular: tuple[str, ...]) -> list[Hit]:
        forms = _Forms(tokens, singular, tuple(without_number(word) for word in tokens))
        hits: list[Hit] = []
        at = 0
        while at < len(tokens):
            length, rows = self._best_at(forms, at)
            if not (at and tokens[at - 1] in _CHANGING):
                hits.extend(Hit(at, at + length, row) for row in rows)
            at += length or 1
        return hits

    def _over_links(self, tokens: tuple[str, ...], hits: list[Hit]) -> list[Hit]:
        """Add what stands around a linking word: "birch-derived sweetener"; it replaces the parts found before."""
        kept = [at for at, word in enumerate(tokens) if word not in _LINKING]
        rest = tuple(tokens[at] for at in kept)
        found = self._phrases_in(rest, tuple(self._plain_form(word) for word in rest))
        over = [
            Hit(kept[hit.start], kept[hit.end - 1] + 1, hit.row)
            for hit in found
            if kept[hit.end - 1] - kept[hit.start] >= hit.end - hit.start and _is_hazard(hit.row)
        ]
        replaced = {at for one in over for at in range(one.start, one.end)}
        apart = [hit for hit in hits if replaced.isdisjoint(range(hit.start, hit.end))]
        return sorted((*apart, *over), key=lambda hit: hit.start)

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
        if not self._may_be_known(tokens):
            return ()
        singular = tuple(self._plain_form(word) for word in tokens)
        for words_ in (tokens, singular):
            if rows := (*self._phrases.get(words_, ()), *self._whole_items.get(words_, ())):
                return rows
        return ()

    def _may_be_known(self, tokens: tuple[str, ...]) -> bool:
        """Say whether a spelling of so many words begins with this one: most combinations of words are none."""
        if not tokens:
            return False
        firsts = (tokens[0], self._plain_form(tokens[0]))
        return any(len(tokens) in self._lengths_of_all.get(first, _NONE) for first in firsts)

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
                rows = self._whole_items.get(tuple(words_[at] for at in core))
                if rows and not _is_a_unit(tokens, core[0]):
                    return tuple(Hit(core[0], core[-1] + 1, row) for row in rows)
            return ()
        # The article "the" folds to the same letters as the French word for tea.
        found = (
            (at, self._whole_items.get((word,), ()))
            for at, word in enumerate(tokens)
            if len(word) > 2 and (word != "the" or len(tokens) == 1)
        )
        return tuple(Hit(at, at + 1, row) for at, rows in found for row in rows)

    def _among_others(self, tokens: tuple[str, ...], hits: list[Hit]) -> list[Hit]:
        """Find short names of hazards that stand alone between joining words: "sin gluten y con ajo"."""
        covered = {at for hit in hits for at in range(hit.start, hit.end)}
        found: list[Hit] = []
        start = 0
        for at in range(len(tokens) + 1):
            if at < len(tokens) and at not in covered and tokens[at] not in _PARTING:
                continue
            core = [place for place in self.core_of(tokens, start, at) if tokens[place] not in _BESIDE]
            rows = self._short.get(tuple(tokens[place] for place in core), ()) if core else ()
            if rows and not _is_a_unit(tokens, core[0]):
                found += [Hit(core[0], core[-1] + 1, row) for row in rows]
            start = at + 1
        return found

    def _best_at(self, forms: _Forms, at: int) -> tuple[int, list[Name]]:
        """Take the longest spelling here, unless a longer one begins inside it, or a hazard that goes on behind it.

        "Dried apricot seed" is the seed: the dried fruit is no reason to lose it.
        """
        all_of_it = len(forms.tokens)
        length, rows = self._longest_at(forms, at, all_of_it)
        yields = length > 1 and not any(_is_hazard(row) for row in rows)
        for inside in range(1, length):
            other, theirs = self._longest_at(forms, at + inside, all_of_it)
            goes_on = inside + other > length and any(_is_hazard(row) for row in theirs)
            if other > length or (yields and goes_on):
                return self._longest_at(forms, at, at + inside)
        return length, rows

    def _longest_at(self, forms: _Forms, at: int, end: int) -> tuple[int, list[Name]]:
        lengths = self._lengths
        possible = lengths.get(forms.tokens[at], _NONE)
        for words_ in (forms.singular, forms.numberless):
            if words_[at] != forms.tokens[at]:
                possible = possible | lengths.get(words_[at], _NONE)
        for length in sorted((one for one in possible if one <= end - at), reverse=True):
            for words_ in (forms.tokens, forms.singular):
                if rows := self._phrases.get(words_[at : at + length]):
                    return length, rows
            if rows := self._numberless.get(forms.numberless[at : at + length], []):
                return length, rows
        return 0, []

    def _plain_form(self, word: str) -> str:
        """Give the known form of a word: its singular, or what a German or Dutch compound is a powder of."""
        if word in self.known_words or len(word) < 4:
            return word
        if word not in self._plain_forms:
            if len(self._plain_forms) >= _MOST_REMEMBERED:
                self._plain_forms.clear()
            self._plain_forms[word] = self._form_without_ending(word)
        return self._plain_forms[word]

    def _form_without_ending(self, word: str) -> str:
        for ending, replacement in (("ies", "y"), ("es", "e"), ("es", ""), ("s", "")):
            if word.endswith(ending) and word[: -len(ending)] + replacement in self.known_words:
                return word[: -len(ending)] + replacement
        if (code := _KIND_OF_CODE.fullmatch(word)) is not None:
            return code[1]
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


def _is_hazard(row: Name) -> bool:
    return row.target_kind == "hazard"


def _is_word_for_hazard(row: Name) -> bool:
    """Say whether a name is a word ("ajo") and no abbreviation ("ALA"), of which many mean another thing."""
    return _is_hazard(row) and not row.name.isupper() and row.name not in _ALSO_OTHERS


def _is_a_unit(tokens: tuple[str, ...], at: int) -> bool:
    """Say whether the Dutch onion is a French or Spanish unit here: "400 UI"."""
    return tokens[at] == _ONION_OR_UNIT and at > 0 and tokens[at - 1].isdigit() and len(tokens[at - 1]) > 2


def _without_numbers(phrases: Mapping[tuple[str, ...], list[Name]]) -> dict[tuple[str, ...], list[Name]]:
    """Index the spellings by their words without number; of several spellings for one form a hazard's counts."""
    found: dict[tuple[str, ...], list[Name]] = {}
    for key, rows in phrases.items():
        plain = tuple(map(without_number, key))
        if plain not in found or (any(map(_is_hazard, rows)) and not any(map(_is_hazard, found[plain]))):
            found[plain] = rows
    return found
