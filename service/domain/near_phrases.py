"""Names of several words of which one is misspelt: ``cream of tratar``, ``St Johns wart``, ``ferrous sulfat``."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TypeAlias

from rapidfuzz.distance import OSA

_MOST_WORDS = 4
# In a longer word two slips leave enough alike.
_TWO_SLIPS_FROM = 8
_SHORTEST_ODD = 4

# The words of a name with the odd one left out.
_Frame: TypeAlias = tuple[str | None, ...]


class NearPhrases:
    """Knows every name of two to four words by its words but one.

    Parameters
    ----------
    names
        The words of each name.
    """

    def __init__(self, names: Iterable[tuple[str, ...]]) -> None:
        self._odd: dict[_Frame, list[str]] = {}
        for name in dict.fromkeys(names):
            if not 1 < len(name) <= _MOST_WORDS:
                continue
            for at, word in enumerate(name):
                if len(word) >= _SHORTEST_ODD and word.isalpha():
                    self._odd.setdefault(_frame(name, at), []).append(word)

    def near(self, tokens: tuple[str, ...], left: Collection[int]) -> Iterator[tuple[tuple[str, ...], str]]:
        """Find names that differ from the words of a text in one word by a slip.

        Parameters
        ----------
        tokens
            All words.
        left
            Positions of those that were not understood; only these may be the odd one.

        Returns
        -------
        iterator of tuple
            The words of the name and the word as printed. The work grows with the number of words.
        """
        for at in left:
            printed = tokens[at]
            if len(printed) < _SHORTEST_ODD - 1 or not printed.isalpha():
                continue
            for size in range(2, _MOST_WORDS + 1):
                for start in range(max(0, at - size + 1), min(at, len(tokens) - size) + 1):
                    window = tokens[start : start + size]
                    for word in self._odd.get(_frame(window, at - start), ()):
                        if _is_slip(printed, word):
                            yield (*window[: at - start], word, *window[at - start + 1 :]), printed


def _frame(name: tuple[str, ...], at: int) -> _Frame:
    return (*name[:at], None, *name[at + 1 :])


def _is_slip(printed: str, word: str) -> bool:
    slips = OSA.distance(printed, word, score_cutoff=2)
    if slips == 0 or slips > 2:
        return False
    # Of a short word the first letter or the last has to stand: "pea" is no slip of "tea".
    if min(len(printed), len(word)) <= _SHORTEST_ODD and printed[0] != word[0]:
        return False
    return slips == 1 or (min(len(printed), len(word)) >= _TWO_SLIPS_FROM and printed[0] == word[0])
