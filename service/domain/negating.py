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
    BEGINNINGS,
    CLAIMED,
    CONTAINING,
    FREE_AFTER,
    JOINING,
    LEADING,
    LINKING,
    NOT_FREE_OF_IT,
    OR,
    PAIRS,
    PREFIX,
    REOPENING,
    SINGLE,
    TRANSPARENT,
)

_ZERO_BEFORE = re.compile(r"\s*0(?:[.,]0{1,4})? ?%\s*")
_ZERO_BEHIND = re.compile(r"(?<=[^\W\d_])[\s:]{1,3}0(?:[.,]0{1,4})? ?%\s*$")
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
    reached: set[int] = set()
    for _start, after in _negations(tokens, inside):
        reached.update(_reach(tokens, after, ends, breaks, fillers))
    # "non" reaches one word: "non-dairy creamer with xylitol".
    reached.update(at + 1 for at, word in enumerate(tokens) if word == PREFIX and at not in inside)
    return frozenset(reached)


def _negations(tokens: tuple[str, ...], inside: Collection[int]) -> list[tuple[int, int]]:
    """Find each negation as start and end; two in a row ("nicht ohne") cancel."""
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(tokens):
        length = _length_of_negation(tokens, at) if at not in inside else 0
        if length == 0:
            at += 1
            continue
        if found and found[-1][1] == at:
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


def with_zero_as_denial(text: str) -> str:
    """Write "0 %" before or behind what a text names as the denial that it is.

    Parameters
    ----------
    text
        One item, as printed.

    Returns
    -------
    str
        ``zero xylitol`` for ``0 % xylitol``; a text that names another amount is left as it is.
    """
    if "0" not in text or "%" not in text:
        return text
    if match := _ZERO_BEFORE.match(text):
        return f"zero {text[match.end() :]}" if "%" not in text[match.end() :] else text
    match = _ZERO_BEHIND.search(text)
    return f"{text[: match.start()]} free" if match and "%" not in text[: match.start()] else text


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
    # "No. 40" numbers a colour and negates nothing.
    return 1 if tokens[at] in SINGLE and not following.isdigit() else 0


def _reach(
    tokens: tuple[str, ...], start: int, ends: dict[int, int], breaks: Collection[int], fillers: Collection[str]
) -> range:
    at, named_something, joined = start, False, True
    while at < min(len(tokens), start + _LONGEST_REACH):
        word = tokens[at]
        # A break right behind the negation ("free from: xylitol", "does not contain: xylitol") still belongs to it.
        if at in breaks and any(tokens[before] not in LINKING for before in range(start, at)):
            break
        if named_something and word in REOPENING:
            break
        if word in JOINING:
            joined = True
            at += 1
            continue
        if at not in ends and word in CLAIMED:
            # "No GMO xylitol" is xylitol: the denial has found what it denies.
            named_something, joined = True, False
            at += 1
            continue
        if at not in ends and (word in TRANSPARENT or word in fillers):
            at += 1
            continue
        if named_something and not joined:
            break
        at = ends.get(at) or _end_of_unknown(tokens, at, ends, breaks, fillers)
        named_something, joined = True, False
    return range(start, at)


def _end_of_unknown(
    tokens: tuple[str, ...], at: int, ends: dict[int, int], breaks: Collection[int], fillers: Collection[str]
) -> int:
    """Find the end of a run of unknown words, which count as one thing."""
    end = at + 1
    while end < min(len(tokens), at + _LONGEST_UNKNOWN) and end not in ends and end not in breaks:
        if tokens[end] in JOINING or tokens[end] in REOPENING or tokens[end] in fillers:
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
    return (span.start in reached) != free_after
