"""The nearest known words to one that is not known, for error messages a person can use."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process


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
