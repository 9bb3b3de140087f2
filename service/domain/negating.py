"""Which words of a phrase a negation reaches: "no xylitol" does, "no fillers: xylitol" does not.

Missing a hazard is worse than asking once too often, so a negation reaches as little as the wording allows: the thing
named next to it and what is joined to that by "or" and "and". It ends at punctuation, at a word that begins a new
statement ("with", "sweetened", "made"), and at the next thing that is merely put behind.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass

from service.domain.denial_words import (
    ADVERBS,
    AND,
    BEGINNINGS,
    CLAIMED,
    CONTAINING,
    DUTCH,
    DUTCH_OR,
    ENGLISH,
    FREE_AFTER,
    FREE_CLAIMS,
    GOVERNING,
    GREEN,
    IDLE,
    JOINING,
    KINDS,
    LEADING,
    LINKING,
    LISTING,
    NOT_FREE_OF_IT,
    OR,
    PAIRS,
    PREFIX,
    PROCESSED,
    PROCESSED_ENGLISH,
    REOPENING,
    SINGLE,
    STRENGTHENING,
    TRANSPARENT,
)
from service.domain.denials_behind import denied_behind

# "Irradiated", "bestrahltes": how English and German form the participle of most verbs.
_PARTICIPLE = re.compile(r"[a-z]{2,16}[a-df-z]ed|(?:ge|be|er|ver|ent)[a-z]{3,16}(?:t|en)(?:e[nrsm]?)?")
_ADDED = frozenset("added zugesetzt zugesetzte zugesetztes toegevoegd toegevoegde ajoute anadido aggiunto".split())
_WITH = frozenset((word,) for word in GOVERNING)
# Here a denial of a noun and of a participle begin alike: "no congelado", "pas congele".
_ROMANCE = frozenset(("no", "pas", "ni"))
_NOT_FREE_PHRASES = frozenset((word,) for word in NOT_FREE_OF_IT)


# What is denied has a name of a few words; a longer run is no name, and nothing in it is taken for absent.
_LONGEST_UNKNOWN = 16
# Nor does one denial speak of a whole page.
_LONGEST_REACH = 48


@dataclass(frozen=True, slots=True)
class Span:
    """Words ``start`` to ``end`` (half-open) of a phrase that name one thing."""

    start: int
    end: int


def negated_words(
    tokens: tuple[str, ...], named: Collection[Span], breaks: Collection[int], fillers: Collection[str]
) -> frozenset[int]:
    """Find the words that a negation reaches.

    Parameters
    ----------
    tokens
        The words of one item.
    named
        Where known names stand in it.
    breaks
        Positions of words that follow a full stop, a colon, a bracket or a dash.
    fillers
        Words that name nothing by themselves.

    Returns
    -------
    frozenset of int
        Positions inside the reach of a negation that is not itself negated.
    """
    if BEGINNINGS.isdisjoint(tokens):
        return frozenset()
    ends = {span.start: span.end for span in named}
    inside = {at for span in named for at in range(span.start, span.end)}
    # "Senza zucchero né xilitolo": what is a name of its own denies on, where an "or" stands behind it.
    inside -= {span.start for span in named if not OR.isdisjoint(tokens[span.end : span.end + 1])}
    behind = denied_behind(tokens, {span.end: span.start for span in named}, breaks)
    reached: set[int] = set(behind.values())
    for start, after in _negations(tokens, inside):
        if start not in behind:
            reached.update(_reach(tokens, start, after, _Words(ends, breaks, fillers)))
    # "non" reaches one word: "non-dairy creamer with xylitol"; "non dolcificato con xilitolo" what it governs.
    for at, word in enumerate(tokens):
        if word == PREFIX and at not in inside and at not in behind:
            reached.add(at + 1)
            if tokens[at + 2 : at + 3] in _WITH and at + 1 not in ends:
                reached.update(range(at + 2, ends.get(at + 3, at + 3)))
    return frozenset(reached)


@dataclass(frozen=True, slots=True)
class _Words:
    """What the words of an item are: where names end, by where they begin; where the sense breaks off; fillers."""

    ends: dict[int, int]
    breaks: Collection[int]
    fillers: Collection[str]


def _negations(tokens: tuple[str, ...], inside: Collection[int]) -> list[tuple[int, int]]:
    """Find each negation as start and end; two in a row ("nicht ohne") cancel."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(tokens):
        length = _length_of_negation(tokens, at) if at not in inside else 0
        if length == 0:
            at += 1
            continue
        if found and found[-1][1] == at and tokens[at] in STRENGTHENING:
            found[-1] = (found[-1][0], at + length)
        elif found and found[-1][1] == at:
            found.pop()
        else:
            found.append((at, at + length))
        at += length
    return found


