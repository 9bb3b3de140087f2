"""The nearest known words to one that is not known, for error messages a person can use."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

_SHORTEST_MISSPELT = 4
_TWO_SLIPS_FROM = 8


def nearest_ids(word: str, known: Iterable[str], limit: int = 3) -> tuple[str, ...]:
    """List the known ids that look most like ``word``.

    Parameters
    ----------
    word
        What the caller wrote.
    known
        Ids or names to choose from.
    limit
        How many to return at most.

    Returns
    -------
    tuple of str
        Best first; empty where nothing comes close.
    """
    found = process.extract(word[:80].casefold(), list(known), scorer=fuzz.WRatio, limit=limit, score_cutoff=60)
    return tuple(choice for choice, _score, _index in found)


def misspelt(word: str, known: Iterable[str]) -> str | None:
    """Name the known id that ``word`` is most likely meant to be, much more strictly than :func:`nearest_ids`.

    Parameters
    ----------
    word
        What the caller wrote.
    known
        Ids in snake_case to choose from.

    Returns
    -------
    str or None
        A known id of at least four letters that differs by capitals, blanks or hyphens alone, by one slip, or, from
        eight letters on, by two; ``None`` where nothing is that close.
    """
    plain = "_".join(word[:80].casefold().replace("-", " ").replace("_", " ").split())
    for choice in known:
        if plain == choice:
            return choice
        slips = 0 if len(choice) < _SHORTEST_MISSPELT else 2 if len(choice) >= _TWO_SLIPS_FROM else 1
        if slips and OSA.distance(plain, choice, score_cutoff=slips) <= slips:
            return choice
    return None
