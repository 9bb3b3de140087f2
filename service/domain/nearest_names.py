"""Names that a person might have meant: for reading only, nothing is decided by them."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process, utils

from service.domain.label_text import fold, words
from service.domain.label_wording import IGNORED_WORDS
from service.reference.records import Name

_MOST = 3
_SHORTEST_NAME = 5
_LONGEST_QUESTION = 80
_ALIKE = 70
# A part of a phrase shares words, not length; so many names are looked at for each word.
_SHARING_WORDS = 55
_MOST_SHARING = 400
_TRIED = 12
# What is this much less alike than the best is no help beside it.
_FALLING_BEHIND = 15


class NearestNames:
    """Suggests known names for a text: slips of the whole first, then names that share its telling words.

    Parameters
    ----------
    rows
        Every spelling.
    """

    def __init__(self, rows: Iterable[Name]) -> None:
        self._rows: dict[str, Name] = {}
        for row in rows:
            if row.target_id is not None and row.match_mode != "code" and len(row.name) >= _SHORTEST_NAME:
                self._rows.setdefault(_plain(row.name), row)
        self._with_word: dict[str, list[str]] = {}
        for plain in self._rows:
            for word in set(plain.split()) - IGNORED_WORDS:
                self._with_word.setdefault(word, []).append(plain)

    def nearest(self, name: str) -> tuple[str, ...]:
        """Names a person might have meant, best first, at most three, each of another thing.

        Parameters
        ----------
        name
            What was not understood.

        Returns
        -------
        tuple of str
            As the release spells them; empty where nothing comes close.
        """
        wanted = _plain(name[:_LONGEST_QUESTION])
        alike = process.extract(wanted, self._rows.keys(), scorer=fuzz.ratio, limit=_TRIED, score_cutoff=_ALIKE)
        sharing = process.extract(
            wanted, self._sharing_words(wanted), scorer=fuzz.token_sort_ratio, limit=_TRIED, score_cutoff=_SHARING_WORDS
        )
        best = max((score for _plain, score, _index in (*alike, *sharing)), default=0)
        told: dict[tuple[str, str | None], str] = {}
        for plain, score, _index in (*alike, *sharing):
            if score >= best - _FALLING_BEHIND:
                row = self._rows[plain]
                told.setdefault((row.target_kind, row.target_id), row.name)
        return tuple(told.values())[:_MOST]

    def _sharing_words(self, wanted: str) -> list[str]:
        found: dict[str, None] = {}
        for word in wanted.split():
            found.update(dict.fromkeys(self._with_word.get(word, ())[:_MOST_SHARING]))
        return list(found)


def _plain(name: str) -> str:
    return " ".join(words(name)) or utils.default_process(fold(name))