def begins_with_denial(tokens: tuple[str, ...]) -> bool:
    """Say whether a phrase opens with a denial, as ``no corn`` and ``free from corn`` do.

    Parameters
    ----------
    tokens
        Its words.

    Returns
    -------
    bool
        ``False`` for ``No. 40`` and ``non-dairy creamer``.
    """
    return bool(tokens) and _length_of_negation(tokens, 0) > 0


def rest_of_denial(tokens: tuple[str, ...]) -> tuple[str, ...]:
    """Give the words that a phrase opens its denial of.

    Parameters
    ----------
    tokens
        Words of a phrase that begins with a denial.

    Returns
    -------
    tuple of str
        ``("corn",)`` for ``no corn``.
    """
    return tokens[_length_of_negation(tokens, 0) :]


def begins_with_free_from(tokens: tuple[str, ...]) -> bool:
    """Say whether a phrase opens with a denial that governs a whole list: ``free from``, ``frei von``, ``senza``.

    Parameters
    ----------
    tokens
        Its words.

    Returns
    -------
    bool
        ``False`` for ``no corn``, which denies what stands next to it.
    """
    return tokens[:2] in PAIRS or tokens[:1] == ("senza",)


def states_absence(tokens: tuple[str, ...]) -> bool:
    """Say whether a phrase states somewhere that a thing does not contain another.

    Parameters
    ----------
    tokens
        Its words.

    Returns
    -------
    bool
        ``True`` for ``made free from corn``, ``contains no corn``, ``ne contient pas de``; ``False`` for
        ``no added salt``, which is an item among others.
    """
    for start, end in _negations(tokens, ()):
        beside = {*tokens[max(0, start - 1) : start], *tokens[end : end + 1]}
        if tokens[start:end] in PAIRS or not CONTAINING.isdisjoint(beside):
            return True
    return False


def only_denies(tokens: tuple[str, ...]) -> bool:
    """Say whether a heading is a denial and nothing else, as ``free from`` and ``does not contain`` are.

    Parameters
    ----------
    tokens
        The words before the colon.

    Returns
    -------
    bool
        ``False`` for ``no fillers``: what follows its colon is not denied.
    """
    found = _negations(tokens, ())
    rest = {word for at, word in enumerate(tokens) if not any(start <= at < end for start, end in found)}
    return len(found) == 1 and rest <= LINKING | LEADING | {"added"}


def _length_of_negation(tokens: tuple[str, ...], at: int) -> int:
    following = tokens[at + 1] if at + 1 < len(tokens) else ""
    if (tokens[at], following) in PAIRS:
        return 2
    if tokens[at] not in SINGLE or following.isdigit() or any(tokens[at : at + len(said)] == said for said in IDLE):
        # "No. 40" numbers a colour and negates nothing.
        return 0
    return 0 if tokens[at] == GREEN and following in ENGLISH else 1


