"""Letters and digits that scanners and typists take for each other or write twice, drawn as one shape."""

from __future__ import annotations

import re
from itertools import groupby

_PAIRS = (("rn", "m"), ("vv", "w"))
_SHAPES = str.maketrans(
    {
        **dict.fromkeys("1i|", "l"),
        **{"0": "o", "2": "z", "5": "s", "8": "b", "9": "g"},
        # Cyrillic letters that look Latin.
        **dict(zip("\u0430\u0435\u043e\u0440\u0441\u0443\u0445\u0456", "aeopcyxl", strict=True)),
    }
)
_SOUNDS = str.maketrans({"z": "s", "x": "s", "c": "k", "q": "k", "y": "i"})
_VOWELS = str.maketrans("", "", "aeiou")
_INS = re.compile(r"[l1i]ns(?=[0-9])")


def shape_of(text: str) -> str:
    """Give what a word looks like, so that ``rnacadamia`` equals ``macadamia`` and ``E22O`` equals ``E220``.

    Parameters
    ----------
    text
        Folded letters and digits without spaces.

    Returns
    -------
    str
        For comparing with other shapes only.
    """
    text = _INS.sub("e", text)
    for printed, shape in _PAIRS:
        text = text.replace(printed, shape)
    return text.translate(_SHAPES)


def undoubled(text: str) -> str:
    """Write doubled letters once, so that ``canabidiol`` equals ``cannabidiol`` and ``hopps`` equals ``hops``.

    Parameters
    ----------
    text
        Folded letters.

    Returns
    -------
    str
        For comparing with others of its kind only.
    """
    return "".join(letter for letter, _same in groupby(text))


def sound_of(text: str) -> str:
    """Give what a word sounds like without its vowels, so that ``zylotol`` equals ``xylitol``.

    Parameters
    ----------
    text
        Folded letters.

    Returns
    -------
    str
        For comparing with other sounds only.
    """
    plain = text.replace("ph", "f").replace("ck", "k").translate(_SOUNDS)
    return undoubled(plain.translate(_VOWELS))
