"""Spellings that come close to a known one. They are reported, never accepted."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from service.domain.label_text import words
from service.reference.records import Name
from service.reference.release import Reference

_SHORTEST_NAME = 5
# One slip in a short name, two in a longer one that begins with the same letter.
_TWO_SLIPS_FROM = 7
_SHORTEST_INSIDE = 6
_MOST = 3
_MOST_BROKEN = 60


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A known name that a text resembles. ``similarity`` runs from 0 to 1."""

    name: str
    ingredient: str | None
    hazard: str | None
    similarity: Decimal


@dataclass(frozen=True, slots=True)
class _Candidate:
    row: Name
    ingredient: str | None
    hazard: str


class NearMissFinder:
    """Compares unknown words with every spelling of a hazard by edit distance."""

    def __init__(self, reference: Reference, known_words: frozenset[str]) -> None:
        self._reference = reference
        self._known = known_words
        self._hazards: dict[str, _Candidate] = {}
        for row in reference.names:
            joined = "".join(words(row.name))
            hazard = self._hazard_of(row)
            if hazard and row.match_mode == "phrase" and len(joined) >= _SHORTEST_NAME and not joined.isdigit():
                self._hazards.setdefault(joined, _Candidate(row, reference.owner_of(row), hazard))
        self._by_length: dict[int, list[str]] = {}
        for spelling in self._hazards:
            self._by_length.setdefault(len(spelling), []).append(spelling)
        self._longest = max(self._by_length, default=0)
        self._all_names = {
            row.name.casefold(): row.name
            for row in reference.names
            if row.target_id is not None and len(row.name) >= _SHORTEST_NAME
        }

    def _hazard_of(self, row: Name) -> str | None:
        if row.target_kind != "hazard" or row.target_id is None or row.type == "false_friend":
            return None
        hazard = self._reference.hazards[row.target_id]
        # A slip near an ordinary nutrient or a mild substance is no reason to alarm anyone.
        grave = {hazard.unquantified_dog, hazard.unquantified_cat} & {"contact_now", "avoid", "ask_veterinarian"}
        return row.target_id if grave else None

    def find(self, tokens: tuple[str, ...], covered: set[int]) -> tuple[NearMiss, ...]:
        """Find hazards that the words not yet understood might be a slip of.

        Parameters
        ----------
        tokens
            All words of the item.
        covered
            Positions already understood.

        Returns
        -------
        tuple of NearMiss
            Best first, at most three, one per hazard.
        """
        best: dict[str, NearMiss] = {}
        for text in self._texts(tokens, covered):
            for miss in (*self._by_distance(text), *self._inside(text)):
                if miss.hazard and (miss.hazard not in best or best[miss.hazard].similarity < miss.similarity):
                    best[miss.hazard] = miss
        return tuple(sorted(best.values(), key=lambda miss: (-miss.similarity, miss.name))[:_MOST])

    def _texts(self, tokens: tuple[str, ...], covered: set[int]) -> list[str]:
        """Unknown words, each with its right-hand neighbour, and a word broken into pieces put together."""
        unknown = [at for at, word in enumerate(tokens) if at not in covered and word not in self._known]
        texts = [tokens[at] for at in unknown]
        # A name broken in two stands in a short item; a page of prose is only read word by word.
        beside = unknown[:_MOST_BROKEN]
        texts += [tokens[at] + tokens[at + 1] for at in beside if at + 1 < len(tokens)]
        texts += [tokens[at - 1] + tokens[at] for at in beside if at > 0]
        if len(tokens) > 2 and all(len(word) <= 4 for word in tokens):
            texts.append("".join(tokens))
        return list(dict.fromkeys(text[:60] for text in texts if len(text) >= _SHORTEST_NAME))

    def _by_distance(self, text: str) -> list[NearMiss]:
        allowed = 2 if len(text) >= _TWO_SLIPS_FROM else 1
        near = [
            one for size in range(len(text) - allowed, len(text) + allowed + 1) for one in self._by_length.get(size, ())
        ]
        found = process.extract(text, near, scorer=OSA.distance, score_cutoff=allowed, limit=8)
        if found and min(distance for _, distance, _ in found) == allowed == 2 and self._is_slip_of_a_known_word(text):
            # "silicia" is one slip from silica and two from salicin: no reason to alarm anyone.
            return []
        return [
            self._miss(spelling, Decimal(1) - Decimal(int(distance)) / max(len(text), len(spelling)))
            for spelling, distance, _ in found
            if distance <= 1 or (len(spelling) >= _TWO_SLIPS_FROM and spelling[0] == text[0])
        ]

    def _is_slip_of_a_known_word(self, text: str) -> bool:
        words = [word for word in self._known if abs(len(word) - len(text)) <= 1]
        return process.extractOne(text, words, scorer=OSA.distance, score_cutoff=1) is not None

    def _inside(self, text: str) -> list[NearMiss]:
        """Find hazards written into a longer word, as German and Dutch do: ``Birkenxylitpulver``."""
        pieces = {
            text[start : start + size]
            for size in range(_SHORTEST_INSIDE, min(len(text) - 1, self._longest) + 1)
            for start in range(len(text) - size + 1)
        }
        return [self._miss(piece, Decimal(len(piece)) / len(text)) for piece in pieces if piece in self._hazards]

    def _miss(self, spelling: str, similarity: Decimal) -> NearMiss:
        candidate = self._hazards[spelling]
        return NearMiss(
            candidate.row.name, candidate.ingredient, candidate.hazard, similarity.quantize(Decimal("0.01"))
        )

    def nearest(self, name: str) -> tuple[str, ...]:
        """Names a person might have meant, best first, at most three; for messages only.

        Parameters
        ----------
        name
            What was not understood.

        Returns
        -------
        tuple of str
            As the release spells them; empty where nothing comes close.
        """
        wanted = name.casefold()[:80]
        found = process.extract(wanted, self._all_names.keys(), scorer=fuzz.ratio, limit=_MOST, score_cutoff=70)
        return tuple(self._all_names[key] for key, _score, _index in found)
