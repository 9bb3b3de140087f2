"""Denials that stand behind what they deny: ``garlic not added``, ``xylitol is not used``, ``xylitol: none``."""

from __future__ import annotations

from collections.abc import Collection

from service.domain.denial_words import ABSENT, AUXILIARY, JOINING, NOTHING, PREFIX, REOPENING, SINGLE

_NEEDS_NO_BREAK = frozenset({"none", "nil"})
_DENYING = SINGLE | {PREFIX}


def denied_behind(tokens: tuple[str, ...], starts: dict[int, int], breaks: Collection[int]) -> dict[int, int]:
    """Find the denials that speak of what stands before them.

    Parameters
    ----------
    tokens
        The words of one item.
    starts
        Where known names begin, by the position after their last word.
    breaks
        Positions of words where the sense breaks off.

    Returns
    -------
    dict of int to int
        Where the denied name begins, by the position of the denial.
    """
    found: dict[int, int] = {}
    for at, word in enumerate(tokens):
        if (word in _DENYING and _says_absent(tokens, at, breaks)) or _says_none(tokens, at, breaks):
            end = at
            while end and tokens[end - 1] in AUXILIARY and end not in breaks:
                end -= 1
            if end in starts:
                found[at] = starts[end]
    return found


def _says_absent(tokens: tuple[str, ...], at: int, breaks: Collection[int]) -> bool:
    """Say whether "not added", and nothing that it could speak of instead, stands here."""
    if tokens[at + 1 : at + 2] == () or tokens[at + 1] not in ABSENT or at in breaks:
        return False
    return _is_end(tokens, at + 2, breaks) or tokens[at + 2] in REOPENING | JOINING


def _says_none(tokens: tuple[str, ...], at: int, breaks: Collection[int]) -> bool:
    if tokens[at] not in NOTHING or not _is_end(tokens, at + 1, breaks):
        return False
    return at in breaks or tokens[at] in _NEEDS_NO_BREAK


def _is_end(tokens: tuple[str, ...], at: int, breaks: Collection[int]) -> bool:
    return at >= len(tokens) or at in breaks
