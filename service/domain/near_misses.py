"""Spellings that come close to a hazard's. They are reported, never accepted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from rapidfuzz.distance import OSA

from service.domain.close_spellings import CloseSpellings
from service.domain.hazard_parts import HazardParts
from service.domain.label_text import words
from service.domain.look_alikes import shape_of, sound_of, undoubled
from service.domain.near_phrases import NearPhrases
from service.reference.records import Hazard, Name
from service.reference.release import Reference

_SHORTEST_NAME = 5
# A code or an abbreviation is never taken for a slip of another, only for the same shape.
_SHORTEST_SHAPE = 4
# One slip in a short name, two in a longer one that begins with the same letter. In one of seven letters two slips
# leave as much alike as not: there the sound must agree ("xilytol", "zylotol"), and in one of six as well ("comfri").
# Words put together need to be longer still.
_TWO_SLIPS_FROM = 6
_TWO_SLIPS_FREELY_FROM = 8
_TWO_SLIPS_IN_A_PIECE_FROM = 7
_TWO_SLIPS_TOGETHER_FROM = 10
# Of a word of four letters only one that lacks a letter of five ("onin"), or has two changed about ("hpos").
_SHORT = 4
_SHORTEST_ALONE = 6
_SHORTEST_INSIDE = 6
_MOST = 3
_LONGEST_TEXT = 60
# A name torn into more pieces than this is only found where the whole item is pieces: "x y l i t o l".
_MOST_PIECES = 3
# Ordinary words one or two letters from a hazard. They stay unknown words; they are no slips.
WORDS_OF_THEIR_OWN = frozenset(
    """gravy gravies henna union unions reunion opinion sultan sultans tartary tartan current currently custard
    crate grate grapple raising garland""".split()
)
_GRAVE = {"contact_now", "avoid", "ask_veterinarian"}
_SEVERE = frozenset({"signs_moderate", "signs_severe", "potentially_lethal"})


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


def grave_hazard_of(reference: Reference, row: Name) -> str | None:
    """Give the hazard that a spelling names, if its mere presence is a reason to stop or to ask.

    Parameters
    ----------
    reference
        Release that the spelling is of.
    row
        The spelling.

    Returns
    -------
    str or None
        ``None`` also for ordinary nutrients and mild substances: a slip near their names must alarm no one.
    """
    if row.target_id is None or row.type == "false_friend":
        return None
    if row.target_kind == "hazard":
        named: tuple[Hazard, ...] = (reference.hazards[row.target_id],)
    else:
        # Cannabidiol is a chemical form of what it is named after.
        named = reference.hazards_of.get(reference.owner_of(row) or "", ()) if row.target_kind == "form" else ()
    grave = (one.id for one in named if _GRAVE & {one.unquantified_dog, one.unquantified_cat})
    return next(grave, None)


def harmful_nutrient_of(reference: Reference, row: Name) -> str | None:
    """Give the hazard of a nutrient that a spelling names, if more than mild signs are published of it.

    Parameters
    ----------
    reference
        Release that the spelling is of.
    row
        The spelling.

    Returns
    -------
    str or None
        A slip of it is told, and makes a screen incomplete; it alarms no one.
    """
    owner = reference.owner_of(row)
    if row.type == "false_friend" or owner is None or reference.ingredients[owner].kind != "nutrient":
        return None
    named = [
        one for one in reference.hazards_of.get(owner, ()) if row.target_kind != "hazard" or one.id == row.target_id
    ]
    severe = (
        one.id
        for one in named
        for species in ("dog", "cat")
        for tier in reference.thresholds_of.get((one.id, species), ())
        if tier.severity in _SEVERE and tier.use == "primary"
    )
    return next(severe, None)


class NearMissFinder:
    """Compares what was not understood with every spelling of a hazard: by edit distance, shape and parts."""

    def __init__(self, reference: Reference, known_words: frozenset[str]) -> None:
        self._reference = reference
        self._known = known_words = known_words | WORDS_OF_THEIR_OWN
        self._hazards: dict[str, _Candidate] = {}
        self._shapes: dict[str, str] = {}
        self._undoubled: dict[str, str] = {}
        rows = [(row, hazard) for row in reference.names if (hazard := grave_hazard_of(reference, row))]
        nutrients = [(row, hazard) for row in reference.names if (hazard := harmful_nutrient_of(reference, row))]
        names: list[tuple[str, ...]] = []
        for row, hazard in (*rows, *nutrients):
            joined = "".join(words(row.name))
            if joined.isdigit() or len(joined) < _SHORTEST_SHAPE or _is_short_item(row, joined):
                continue
            self._hazards.setdefault(joined, _Candidate(row, reference.owner_of(row), hazard))
            self._shapes.setdefault(shape_of(joined), joined)
            if row.match_mode != "code":
                self._undoubled.setdefault(undoubled(joined), joined)
            if row.match_mode == "phrase":
                names.append(words(row.name))
        self._phrases = NearPhrases(names)
        self._inside_words = {"".join(words(row.name)) for row, _hazard in rows if row.match_mode == "phrase"}
        self._parts = HazardParts(reference.names, {row: hazard for row, hazard in rows if row.match_mode == "phrase"})
        named = [one for one, found in self._hazards.items() if found.row.match_mode != "code"]
        self._short = _short_slips(self._inside_words)
        named = [one for one in named if len(one) >= _SHORTEST_NAME]
        self._sounds: dict[str, list[str]] = {}
        for one in named:
            if len(one) >= _TWO_SLIPS_FROM and one.isalpha() and self._hazards[one].row.match_mode == "phrase":
                self._sounds.setdefault(sound_of(one), []).append(one)
        self._close, self._close_known = CloseSpellings(named), CloseSpellings(known_words)
        self._longest = max(map(len, self._inside_words), default=0)

    def find(self, tokens: tuple[str, ...], covered: Collection[int]) -> tuple[NearMiss, ...]:
        """Find hazards that the words not yet understood might be a slip of.

        Parameters
        ----------
        tokens
            All words of the item.
        covered
            Positions already understood, and those of words that name nothing.

        Returns
        -------
        tuple of NearMiss
            Best first, at most three, one per hazard. The work grows with the number of words, and no word is left out.
        """
        left = [
            at
            for at, word in enumerate(tokens)
            if at not in covered and not word.isdigit() and word not in WORDS_OF_THEIR_OWN
        ]
        best: dict[str, NearMiss] = {}
        for miss in self._all(tokens, left):
            if miss.hazard and (miss.hazard not in best or best[miss.hazard].similarity < miss.similarity):
                best[miss.hazard] = miss
        return tuple(sorted(best.values(), key=lambda miss: (-miss.similarity, miss.name))[:_MOST])

    def _all(self, tokens: tuple[str, ...], left: list[int]) -> Iterator[NearMiss]:
        for text in dict.fromkeys(_runs(tokens, left)):
            yield from self._by_shape(text)
            if not text.isalpha():
                yield from self._by_doubling(text)
        unknown = [at for at in left if tokens[at] not in self._known]
        for text in dict.fromkeys(_spelt_alike(tokens[at][:_LONGEST_TEXT] for at in unknown)):
            yield from self._by_doubling(text)
            yield from self._by_sound(text)
            yield from self._by_distance(text, _TWO_SLIPS_FREELY_FROM)
            # Of the shorter names only what a compound begins with: "Xylitzubereitung".
            yield from self._written_in(text, (*self._pieces(text), text[: _SHORTEST_INSIDE - 1]))
        for name, printed in self._phrases.near(tokens, left):
            spelling = "".join(name)
            yield _near_miss(self._hazards[spelling], 1 - 1 / Decimal(max(len(spelling), len(printed) + 1)))
        for pieces in dict.fromkeys(_together(tokens, unknown)):
            text = "".join(pieces)[:_LONGEST_TEXT]
            yield from self._by_distance(text, _TWO_SLIPS_TOGETHER_FROM, pieces)
            yield from self._written_in(text, self._pieces(text))
        for part, row, hazard in self._parts.named_by([tokens[at] for at in left]):
            share = Decimal(len(part)) / len("".join(words(row.name)))
            yield _near_miss(_Candidate(row, self._reference.owner_of(row), hazard), share)

    def _by_shape(self, text: str) -> Iterator[NearMiss]:
        if (spelling := self._shapes.get(shape_of(text))) is not None:
            yield self._alike(text, spelling)

    def _by_doubling(self, text: str) -> Iterator[NearMiss]:
        """Find what differs in doubled letters only, short names included: "hopps"; "onin", "hpos" as well."""
        spelling = self._undoubled.get(undoubled(text)) if len(text) >= _SHORTEST_NAME else self._short.get(text)
        if spelling is not None:
            yield self._alike(text, spelling)

    def _alike(self, text: str, spelling: str) -> NearMiss:
        slips = OSA.distance(text, spelling)
        return _near_miss(self._hazards[spelling], 1 - Decimal(slips) / max(len(text), len(spelling)))

    def _by_sound(self, text: str) -> Iterator[NearMiss]:
        """Find what two slips leave sounding the same: "zylotol", "comfri"."""
        if len(text) < _TWO_SLIPS_FROM:
            return
        for spelling in self._sounds.get(sound_of(text), ()):
            slips = OSA.distance(text, spelling, score_cutoff=2)
            if slips == 1 or (slips == 2 and not self._is_slip_of_a_known_word(text)):
                yield self._alike(text, spelling)

    def _by_distance(self, text: str, two_slips_from: int, pieces: tuple[str, ...] = ()) -> list[NearMiss]:
        if len(text) < _SHORTEST_NAME:
            return []
        found = self._close.near(text, 2 if len(text) >= two_slips_from else 1)
        if found and found[0][1] == 2 and self._is_slip_of_a_known_word(text):
            # "silicia" is one slip from silica and two from salicin: no reason to alarm anyone.
            return []
        return [
            self._alike(text, spelling)
            for spelling, slips in found
            if slips < 2 or self._may_be_two_slips(text, spelling, pieces)
        ]

    def _may_be_two_slips(self, text: str, spelling: str, pieces: tuple[str, ...]) -> bool:
        row = self._hazards[spelling].row
        if min(len(text), len(spelling)) < _TWO_SLIPS_FREELY_FROM or spelling[0] != text[0]:
            return False
        return row.match_mode == "phrase" and _each_may_be(pieces, words(row.name))

    def _is_slip_of_a_known_word(self, text: str) -> bool:
        return bool(self._close_known.near(text, 1))

    def _pieces(self, text: str) -> set[str]:
        return {
            text[start : start + size]
            for size in range(_SHORTEST_INSIDE, min(len(text) - 1, self._longest) + 1)
            for start in range(len(text) - size + 1)
        }

    def _written_in(self, text: str, pieces: Iterable[str]) -> list[NearMiss]:
        """Find hazards written into a longer word, as German and Dutch do: ``Birkenxylitpulver``."""
        return [
            _near_miss(self._hazards[piece], Decimal(len(piece)) / len(text))
            for piece in pieces
            if piece in self._inside_words and piece in self._hazards
        ]


def _together(tokens: tuple[str, ...], unknown: list[int]) -> Iterator[tuple[str, ...]]:
    """Unknown words with their neighbours: a name may be broken, or one of its words misspelt."""
    for at in unknown:
        for start, end in ((at, at + 2), (at - 1, at + 1), (at - 1, at + 2)):
            if start >= 0 and end <= len(tokens):
                yield tokens[start:end]
    if len(tokens) > 2 and all(len(word) <= 4 for word in tokens):
        yield tokens


def _is_short_item(row: Name, joined: str) -> bool:
    """Say whether a name counts as a whole item only and is no word that a slip could be told of: "ALA", "PG"."""
    if row.match_mode != "exact_item":
        return False
    return len(joined) < _SHORTEST_ALONE or not row.name.isalpha() or row.name.isupper()


def _short_slips(names: Iterable[str]) -> dict[str, str]:
    """Write down the slips of the shortest names, their first letter kept."""
    found: dict[str, str] = {}
    for name in names:
        if len(name) == _SHORTEST_NAME and name.isalpha():
            found.update({name[:at] + name[at + 1 :]: name for at in range(1, len(name))})
        if len(name) == _SHORT and name.isalpha():
            found.update({f"{name[:at]}{name[at + 1]}{name[at]}{name[at + 2 :]}": name for at in (1, 2)})
    return found


def _spelt_alike(texts: Iterable[str]) -> Iterator[str]:
    """Give each text, and how it is spelt with an "f": "sulphits", "colecalcipherol"."""
    for text in texts:
        yield text
        if "ph" in text:
            yield text.replace("ph", "f")


def _each_may_be(pieces: tuple[str, ...], spelling: tuple[str, ...]) -> bool:
    """Say whether words put together are slips of those of a spelling one by one; a short word has one slip only."""
    if len(pieces) != len(spelling):
        return True
    pairs = zip(pieces, spelling, strict=True)
    return all(
        OSA.distance(piece, word) < 2 or min(len(piece), len(word)) >= _TWO_SLIPS_IN_A_PIECE_FROM
        for piece, word in pairs
    )


def _runs(tokens: tuple[str, ...], left: list[int]) -> Iterator[str]:
    """Words that were not understood, alone and put together with up to two neighbours."""
    for at in left:
        for pieces in range(1, _MOST_PIECES + 1):
            for start in range(max(0, at - pieces + 1), min(at, len(tokens) - pieces) + 1):
                text = "".join(tokens[start : start + pieces])
                if _SHORTEST_SHAPE <= len(text) <= _LONGEST_TEXT:
                    yield text


def _near_miss(candidate: _Candidate, similarity: Decimal) -> NearMiss:
    return NearMiss(candidate.row.name, candidate.ingredient, candidate.hazard, similarity.quantize(Decimal("0.01")))