def _reach(tokens: tuple[str, ...], begin: int, start: int, words: _Words) -> range:
    """Find what a denial from ``begin`` to ``start`` reaches."""
    at, named_something, joined = _behind_participle(tokens, begin, start, words), False, True
    if at == start + 1:
        # A name that begins with the participle ("fried onions") is not denied either.
        return range(start, start if start in words.ends else at)
    joining = JOINING | LISTING | ({DUTCH_OR} if tokens[begin] in DUTCH else set())
    of_a_kind = False
    while at < min(len(tokens), start + _LONGEST_REACH):
        word = tokens[at]
        # A break right behind the negation ("free from: xylitol", "does not contain: xylitol") still belongs to it.
        if at in words.breaks and any(tokens[before] not in LINKING for before in range(start, at)):
            break
        if named_something and (word in REOPENING or _adds(tokens, at, words)):
            break
        is_claim = at not in words.ends and (word in CLAIMED or word in KINDS)
        if word in joining:
            joined = True
            at += 1
        elif is_claim:
            # "No GMO xylitol" is xylitol: the denial has found what it denies.
            named_something, joined, of_a_kind = True, False, word in KINDS
            at += 1
        elif at not in words.ends and (word in TRANSPARENT or word in words.fillers):
            at += 1
        elif named_something and not joined and not (of_a_kind and at not in words.ends):
            break
        else:
            at = words.ends.get(at) or _end_of_unknown(tokens, at, words)
            named_something, joined, of_a_kind = True, False, False
    return range(start, at)


def _behind_participle(tokens: tuple[str, ...], begin: int, start: int, words: _Words) -> int:
    """Give where what is denied begins: "never frozen garlic" denies that it was frozen, not the garlic.

    "Not sweetened with xylitol" denies what the participle governs.
    """
    word = tokens[start] if start < len(tokens) else ""
    if not word or word in TRANSPARENT or word in CONTAINING or not _is_participle(tokens[begin], word):
        return start
    behind = start + 1
    if behind not in words.breaks and start not in words.ends and tokens[behind : behind + 1] in _WITH:
        return behind + 1
    return behind


def _is_participle(denial: str, word: str) -> bool:
    if denial in ADVERBS:
        return word in PROCESSED_ENGLISH or word in PROCESSED or _PARTICIPLE.fullmatch(word) is not None
    return denial in _ROMANCE and word in PROCESSED


def _adds(tokens: tuple[str, ...], at: int, words: _Words) -> bool:
    """Say whether an "and" begins a new statement: "no fillers & added xylitol", "no fillers and xylitol added"."""
    if tokens[at] not in AND:
        return False
    end = words.ends.get(at + 1, at + 1)
    return not _ADDED.isdisjoint(tokens[end : end + 1])


def _end_of_unknown(tokens: tuple[str, ...], at: int, words: _Words) -> int:
    """Find the end of a run of unknown words, which count as one thing."""
    end = at + 1
    while end < min(len(tokens), at + _LONGEST_UNKNOWN) and end not in words.ends and end not in words.breaks:
        if tokens[end] in JOINING or tokens[end] in REOPENING or tokens[end] in words.fillers:
            break
        end += 1
    return end


def is_negated(tokens: tuple[str, ...], span: Span, reached: Collection[int]) -> bool:
    """Say whether a name is only mentioned as absent.

    Parameters
    ----------
    tokens
        The words of one item.
    span
        Where the name stands.
    reached
        Positions inside the reach of a negation.

    Returns
    -------
    bool
        True for ``no xylitol`` and ``xylitol-free``; False for ``not xylitol-free``, where the two cancel.
    """
    following = tokens[span.end : span.end + 2]
    free_after = bool(following) and following[0] in FREE_AFTER and following[1:] not in _NOT_FREE_PHRASES
    # "Non-aspirin free" has none of it either way.
    free_after = free_after and tokens[max(0, span.start - 1) : span.start] != (PREFIX,)
    return (span.start in reached) != free_after


def is_free_claim(tokens: tuple[str, ...], at: int) -> bool:
    """Say whether a word is what a usual claim is about: the hormones of "hormone-free".

    Parameters
    ----------
    tokens
        The words of one item.
    at
        Position of a word that is no known name.

    Returns
    -------
    bool
        ``False`` for ``suggar free``: nobody knows what that is free of.
    """
    return tokens[at] in FREE_CLAIMS and is_negated(tokens, Span(at, at + 1), ())
