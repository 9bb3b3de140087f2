"""Printed characters made plain while remembering where each of them stood."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from functools import lru_cache

# Footnote digits and trademark signs become characters of the private use area: they never join what stands before.
FOOTNOTE_DIGITS = "\ue000\ue001\ue002\ue003\ue004\ue005\ue006\ue007\ue008\ue009"
TRADEMARK = "\ue00a"
_SUPERSCRIPTS = "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079"
_INVISIBLE = {
    **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff\u200e\u200f", "zero_width"),
    "\u00ad": "soft_hyphen",
}
_PLAINER = {
    **dict.fromkeys("\u2018\u2019\u02bc\u00b4", "'"),
    **dict.fromkeys("\u201c\u201d", '"'),
    **dict.fromkeys("\u2010\u2011\u2212\u2043", "-"),
    **dict.fromkeys("\u2044\u2215", "/"),
    **dict.fromkeys("\u25aa\u25ab\u25cf\u25cb\u2023\u25e6\u25a0\u25a1\u25c6\u25c7\u2756\u2605\u2606", "\u2022"),
    **dict.fromkeys("\u25ba\u25b6\u25b8\u25b9\u27a4\u2794\u27a2\u2713\u2714\u2705\u2611\u2726\u29bf", "\u2022"),
    **dict.fromkeys("\u2027\u2219", "\u00b7"),
    **dict.fromkeys("\u00ae\u2122\u2120", TRADEMARK),
    **{"\u0153": "oe", "\u00e6": "ae", "\u0152": "OE", "\u00c6": "AE"},
}
_FLAGS = {
    "\u2009": "thin_space",
    "\u202f": "narrow_nbsp",
    "\u00a0": "no_break_space",
    "\u03bc": "greek_mu",
    "\ufb01": "ligature",
    "\ufb02": "ligature",
}
_FULL_WIDTH = range(0xFF01, 0xFF5F)
_MOST_CHARACTERS_KEPT = 4096
# A word cut at the end of a line goes on in the next one; "omega-" and a number do not.
_LINE_END_HYPHEN = re.compile(r"(?<=[^\W\d_])-(?=\r?\n[a-z])")


@dataclass(frozen=True, slots=True)
class PlainText:
    """Plain characters, where each stood, and what was unusual about the print.

    ``starts`` and ``ends`` hold, for each plain character, its first and its past-the-end position in the text as
    given. ``marks`` are flags with the position of the plain character that they were seen at.
    """

    text: str
    starts: tuple[int, ...] | range
    ends: tuple[int, ...] | range
    marks: tuple[tuple[str, int], ...] = ()


@dataclass(slots=True)
class _Built:
    chars: list[str] = field(default_factory=list)
    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    marks: list[tuple[str, int]] = field(default_factory=list)

    def put(self, text: str, start: int, end: int) -> None:
        """Append characters that stand for this place of the printed text."""
        for char in text:
            self.chars.append(char)
            self.starts.append(start)
            self.ends.append(end)

    def mark(self, flag: str) -> None:
        """Remember what was made plain here."""
        self.marks.append((flag, len(self.chars)))

    def cut_number(self) -> tuple[str, int] | None:
        """Take the digits right before here off again, for ``2`` and a vulgar half: digits and their first place."""
        at = len(self.chars)
        if at and self.chars[at - 1] == " ":
            at -= 1
        first = at
        while first and at - first < 4 and self.chars[first - 1].isdigit():
            first -= 1
        if first == at or (first and self.chars[first - 1] in ".,"):
            return None
        digits, start = "".join(self.chars[first:at]), self.starts[first]
        del self.chars[first:], self.starts[first:], self.ends[first:]
        return digits, start


def plain_text(text: str) -> PlainText:
    """Make printed text plain without changing what it says.

    Superscript digits are set apart before anything is folded, and vulgar fractions are expanded: compatibility
    folding alone turns a 500 with a footnote 1 into 5001, and two and a half into 21/2 (source chem-pkg).

    Parameters
    ----------
    text
        A label as it came.

    Returns
    -------
    PlainText
        With one entry per plain character.
    """
    hyphens = {match.start() for match in _LINE_END_HYPHEN.finditer(text)}
    if text.isascii() and not hyphens and "\r" not in text:
        return PlainText(text, range(len(text)), range(1, len(text) + 1))
    built = _Built()
    for at, char in enumerate(text):
        if at in hyphens or (char in "\r\n" and at - 1 in hyphens) or (char == "\n" and at - 2 in hyphens):
            built.mark("hyphen_at_line_end")
            built.ends[-1] = at + 1
        elif char == "\r":
            # A line ends once, whichever way it is written.
            built.put("" if text[at + 1 : at + 2] == "\n" else "\n", at, at + 1)
        elif char < "\x80":
            built.put(char, at, at + 1)
        else:
            _put_other(built, text, at, char)
    return PlainText("".join(built.chars), tuple(built.starts), tuple(built.ends), tuple(built.marks))


def _put_other(built: _Built, text: str, at: int, char: str) -> None:
    if flag := _INVISIBLE.get(char):
        built.mark(flag)
        if built.ends:
            built.ends[-1] = at + 1
        return
    if char in _SUPERSCRIPTS:
        _put_superscript(built, text, at, char)
        return
    plain, flag, kind = _plain_character(char)
    if flag:
        built.mark(flag)
    if kind == "fraction":
        _put_fraction(built, at, char)
    elif kind == "combining" and built.chars:
        built.chars[-1] = unicodedata.normalize("NFC", built.chars[-1] + char)[:1]
        built.ends[-1] = at + 1
    else:
        built.put(plain, at, at + 1)


def _put_superscript(built: _Built, text: str, at: int, char: str) -> None:
    digit = _SUPERSCRIPTS.index(char)
    power = built.chars[-2:] == ["1", "0"] and built.ends[-1] == at
    continued = at > 0 and text[at - 1] in _SUPERSCRIPTS and built.chars[-1:] != [] and built.chars[-1].isdigit()
    if power:
        built.put("^", at, at)
    if power or continued:
        built.put(str(digit), at, at + 1)
    else:
        built.mark("superscript_footnote")
        built.put(FOOTNOTE_DIGITS[digit], at, at + 1)


def _put_fraction(built: _Built, at: int, char: str) -> None:
    whole = built.cut_number()
    value = unicodedata.numeric(char) + (int(whole[0]) if whole else 0)
    start = whole[1] if whole else at
    built.mark("vulgar_fraction")
    built.put(f"{value:.4f}".rstrip("0").rstrip("."), start, at + 1)


@lru_cache(maxsize=_MOST_CHARACTERS_KEPT)
def _plain_character(char: str) -> tuple[str, str | None, str]:
    """Give the plain text of one character, the flag that it raises, and what kind it is."""
    if char in _PLAINER:
        return _PLAINER[char], None, "plain"
    if unicodedata.combining(char):
        return "", None, "combining"
    if unicodedata.decomposition(char).startswith("<fraction>"):
        return "", None, "fraction"
    flag = "fullwidth" if ord(char) in _FULL_WIDTH else _FLAGS.get(char)
    return unicodedata.normalize("NFKC", char), flag, "plain"
