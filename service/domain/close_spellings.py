"""Known spellings within one or two slips of a text: letters left out, put in, changed or changed about."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import process
from rapidfuzz.distance import OSA

_MOST_SLIPS = 2


class CloseSpellings:
    """Spellings by first letter and length, so that a text is compared with few of them.

    Parameters
    ----------
    spellings
        Folded, without spaces.
    """

    def __init__(self, spellings: Iterable[str]) -> None:
        self._all = frozenset(spellings)
        self._tails: dict[str, list[str]] = {}
        self._by_start: dict[tuple[str, int], list[str]] = {}
        for spelling in sorted(self._all):
            self._tails.setdefault(spelling[1:], []).append(spelling)
            for length in range(len(spelling) - _MOST_SLIPS, len(spelling) + _MOST_SLIPS + 1):
                self._by_start.setdefault((spelling[:1], length), []).append(spelling)

    def near(self, text: str, slips: int) -> list[tuple[str, int]]:
        """Find the spellings near a text.

        Parameters
        ----------
        text
            Folded, without spaces.
        slips
            1 or 2; a second slip only where the first letter stands.

        Returns
        -------
        list of tuple
            Spelling and number of slips, fewest first.
        """
        alike = self._by_start.get((text[:1], len(text)), ())
        found = process.extract(text, alike, scorer=OSA.distance, score_cutoff=slips, limit=8)
        near = {spelling: int(distance) for spelling, distance, _ in found}
        for spelling in self._with_another_start(text):
            near.setdefault(spelling, 1)
        return sorted(near.items(), key=lambda pair: pair[1])

    def _with_another_start(self, text: str) -> Iterable[str]:
        """Give spellings of which only the first letter is wrong, missing, too much or changed about."""
        rest = text[1:]
        yield from self._tails.get(rest, ())
        yield from self._tails.get(text, ())
        if rest in self._all:
            yield rest
        swapped = text[1:2] + text[:1] + text[2:]
        if swapped in self._all:
            yield swapped
