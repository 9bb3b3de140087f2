"""Plain text cut into tokens: numbers, words, footnote marks, line ends and signs. Nothing but blanks is dropped."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from service.domain.label_text import fold
from service.domain.labels.plain_text import FOOTNOTE_DIGITS, TRADEMARK, PlainText

# One alternative per kind of token; every character belongs to exactly one of them, so cutting is linear.
_TOKEN = re.compile(
    r"(?P<blank>[^\S\n]+)"
    r"|(?P<number>[0-9]+(?:[.,'][0-9]+)*)"
    # The sign of "2x60" and the article or preposition of "d'oeufs" are words of their own.
    r"|(?P<word>(?:(?<=[0-9])[xX](?=[0-9]))|(?:[dlDL]'(?=[^\W\d_]))|[^\W\d_](?:[^\W_]|'(?=[^\W\d_]))*)"
    rf"|(?P<mark>[*\u2020\u2021\u00a7#{FOOTNOTE_DIGITS}]+)"
    r"|(?P<newline>\n)"
    r"|(?P<sign>.)",
    re.DOTALL,
)
_MOST_WORDS_KEPT = 8192


class Token(NamedTuple):
    """One token. ``kind`` is ``number``, ``word``, ``mark``, ``newline`` or ``sign``; positions are in plain text.

    ``fold`` is the text in lower case without accents, for comparing. ``glued`` says that no blank stands before it.
    """

    kind: str
    text: str
    fold: str
    start: int
    end: int
    glued: bool


@lru_cache(maxsize=_MOST_WORDS_KEPT)
def folded(text: str) -> str:
    """Give a text in lower case without accents.

    Parameters
    ----------
    text
        Plain text, mostly one word.

    Returns
    -------
    str
        For comparing only.
    """
    return text.lower() if text.isascii() else fold(text)


def tokenise(plain: PlainText) -> tuple[Token, ...]:
    """Cut plain text into tokens.

    Parameters
    ----------
    plain
        What :func:`service.domain.labels.plain_text.plain_text` gives.

    Returns
    -------
    tuple of Token
        In order; blanks and trademark signs are left out, and told only by ``glued``.
    """
    found: list[Token] = []
    glued = False
    for match in _TOKEN.finditer(plain.text):
        kind, text = match.lastgroup or "sign", match[0]
        if kind == "blank" or text == TRADEMARK:
            glued = False
            continue
        compared = folded(text) if kind == "word" else text
        found.append(Token(kind, text, compared, match.start(), match.end(), glued))
        glued = kind != "newline"
    return tuple(found)
