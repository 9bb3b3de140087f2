"""Recogniser of printed numbers: group marks, decimal commas, fractions, powers of ten, and digits that are names."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.errors import InvalidInput
from service.domain.labels.sheet import Sheet
from service.domain.numbers import PrintedNumber, read_number

_TIMES = ("x", "\u00d7", "\u00b7")

# Names that end in a number: "omega 3 500 mg" is no 3,500, "B 12 500 mcg" no 12,500.
_ENDS_IN_A_NUMBER = frozenset(
    ("omega", "\u03c9", "n", "b", "d", "k", "q", "e", "ins", "type", "typ", "coq", "no", "red", "yellow", "blue")
)

# "Glucosamine sulfate 2 KCl 500 mg": two of the stabiliser in the formula.
_STABILISERS = frozenset(("kcl", "nacl"))
_MOST_GROUPS = 5


@dataclass(frozen=True, slots=True)
class Number:
    """A printed number; ``low`` and ``high`` differ in a range or where its separator can be read two ways."""

    start: int
    end: int
    low: Decimal
    high: Decimal
    flags: tuple[str, ...] = ()


def number(sheet: Sheet, at: int, end: int) -> Number | None:
    """Recognise a number: group marks, decimal commas, fractions, powers of ten.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    Number or None
        ``None`` for a number that belongs to a name or a code, or that makes no number.
    """
    tokens = sheet.tokens
    if at + 1 < end and tokens[at].text in (".", ",") and not tokens[at].glued and tokens[at + 1].glued:
        return _without_whole(sheet, at, end)
    if at >= end or tokens[at].kind != "number" or belongs_to_a_name(sheet, at, end):
        return None
    stop, text = at + 1, tokens[at].text
    if len(text) <= 3 and text.isdigit():
        stop, text = _grouped(sheet, at, end)
    try:
        read = read_number(text, sheet.locale, "text")
    except InvalidInput:
        return None
    found = Number(at, stop, read.low, read.high, _flags(sheet, at, stop, read))
    return _with_power(sheet, _with_fraction(sheet, found, end), end)


def _without_whole(sheet: Sheet, at: int, end: int) -> Number | None:
    """Recognise ``.5`` and ``,25``; a unit must follow, or it is a full stop before a number."""
    digits = sheet.tokens[at + 1].text
    if not digits.isdigit() or sheet.units.find(sheet.tokens, at + 2, end) is None:
        return None
    value = Decimal(f"0.{digits}")
    return Number(at, at + 2, value, value, ("decimal_comma",) if sheet.tokens[at].text == "," else ())


def _grouped(sheet: Sheet, at: int, end: int) -> tuple[int, str]:
    """Join groups of three digits that only blanks part."""
    tokens, stop, text = sheet.tokens, at + 1, sheet.tokens[at].text
    while stop < end and stop - at < _MOST_GROUPS:
        token = tokens[stop]
        if token.kind != "number" or token.glued or len(token.text) < 3 or not token.text[:3].isdigit():
            break
        if len(token.text) > 3 and token.text[3].isdigit():
            break
        stop, text = stop + 1, f"{text} {token.text}"
        if len(token.text) > 3:
            break
    return stop, text


def _flags(sheet: Sheet, at: int, stop: int, read: PrintedNumber) -> tuple[str, ...]:
    text = sheet.text(at, stop)
    thousands = (
        ("dot_thousands",) if "." in text and read.low == read.high and read.low >= 1000 and text[-3:].isdigit() else ()
    )
    return (*read.flags, *thousands)


def _with_fraction(sheet: Sheet, found: Number, end: int) -> Number:
    """Recognise ``1/2`` and ``1 1/2``; ``1/2`` is only a fraction where both are small whole numbers."""
    tokens, at = sheet.tokens, found.end
    beside = at < end and sheet.plain.text[tokens[at - 1].end : tokens[at].start] in ("", " ")
    # A wider gap parts two columns: "1      1/2".
    if (
        beside
        and at + 2 < end
        and tokens[at].kind == "number"
        and tokens[at + 1].text == "/"
        and tokens[at + 2].kind == "number"
    ):
        part = _fraction(tokens[at].text, tokens[at + 2].text)
        if part is not None and part < 1:
            return replace(found, end=at + 3, low=found.low + part, high=found.high + part, flags=("fraction",))
    if at + 1 < end and tokens[at].text == "/" and tokens[at].glued and tokens[at + 1].kind == "number":
        part = _fraction(tokens[found.start].text, tokens[at + 1].text)
        if part is not None:
            return replace(found, end=at + 2, low=part, high=part, flags=("fraction",))
    return found


def _fraction(above: str, below: str) -> Decimal | None:
    if not (above.isdigit() and below.isdigit() and len(above) == 1 and below in ("2", "3", "4", "8")):
        return None
    return Decimal(above) / Decimal(below)


def _with_power(sheet: Sheet, found: Number, end: int) -> Number:
    """Recognise ``5 x 10^9``, ``5x10^9`` and ``5e9``."""
    tokens, at = sheet.tokens, found.end
    if at >= end:
        return found
    if _is_exponent(sheet, at, end):
        return _scaled(found, at + 1, tokens[at].text[1:])
    power_at = at + 2 if at + 1 < end and tokens[at].fold in _TIMES and tokens[at + 1].text == "10" else at + 1
    if power_at == at + 1 and tokens[at].fold != "x10":
        return found
    if power_at + 1 < end and tokens[power_at].text == "^":
        power = tokens[power_at + 1].text
        if power.isdigit() and len(power) <= 2:
            return _scaled(found, power_at + 2, power)
    return found


def _scaled(found: Number, end: int, power: str) -> Number:
    scale = Decimal(10) ** int(power)
    return Number(found.start, end, found.low * scale, found.high * scale, (*found.flags, "scientific_notation"))


def _is_exponent(sheet: Sheet, at: int, end: int) -> bool:
    """``5e9 CFU``: a letter e and digits, glued to a number and with a unit behind."""
    token = sheet.tokens[at]
    digits = token.fold[1:]
    is_one = token.glued and token.fold[0] == "e" and digits.isdigit() and len(digits) <= 2
    return is_one and sheet.units.find(sheet.tokens, at + 1, end) is not None


def belongs_to_a_name(sheet: Sheet, at: int, end: int) -> bool:
    """Say whether a number is part of a name or a code: ``omega-3``, ``3b607``, ``E 967``, ``2 KCl``, ``7-in-1``.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Place of the number, and where the line ends.

    Returns
    -------
    bool
        A number with a unit right behind it never does.
    """
    tokens = sheet.tokens
    following = tokens[at + 1] if at + 1 < end else None
    if following is not None and following.fold in _STABILISERS:
        return True
    if following is not None and following.glued and following.kind == "word":
        # "500mg" is an amount, "3b607" and "2KCl" are names, "2x60" multiplies.
        known = sheet.units.find(tokens, at + 1, end) is not None or following.fold in ("x", "x10")
        return not known and not _is_exponent(sheet, at + 1, end)
    if following is not None and following.text == ":" and at + 2 < end and tokens[at + 2].kind == "number":
        # "10:1" is a ratio, "omega 3: 500 mg" a name and its amount.
        return (following.glued and tokens[at + 2].glued) or _named_before(sheet, at)
    if _ends_a_code(sheet, at):
        return True
    if at >= 2 and tokens[at - 1].text == ":" and tokens[at - 2].kind == "number" and tokens[at].glued:
        return True
    if sheet.units.find(tokens, at + 1, end) is not None or _begins_a_group(sheet, at, end):
        return False
    return _named_before(sheet, at) or _in_a_compound(sheet, at, end)


def _ends_a_code(sheet: Sheet, at: int) -> bool:
    """``3b8.10``: the digits behind the dot belong to the code of a feed additive."""
    tokens = sheet.tokens
    if at < 3 or tokens[at - 1].text != "." or not (tokens[at].glued and tokens[at - 1].glued and tokens[at - 2].glued):
        return False
    letter = tokens[at - 2].fold
    return tokens[at - 3].kind == "number" and letter[0] in "abcde" and letter[1:].isdigit()


def _begins_a_group(sheet: Sheet, at: int, end: int) -> bool:
    """``Vitamin E 5 000 mg``: three digits that begin with a nought and have a unit are no number of their own."""
    tokens = sheet.tokens
    if at + 1 >= end or tokens[at + 1].kind != "number" or tokens[at + 1].glued or len(tokens[at].text) > 3:
        return False
    group = tokens[at + 1].text
    return len(group) == 3 and group[0] == "0" and sheet.units.find(tokens, at + 2, end) is not None


def _named_before(sheet: Sheet, at: int) -> bool:
    tokens = sheet.tokens
    if at == 0:
        return False
    before = tokens[at - 1]
    if before.text == "-" and before.glued and tokens[at].glued and at >= 2:
        # "omega-3", and the 6 and the 9 of "omega 3-6-9".
        return tokens[at - 2].kind == "word" or (tokens[at - 2].kind == "number" and _named_before(sheet, at - 2))
    if before.text in (".", "#") and at >= 2 and tokens[at - 2].fold in ("no", "nr"):
        return True
    return before.fold in _ENDS_IN_A_NUMBER and before.kind == "word"


def _in_a_compound(sheet: Sheet, at: int, end: int) -> bool:
    """Recognise the 7 of ``7-in-1``: a hyphen and a word stand right behind."""
    tokens = sheet.tokens
    return (
        at + 2 < end
        and tokens[at + 1].text == "-"
        and tokens[at + 1].glued
        and tokens[at + 2].kind == "word"
        and tokens[at + 2].glued
    )
