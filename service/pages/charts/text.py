"""Texts of a chart: made printable, measured, shortened, broken into lines."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from service.pages.charts.plotting import text_font

if TYPE_CHECKING:
    from matplotlib.ft2font import FT2Font

_ELLIPSIS = "\u2026"
_NO_NAME = "(no name)"
# Marks that turn the direction of what follows them, beyond their own text.
_TURNING = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)))
_NO_CHARACTERS = frozenset("\ufffe\uffff")
_JOINER = "\u200d"
# The font that measures is wide for a serif; bold is wider still.
_BOLD = 1.12
_UNITS_PER_EM = 1000
# What the font lacks: ideographs are one em wide, pictures up to a third more.
_IDEOGRAPH_EM, _PICTURE_EM = 1.05, 1.4


def clean(text: str) -> str:
    """Make a text printable on one line: no controls, no marks that turn the direction, no runs of blanks."""
    kept = []
    for char in text:
        category = unicodedata.category(char)
        if category in ("Cc", "Zl", "Zp", "Zs"):
            kept.append(" ")
        elif category != "Cs" and char not in _TURNING and char not in _NO_CHARACTERS:
            kept.append(char)
    return " ".join("".join(kept).split()) or _NO_NAME


def width(text: str, size: float, *, bold: bool = False) -> float:
    """Measure a text, in the unit of ``size``."""
    return sum(map(_advance, text)) * size * (_BOLD if bold else 1)


def shorten(text: str, room: float, size: float) -> str:
    """Cut a text that is longer than its room, and say so by an ellipsis."""
    if width(text, size) <= room:
        return text
    used, kept = width(_ELLIPSIS, size), []
    for char in text:
        used += _advance(char) * size
        if used > room:
            break
        kept.append(char)
    while kept and (kept[-1] in (" ", _JOINER) or unicodedata.combining(kept[-1])):
        kept.pop()
    return "".join(kept) + _ELLIPSIS


def wrap(text: str, room: float, size: float, *, bold: bool = False) -> list[str]:
    """Break a text into lines between its words; a word longer than a line is shortened."""
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size, bold=bold) <= room:
            lines[-1] = longer
        else:
            lines.append(shorten(word, room / (_BOLD if bold else 1), size))
    return lines


@lru_cache(maxsize=4096)
def _advance(char: str) -> float:
    """Give the width of a character in em."""
    from matplotlib.ft2font import LoadFlags

    font = _font()
    if not font.get_char_index(ord(char)):
        return _PICTURE_EM if ord(char) > 0xFFFF else _IDEOGRAPH_EM
    return font.load_char(ord(char), flags=LoadFlags.NO_HINTING).linearHoriAdvance / 65536 / _UNITS_PER_EM


@cache
def _font() -> FT2Font:
    from matplotlib.ft2font import FT2Font

    font = FT2Font(str(text_font()))
    font.set_size(_UNITS_PER_EM, 72)
    return font
