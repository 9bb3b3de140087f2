"""Cleaning printed text and cutting it into words and items, the same way for names and for labels."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

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
_CODE = re.compile(
    r"(?<![0-9a-z])(?:e|ins)(?: ?(?:no|nr)\b)?[ ._\u00a0-]{0,2}([0-9]{3,4}[a-z]?)(?:\s?\(?(i{1,3}|iv|v)\)?)?"
    r"(?![0-9a-z])"
    r"|\b([1-5][a-e][0-9]{2,5}[a-z]{0,3})\b"
    r"|\b([0-9]{2,7}-[0-9]{2}-[0-9])\b"
)
# A full stop ends a sentence unless it shortens a word: "vit. D3", "Lactobacillus spp. Probiotics".
_SENTENCE_END = re.compile(
    r"\n+|;|\u2022|\||(?<![Vv]it)(?<![Mm]in)(?<![Mm]ax)(?<!approx)(?<!incl)(?<!spp)(?<!ssp)(?<!var)(?<!\bca)"
    r"(?<=[a-z)\]]{3})\.(?=\s+[A-Z]|\s*$)"
)
# "Sweetener (967)" leaves the letter out; elsewhere a number in brackets is just a number.
_ADDITIVE_CLASS = re.compile(
    r"sweetener|sussungsmittel|sussstoff|edulcorant|preservative|konservierung|conservat|conservador|conservante|colo(?:u)?r"
    r"|farbstoff|antioxida|emulsif|emulga|stabili[sz]|estabiliz|thicken|verdickung|epaississ|espesante|regulator|regler"
    r"|humectant|glazing|raising|anti-?caking|acidul|saure"
)
_BARE_NUMBER = re.compile(r"\(\s*([1-9][0-9]{2,3}[a-z]?)\s*\)")
# Not every full stop ends a sentence: "no. 40" and "st. john's" go on.
_BREAK = re.compile(r"[:;!?()\[\]{}]|(?<=[a-z0-9)]{3})\.(?=\s+[a-z])|\s[-\u2013\u2014]+\s|\u2014")
# German writes "zuckerfrei" and "xylitfreies Pulver" in one word.
_DENIED_COMPOUND = re.compile(r"[a-z]{3,}frei(?:e[nrsm]?)?")
_LIST_LABEL = re.compile(
    r"^\s*(?:(?:other|active|inactive|non-?active)\s+)?(?:ingredients?|ingredientes|ingr\u00e9dients|zutaten|zusammensetzung|"
    r"composition|composici\u00f3n|ingredienti)\s*:\s*",
    re.IGNORECASE,
)


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
    if _ADDITIVE_CLASS.search(folded):
        folded = _BARE_NUMBER.sub(r" e\1 ", folded)
    found: list[str] = []
    breaks: set[int] = set()
    end = 0
    for match in _CODE.finditer(folded):
        _collect(folded[end : match.start()], found, breaks)
        found.append(f"e{match[1]}{match[2] or ''}" if match[1] else match[3] or match[4])
        end = match.end()
    _collect(folded[end:], found, breaks)
    return tuple(found), frozenset(breaks)


def _collect(text: str, found: list[str], breaks: set[int]) -> None:
    for at, piece in enumerate(_BREAK.split(text)):
        if at:
            breaks.add(len(found))
        found.extend(_plain_words(piece))


def _plain_words(text: str) -> list[str]:
    found: list[str] = []
    for word in _WORD.findall(text.replace("'", "").replace("\u2019", "")):
        # "2 KCl" and "2KCl" are the same stabiliser.
        if word in ("kcl", "nacl") and found and found[-1] == "2":
            found[-1] = f"2{word}"
        elif _DENIED_COMPOUND.fullmatch(word):
            found.extend((word[: word.rindex("frei")], "frei"))
        else:
            found.append(_SAME_WORD.get(word, word))
    return found


@dataclass(frozen=True, slots=True)
class Item:
    """One item of an ingredient list. ``carried_negation``: an earlier "free from" reaches it."""

    text: str
    carried_negation: bool = False


# A statement of absence can stand anywhere; "no added salt" in the middle of a list is one item and reaches no other.
_STATEMENT = re.compile(
    r"\b(?:free (?:from|of)|contains? no|does(?: not|n.t) contain|frei von|enth\u00e4lt kein\w*|ne contient (?:pas|ni)|"
    r"no contiene)\b",
    re.IGNORECASE,
)
_DENIAL = re.compile(r"\s*(?:no\b(?!\s*[.\d])|without|kein\w*|ohne|sans|sin|senza)\b", re.IGNORECASE)
_DENIED_LIST = re.compile(
    r"\s*(?:free (?:from|of)|contains no|does not contain|frei von|ohne|sans|sin)\s*:", re.IGNORECASE
)
_NEW_STATEMENT = re.compile(
    r"\s*(?:but|with|contains?|made|sweetened|just|only|plus|aber|mit|enth\u00e4lt|ges\u00fc\u00dft|mais|avec|contient|"
    r"sucr\u00e9|pero|con|contiene|endulzado|edulcorado)\b",
    re.IGNORECASE,
)
_FREE_FROM = re.compile(r"\s*(?:free (?:from|of)|frei von|exempte?s? de|libres? de|exento de|senza)\b", re.IGNORECASE)
_AND = re.compile(r"\b(?:and|und|et|y|e)\b", re.IGNORECASE)
_OR = re.compile(r"\b(?:or|nor|oder|ou|ni|o)\b", re.IGNORECASE)


def split_list(text: str) -> tuple[Item, ...]:
    """Cut an ingredient list into items; nothing is dropped but separators and the heading.

    Parameters
    ----------
    text
        For example ``cellulose, natural sweetener (birch sugar), magnesium stearate``.

    Returns
    -------
    tuple of Item
        In printed order. Bracketed lists are opened: ``vitamins (A, D3)`` gives the head and vitamin A and vitamin D3.
    """
    items: list[Item] = []
    for sentence in _SENTENCE_END.split(_LIST_LABEL.sub("", text)):
        parts = [part for part in _split_level(sentence) if part]
        first, last = _denied(parts)
        for index, part in enumerate(parts):
            items.extend(Item(piece, first < index <= last) for piece in _open_brackets(part))
    return tuple(items)


def _denied(parts: list[str]) -> tuple[int, int]:
    """Find the part that denies and the last one it reaches: in "contains no corn, soy or xylitol" the second.

    Without an "or" nothing is carried on: a hazard must not vanish because an item before it denied something.
    """
    first = next(
        (at for at, part in enumerate(parts) if _STATEMENT.search(part) or (not at and _DENIAL.match(part))), None
    )
    if first is None:
        return 0, 0
    if _DENIED_LIST.match(parts[first]):
        return first, len(parts)
    # A list that begins with "free from" and ends with "and" denies all of its members.
    if first == 0 and _FREE_FROM.match(parts[0]) and _AND.search(parts[-1]) and not _NEW_STATEMENT.match(parts[-1]):
        return 0, len(parts)
    # "..., with xylitol or sorbitol" begins a new statement: the "or" behind it denies nothing.
    end = next((at for at in range(first + 1, len(parts)) if _NEW_STATEMENT.match(parts[at])), len(parts))
    return first, next((at for at in range(first + 1, end) if _OR.search(parts[at])), first)


def _split_level(text: str) -> list[str]:
    """Split at commas outside brackets and outside numbers (``0,5 %`` stays whole)."""
    parts, start, depth = [], 0, 0
    for index, char in enumerate(text):
        if char in "([{":
            depth += 1
        elif char in ")]}":
            depth = max(0, depth - 1)
        elif char == "," and depth == 0 and not _inside_number(text, index):
            parts.append(text[start:index].strip())
            start = index + 1
    return [*parts, text[start:].strip()]


def _inside_number(text: str, index: int) -> bool:
    return 0 < index < len(text) - 1 and text[index - 1].isdigit() and text[index + 1].isdigit()


_VITAMINS = re.compile(r"\bvitamin(?:s|e|en|as|a|es)?$", re.IGNORECASE)
_VITAMIN_LETTER = re.compile(r"[A-EK](?: ?-?[0-9]{1,2})?")
# Real labels nest two deep ("minerals (zinc (as oxide), iron)"); deeper text stays one item.
_DEEPEST_BRACKET = 4


def _open_brackets(part: str, depth: int = 0) -> list[str]:
    if depth == _DEEPEST_BRACKET:
        return [part]
    match = re.fullmatch(r"([^()\[\]{}]+)[(\[{](.+)[)\]}]\s*", part, re.DOTALL)
    if match is None or len(members := _split_level(match[2])) < 2:
        return [part]
    if _VITAMINS.search(match[1].strip()):
        # "vitamins (A, D3, E)" names vitamin A, not the letter.
        members = [f"vitamin {member}" if _VITAMIN_LETTER.fullmatch(member) else member for member in members]
    return [match[1].strip(), *(piece for member in members if member for piece in _open_brackets(member, depth + 1))]
