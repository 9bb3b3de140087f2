"""What reading names of medicines, conditions and traits has in common: comparing, splitting, suggesting."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from rapidfuzz import fuzz, process

from service.domain.screening_answers import Recognised, Statement, TakenAs, Unrecognised

T = TypeVar("T")

MEDICATIONS, CONDITIONS, TRAITS = "medications", "conditions", "traits"
_NOTHING = frozenset(
    "none;no;nil;null;nothing;n/a;na;n.a.;not applicable;no medication;no medications;no medicine;no medicines;"
    "no condition;no conditions;none known;healthy;keine;keines;nichts;aucun;aucune;rien;ninguno;ninguna;nada"
    "".split(";")
)
_BETWEEN_WORDS = re.compile(r"[\s()\[\]{},;:/+*&|\u2044]+")
_BETWEEN_PARTS = re.compile(
    r"[,;+&/|\n]|\s[-\u2013\u2014\u00d7]\s|\s(?:and|with|plus|or|x|und|mit|sowie|oder|et|avec|ou|y|con|o)\s",
    re.IGNORECASE,
)
_DENIAL = re.compile(
    r"(?:no|not|never|without|kein|keine|keinen|nicht|ohne|sans|pas de|pas d'|aucun|aucune|sin|ning\u00fan|ninguna)\s+",
    re.IGNORECASE,
)
_FEWEST_LETTERS_TO_SUGGEST = 4
_MOST_SUGGESTED, _MOST_COMPARED = 3, 12
_LONGEST_COMPARED = 80
# A name is at most 100 signs long on the wire; more words than this are no name.
_MOST_WORDS = 24
_MOST_PARTS = 12


@dataclass(frozen=True, slots=True)
class NamesRead:
    """What one text of a list was read as: one or several names, or what is not understood of it."""

    recognised: tuple[Recognised, ...] = ()
    unrecognised: tuple[Unrecognised, ...] = ()
    statements: tuple[Statement, ...] = ()
    taken_as: tuple[TakenAs, ...] = ()


def together(read: Iterable[NamesRead]) -> NamesRead:
    """Put what several texts were read as into one.

    Parameters
    ----------
    read
        In order.

    Returns
    -------
    NamesRead
        Everything, in that order.
    """
    all_read = tuple(read)
    return NamesRead(
        recognised=tuple(found for one in all_read for found in one.recognised),
        unrecognised=tuple(found for one in all_read for found in one.unrecognised),
        statements=tuple(found for one in all_read for found in one.statements),
        taken_as=tuple(found for one in all_read for found in one.taken_as),
    )


def fold_name(text: str) -> str:
    """Make the name of a medicine or condition comparable: case, blanks, accents, apostrophes; never endings.

    Parameters
    ----------
    text
        As printed or written.

    Returns
    -------
    str
        For comparing only.
    """
    spaced = re.sub(r"[-_\u2010-\u2015]", " ", text.replace("\u2019", "'").replace("'", ""))
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", spaced) if not unicodedata.combining(sign))
    return " ".join(plain.casefold().split())


def name_words(text: str) -> tuple[str, ...]:
    """Split a name into comparable words, without punctuation.

    Parameters
    ----------
    text
        As printed or written.

    Returns
    -------
    tuple of str
        In order.
    """
    words = (word.strip('.!?"') for word in _BETWEEN_WORDS.split(fold_name(text)))
    return tuple(word for word in words if word)


def key_of(words: Iterable[str]) -> str:
    """Make the key of a name: its words, whatever their order ("warfarin sodium", "sodium warfarin").

    Parameters
    ----------
    words
        Comparable words.

    Returns
    -------
    str
        Empty for no words.
    """
    return " ".join(sorted(words))


def longest_name(names: Mapping[str, T], words: tuple[str, ...], may_stand_beside: Callable[[str], bool]) -> T | None:
    """Find the longest known name in a text of which every other word says nothing about what is named.

    Parameters
    ----------
    names
        Meanings by key.
    words
        Comparable words of the text.
    may_stand_beside
        Whether a word may stand outside the name ("50", "mg", "known").

    Returns
    -------
    object or None
        The meaning of the longest such name: "in pup (known)" is the name "in pup".
    """
    words = words[:_MOST_WORDS]
    free = [may_stand_beside(word) for word in words]
    # The name has to reach from the first to the last word that does not say nothing.
    first = next((at for at, is_free in enumerate(free) if not is_free), len(words))
    last = next((at for at in range(len(words), 0, -1) if not free[at - 1]), 0)
    spans = ((start, end) for start in range(len(words)) for end in range(start + 1, len(words) + 1))
    fitting = [(start, end) for start, end in spans if start <= first and end >= last]
    for start, end in sorted(fitting, key=lambda span: span[0] - span[1]):
        if (found := names.get(key_of(words[start:end]))) is not None:
            return found
    return None


def says_nothing(text: str) -> bool:
    """Say whether a text is a way to write "none".

    Parameters
    ----------
    text
        As written.

    Returns
    -------
    bool
        ``True`` for ``none``, ``-``, ``keine`` and the like.
    """
    return not any(sign.isalnum() for sign in text) or text.strip().casefold() in _NOTHING


def parts_of(text: str) -> tuple[str, ...]:
    """Split what may be several names in one text ("kidney disease and a weak heart").

    Parameters
    ----------
    text
        As written.

    Returns
    -------
    tuple of str
        Two parts at least and twelve at most; none where the text is one, or no list that a person would write.
    """
    parts = tuple(part.strip() for part in _BETWEEN_PARTS.split(text) if part.strip())
    return parts if 1 < len(parts) <= _MOST_PARTS else ()


def denied(text: str) -> str | None:
    """Give what a text says is not the case ("no heart trouble").

    Parameters
    ----------
    text
        As written.

    Returns
    -------
    str or None
        The rest after "no" and the like; ``None`` where the text denies nothing.
    """
    match = _DENIAL.match(text.strip())
    return text.strip()[match.end() :] if match else None


def to_suggest(names: Iterable[tuple[str, str]]) -> Mapping[str, tuple[str, str]]:
    """Prepare names for suggestions: folded once, scraps left out.

    Parameters
    ----------
    names
        Names with the id of what each means.

    Returns
    -------
    mapping of str to (str, str)
        Name and id by folded name.
    """
    found: dict[str, tuple[str, str]] = {}
    for name, id_ in names:
        if len(name) >= _FEWEST_LETTERS_TO_SUGGEST:
            found.setdefault(fold_name(name), (name, id_))
    return MappingProxyType(found)


def nearest_names(text: str, known: Mapping[str, tuple[str, str]], least_likeness: int) -> tuple[str, ...]:
    """Suggest known names that look like a text; never a scrap, to which everything comes close.

    Parameters
    ----------
    text
        As written.
    known
        What ``to_suggest`` prepared: of two names for one thing only the nearer is suggested.
    least_likeness
        From 0 to 100.

    Returns
    -------
    tuple of str
        At most three, best first.
    """
    folded = fold_name(text)[:_LONGEST_COMPARED]
    if sum(sign.isalpha() for sign in folded) < _FEWEST_LETTERS_TO_SUGGEST:
        return ()
    found = process.extract(folded, known.keys(), scorer=fuzz.ratio, limit=_MOST_COMPARED, score_cutoff=least_likeness)
    one_each: dict[str, str] = {}
    for key, _score, _index in found:
        name, id_ = known[key]
        one_each.setdefault(id_, name)
    return tuple(one_each.values())[:_MOST_SUGGESTED]
