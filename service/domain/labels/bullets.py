"""Signs that begin a line: a mark that something points from is a footnote, any other only opens an item of a list."""

from __future__ import annotations

import unicodedata
from collections import Counter
from functools import lru_cache
from typing import cast

from service.domain.labels.plain_text import FOOTNOTE_DIGITS
from service.domain.labels.sheet import Sheet

# What signs of other typefaces become when they are copied as text.
_LETTERS = frozenset(("o", "\u00fc", "\u00d8", "v"))
_SIGNS = frozenset(("\u00bb", "\u203a", "\u2192", "\u21d2"))
_SYMBOLS = ("So", "Mn")
_LONGEST_NUMBER = 2
# So many lines with one mark are a list, even where the mark stands behind something as well.
_LEAST_LINES_OF_A_LIST = 3
_LEAST_LINES_OF_LETTERS = 2


def is_bullet(sheet: Sheet, at: int) -> bool:
    """Say whether a token that begins a line is the bullet of a list.

    Parameters
    ----------
    sheet
        The label.
    at
        The first token of a line.

    Returns
    -------
    bool
        ``False`` for a mark that stands behind something elsewhere: the line is its footnote.
    """
    leading, attached = _marks(sheet)
    text = sheet.tokens[at].text
    if text in _LETTERS:
        return leading[text] >= _LEAST_LINES_OF_LETTERS
    if sheet.tokens[at].kind != "mark" or any(char in FOOTNOTE_DIGITS for char in text):
        return False
    return text not in attached or leading[text] >= _LEAST_LINES_OF_A_LIST


@lru_cache(maxsize=256)
def is_symbol(text: str) -> bool:
    """Say whether a sign is an arrow or a picture, which says nothing at the head of a line.

    Parameters
    ----------
    text
        A token.

    Returns
    -------
    bool
        ``False`` for letters, numbers and everything that is read as punctuation.
    """
    return text in _SIGNS or (len(text) == 1 and unicodedata.category(text) in _SYMBOLS)


def after_enumerator(sheet: Sheet, at: int, end: int) -> int:
    """Step over ``1)`` and ``a)`` at the head of a line.

    Parameters
    ----------
    sheet
        The label.
    at, end
        First token of the line, and its end.

    Returns
    -------
    int
        The token behind; ``at`` where nothing is counted.
    """
    tokens = sheet.tokens
    if at + 2 >= end or tokens[at + 1].text != ")" or not tokens[at + 1].glued or tokens[at + 2].glued:
        return at
    counts = tokens[at].text.isdigit() and len(tokens[at].text) <= _LONGEST_NUMBER
    return at + 2 if counts or (tokens[at].kind == "word" and len(tokens[at].text) == 1) else at


def leads_one_line(sheet: Sheet, at: int) -> bool:
    """Say whether a mark begins a single line of the label.

    Parameters
    ----------
    sheet
        The label.
    at
        The first token of a line.

    Returns
    -------
    bool
        ``False`` for anything but a mark.
    """
    return sheet.tokens[at].kind == "mark" and _marks(sheet)[0][sheet.tokens[at].text] == 1


def _marks(sheet: Sheet) -> tuple[Counter[str], frozenset[str]]:
    """Count the marks and letters that begin lines, and collect the marks that stand behind something."""
    key = ("marks",)
    if key not in sheet.seen:
        leading: Counter[str] = Counter()
        attached: set[str] = set()
        begins = True
        for at, token in enumerate(sheet.tokens):
            if begins and (token.kind == "mark" or _is_letter(sheet, at)):
                leading[token.text] += 1
            elif token.kind == "mark":
                attached.update(_of_one_sign(token.text))
            begins = token.kind == "newline"
        sheet.seen[key] = (leading, frozenset(attached))
    return cast("tuple[Counter[str], frozenset[str]]", sheet.seen[key])


def _is_letter(sheet: Sheet, at: int) -> bool:
    """Say whether a letter stands alone before a word."""
    tokens = sheet.tokens
    if tokens[at].text not in _LETTERS or at + 1 >= len(tokens):
        return False
    return tokens[at + 1].kind in ("word", "number") and not tokens[at + 1].glued


def _of_one_sign(text: str) -> tuple[str, ...]:
    """``*\u2020`` are two marks, ``**`` is one."""
    pieces: list[str] = []
    for char in text:
        if pieces and pieces[-1][-1] == char:
            pieces[-1] += char
        else:
            pieces.append(char)
    return (text, *pieces)
