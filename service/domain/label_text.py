"""Cleaning printed text and cutting it into words, the same way for names and for labels."""

from __future__ import annotations

import re
import unicodedata

from service.domain.additive_codes import with_codes
from service.domain.denial_spellings import in_words

_INVISIBLE = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u2060\u00ad\ufeff\u200e\u200f"))
_SUPERSCRIPTS = str.maketrans(
    "", "", "\u00b9\u00b2\u00b3\u2070\u2074\u2075\u2076\u2077\u2078\u2079\u2020\u2021\u2122\u00ae\u2120"
)
_LIGATURES = str.maketrans({"\u0153": "oe", "\u00e6": "ae"})
_TO_PLAIN = str.maketrans("\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079", "0123456789")
_POWER_OF_TEN = re.compile(r"(?<=10)[\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+")
_VULGAR = re.compile(r"([0-9]*)[ \u2009]?([\u00bc-\u00be\u2150-\u215e])")
# British and American spellings, and the two ways of writing a salt, count as one word.
_SAME_WORD = {
    "flavour": "flavor",
    "flavours": "flavors",
    "flavoured": "flavored",
    "flavouring": "flavoring",
    "flavourings": "flavorings",
    "colour": "color",
    "colours": "colors",
    "coloured": "colored",
    "colouring": "coloring",
    "sulphate": "sulfate",
    "sulphates": "sulfates",
    "sulphite": "sulfite",
    "sulphites": "sulfites",
    "sulphur": "sulfur",
    "fibre": "fiber",
    "fibres": "fibers",
    "hydrolysed": "hydrolyzed",
    "hcl": "hydrochloride",
    "vit": "vitamin",
    "\u03b1": "alpha",
    "\u03b2": "beta",
    "\u03b3": "gamma",
    "\u03b4": "delta",
    "\u03c9": "omega",
}
_WORD = re.compile(r"[^\W_]+")
_DIGIT = re.compile(r"[0-9]")
_CODE = re.compile(
    r"(?<![0-9a-z])(e[0-9]{3,4}[a-z]?(?:i{1,3}|iv|v)?)(?![0-9a-z])"
    r"|\b([1-5][a-e][0-9]{2,5}[a-z]{0,3})\b"
    r"|\b([0-9]{2,7}-[0-9]{2}-[0-9])\b"
)
# Not every full stop ends a sentence: "no. 40" and "st. john's" go on.
_BREAK = re.compile(r"[:;!?()\[\]{}]|(?<=[a-z0-9)]{3})\.(?=\s+[a-z])|\s[-\u2013\u2014]+\s|\u2014")
# German and Dutch write "zuckerfrei", "xylitfreies Pulver" and "suikervrij" in one word.
_DENIED_COMPOUND = re.compile(r"([a-z]{3,})(?:frei(?:e[nrsm]?)?|vrije?)")


def clean(text: str) -> str:
    """Make printed text plain without changing what it says.

    Invisible marks vanish, superscript footnote digits are dropped (never glued to the number before them),
    vulgar fractions become decimals, and only then compatibility forms are folded.

    Parameters
    ----------
    text
        Any printed text.

    Returns
    -------
    str
        The same text with plain characters.
    """
    if text.isascii():
        return text
    text = text.translate(_INVISIBLE)
    text = _POWER_OF_TEN.sub(lambda match: "^" + match[0].translate(_TO_PLAIN), text)
    text = _VULGAR.sub(_expand_fraction, text).translate(_SUPERSCRIPTS)
    return unicodedata.normalize("NFKC", text)


def _expand_fraction(match: re.Match[str]) -> str:
    return f"{int(match[1] or 0) + unicodedata.numeric(match[2]):.4f}".rstrip("0").rstrip(".")


def fold(text: str) -> str:
    """Lower the case and strip accents, so that spellings compare.

    Parameters
    ----------
    text
        Any text.

    Returns
    -------
    str
        For comparing only, never for showing.
    """
    if text.isascii():
        return text.lower()
    decomposed = unicodedata.normalize("NFKD", text.casefold().translate(_LIGATURES))
    return "".join(char for char in decomposed if not unicodedata.combining(char))


def words(text: str) -> tuple[str, ...]:
    """Cut text into comparable words; an additive code, feed code or CAS number is one word.

    Parameters
    ----------
    text
        A name or a phrase, as printed.

    Returns
    -------
    tuple of str
        Folded words, for example ``("e967",)`` for ``E 967`` and ``INS-967``.
    """
    return words_and_breaks(text)[0]


def words_and_breaks(text: str) -> tuple[tuple[str, ...], frozenset[int]]:
    """Cut text into words and tell before which of them the sense breaks off.

    Parameters
    ----------
    text
        A name or a phrase, as printed.

    Returns
    -------
    tuple
        The words of :func:`words`, and the positions of words that follow a full stop, a colon, a bracket or a dash.
    """
    folded = fold(clean(text))
    found: list[str] = []
    breaks: set[int] = set()
    end = 0
    if "&" in folded:
        folded = folded.replace("&", " and ")
    folded = in_words(folded) if "-" in folded or "/" in folded else folded
    has_digit = _DIGIT.search(folded) is not None
    folded = with_codes(folded) if has_digit else folded
    for match in _CODE.finditer(folded) if has_digit else ():
        _collect(folded[end : match.start()], found, breaks)
        found.append(match[0])
        end = match.end()
    _collect(folded[end:], found, breaks)
    return tuple(found), frozenset(breaks)


# French and Italian: "extrait d'harpagophytum", "l'huile".
_ELISION = re.compile(r"(?<![^\W_])[dl]['\u2019](?=[^\W\d_])")


def _collect(text: str, found: list[str], breaks: set[int]) -> None:
    for at, piece in enumerate(_BREAK.split(text)):
        if at:
            breaks.add(len(found))
        found.extend(_plain_words(piece))


def _plain_words(text: str) -> list[str]:
    found: list[str] = []
    for word in _WORD.findall(_ELISION.sub(" ", text).replace("'", "").replace("\u2019", "")):
        # "2 KCl" and "2KCl" are the same stabiliser.
        if word in ("kcl", "nacl") and found and found[-1] == "2":
            found[-1] = f"2{word}"
        elif ("frei" in word or "vrij" in word) and (denied := _DENIED_COMPOUND.fullmatch(word)):
            found.extend((denied[1], "frei"))
        else:
            found.append(_SAME_WORD.get(word, word))
    return found
