"""What stands before, inside and after the brackets of a name: ``EPA (from fish oil)``, ``zinc (as oxide)``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from service.domain.label_text import clean, words
from service.domain.label_wording import JOINING_WORDS
from service.domain.name_index import Hit, NameIndex
from service.reference.records import Name
from service.reference.release import Reference

_PIECE = re.compile(r"[()\[\]{}]|[^()\[\]{},;/+:]+")
# Also the full-width bracket, which cleaning makes a plain one.
_OPENINGS = "([{\uff08"
# A salt is named by the words right before the bracket; longer heads are prose.
_LONGEST_HEAD = 6


@dataclass(frozen=True, slots=True)
class BracketReading:
    """What the brackets explain: more spellings, and positions of words that repeat what is known already."""

    hits: tuple[Hit, ...] = ()
    understood: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class _Span:
    start: int
    end: int
    inside: bool


def read_brackets(
    reference: Reference, index: NameIndex, name: str, tokens: tuple[str, ...], hits: tuple[Hit, ...]
) -> BracketReading:
    """Read the words that no spelling covers with the help of the brackets of a name.

    Parameters
    ----------
    reference
        Release whose ingredients own the spellings.
    index
        Its spellings.
    name
        As printed.
    tokens
        Its words.
    hits
        The spellings found so far.

    Returns
    -------
    BracketReading
        A short name before a bracket counts (``EPA (from fish oil)``). Inside a bracket a short name or the rest
        of a salt is understood only where it says what stands outside (``zinc (Zn)``, ``zinc (as oxide)``).
    """
    if not any(opening in name for opening in _OPENINGS):
        return BracketReading()
    covered = {at for hit in hits for at in range(hit.start, hit.end)}
    if covered.issuperset(index.core_of(tokens, 0, len(tokens))):
        return BracketReading()
    spans = _spans(name, tokens)
    if not any(span.inside for span in spans):
        return BracketReading()
    found: list[Hit] = []
    understood: set[int] = set()
    owners = {owner for hit in hits for owner in _said(reference, hit.row)}
    for span in spans:
        core = index.core_of(tokens, span.start, span.end)
        if not core or covered.intersection(core):
            continue
        rows = index.rows_of(tuple(tokens[at] for at in core))
        if span.inside:
            rows = (*rows, *_salts(index, tokens, spans, span.start, core))
            if any(reference.owner_of(row) in owners for row in rows):
                understood.update(core)
        else:
            found += [Hit(core[0], core[-1] + 1, row) for row in rows]
            owners.update(owner for row in rows for owner in _said(reference, row))
    return BracketReading(tuple(found), frozenset(understood))


def _said(reference: Reference, row: Name) -> tuple[str, ...]:
    """Give what a name says: its ingredient, and what that brings ("fish oil" is screened as EPA and DHA)."""
    owner = reference.owner_of(row)
    return () if owner is None else (owner, *reference.ingredients[owner].screened_as_ids)


def _spans(name: str, tokens: tuple[str, ...]) -> list[_Span]:
    """Cut the words at brackets, commas and joining words; nothing where the cut would change the words."""
    spans: list[_Span] = []
    at = depth = 0
    for piece in _PIECE.findall(clean(name)):
        if piece in "()[]{}":
            depth = depth + 1 if piece in "([{" else max(0, depth - 1)
            continue
        count = len(words(piece))
        spans.extend(_at_joins(tokens, at, at + count, depth > 0))
        at += count
    return spans if at == len(tokens) else []


def _at_joins(tokens: tuple[str, ...], start: int, end: int, inside: bool) -> list[_Span]:
    cuts = [at for at in range(start, min(end, len(tokens))) if tokens[at] in JOINING_WORDS]
    edges = [start - 1, *cuts, end]
    return [_Span(left + 1, right, inside) for left, right in pairwise(edges) if right > left + 1]


def _salts(
    index: NameIndex, tokens: tuple[str, ...], spans: list[_Span], opened: int, core: tuple[int, ...]
) -> tuple[Name, ...]:
    """Put the head and the bracket together as English, German and French write a salt."""
    head_end = next(span.start for span in spans if span.inside)
    for begin in range(max(opened, core[-1] + 1 - index.most_words), core[0] + 1):
        inside = tokens[begin : core[-1] + 1]
        for start in range(max(0, head_end - _LONGEST_HEAD), head_end):
            head = tokens[start:head_end]
            joined = (*head[:-1], head[-1] + inside[0], *inside[1:])
            for spelling in ((*head, *inside), joined, (*inside, "de", *head)):
                if rows := index.rows_of(spelling):
                    return rows
    return ()
