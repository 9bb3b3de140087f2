"""One form for a word and its plural, so that "birch sweeteners" finds "birch sweetener" and "currant" "currants"."""

from __future__ import annotations

from functools import lru_cache

_WORDS_KEPT = 4096
_SHORTEST = 4
# The last letters of words that only look like a plural: "citrus", "cassis", "glass".
_NO_PLURAL = ("ss", "us", "is")
_HISSING = ("sses", "shes", "ches", "xes", "zes")
_IRREGULAR = {"leaves": "leaf"}


@lru_cache(maxsize=_WORDS_KEPT)
def without_number(word: str) -> str:
    """Give one form for the singular and the plural of a word.

    Parameters
    ----------
    word
        One folded word.

    Returns
    -------
    str
        For comparing only: it need not be a word.
    """
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) < _SHORTEST or not word.endswith("s") or not word.isalpha() or word.endswith(_NO_PLURAL):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-2] if word.endswith(_HISSING) else word[:-1]
