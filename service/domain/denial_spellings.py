"""Denials that are spelt with signs or numbers, written in words: ``w/o``, ``0 mg``, ``garlic- and onion-free``."""

from __future__ import annotations

import re

_WITHOUT = re.compile(r"(?<![a-z])w/o(?![a-z])")
_ZERO = r"0(?:[.,]0{1,4})? ?(?:%|mg|mcg|ug|g|iu|kcal)(?![a-z])"
_ZERO_BEFORE = re.compile(rf"\s*(?:(?:contains?|enthalt|contient|contiene|bevat)\s+)?{_ZERO}\s*(?:of\s+|de\s+|di\s+)?")
_ZERO_BEHIND = re.compile(rf"(?<=[^\W\d_])[\s:]{{1,3}}{_ZERO}\s*$")
_ANOTHER_AMOUNT = re.compile(r"%|[0-9] ?(?:mg|mcg|ug|g|iu|kcal)(?![a-z])")
# "Garlic-, onion- and soy-free": each member that ends with a hyphen shares the last word.
_MEMBER = r"[^\W\d_]{2,30}-(?:[,/]\s?|\s)(?:(?:and|or|und|oder|en|of|&)\s)?"
_SHARED = re.compile(rf"(?<![^\W_])((?:{_MEMBER}){{1,8}}+)(?=[^\W\d_]{{2,30}}?[- ]?(free|frei|vrij)(?![^\W\d_]))")
_SHARED_WORD = re.compile(r"free|frei|vrij")
_EACH_SHARING = re.compile(r"(?<=[^\W\d_])-(?=\s|,|/)")


def in_words(folded: str) -> str:
    """Write the denials of a text in words.

    Parameters
    ----------
    folded
        Folded text (:func:`service.domain.label_text.fold`).

    Returns
    -------
    str
        ``without xylitol`` for ``w/o xylitol``, ``garlic-free and onion-free`` for ``garlic- and onion-free``.
    """
    if "w/o" in folded:
        folded = _WITHOUT.sub("without", folded)
    if ("- " in folded or "-," in folded or "-/" in folded) and _SHARED_WORD.search(folded):
        folded = _SHARED.sub(lambda match: _EACH_SHARING.sub(f" {match[2]}", match[1]), folded)
    return folded


def with_zero_as_denial(text: str) -> str:
    """Write "0 %" or "0 mg" before or behind what a text names as the denial that it is.

    Parameters
    ----------
    text
        One item, as printed.

    Returns
    -------
    str
        ``zero xylitol`` for ``0 % xylitol``; a text that names another amount is left as it is.
    """
    if "0" not in text:
        return text
    lowered = text.lower()
    if match := _ZERO_BEFORE.match(lowered):
        rest = lowered[match.end() :]
        return f"zero {text[match.end() :]}" if rest and not _ANOTHER_AMOUNT.search(rest) else text
    match = _ZERO_BEHIND.search(lowered)
    return f"{text[: match.start()]} free" if match and not _ANOTHER_AMOUNT.search(lowered[: match.start()]) else text
