"""Numbers as labels print them: group marks, decimal commas, powers of ten. ASCII digits only."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.domain.errors import InvalidInput, Issue

_GROUP_SPACES = " \u00a0\u2009\u202f"
_APOSTROPHES = "'\u2019"
_COMMA_LOCALES = ("de", "fr", "es", "it", "nl", "pt")
_MOST_DIGITS = 24


@dataclass(frozen=True, slots=True)
class PrintedNumber:
    """A printed number. ``low`` and ``high`` differ only where its separator can be read two ways."""

    low: Decimal
    high: Decimal
    flags: tuple[str, ...] = ()


def read_number(text: str, locale: str | None, where: str) -> PrintedNumber:
    """Read one printed number.

    Exactly three digits after a single dot can be a group or decimals: a leading zero makes them decimals, a locale
    settles it, else both readings are kept and flagged. A comma before three digits groups, unless the locale writes
    decimals with a comma.

    Parameters
    ----------
    text
        Digits and separators only, already cleaned.
    locale
        Two-letter language of the label, or ``None``.
    where
        Name of the field, for the error.

    Returns
    -------
    PrintedNumber
        One or both readings, with flags.

    Raises
    ------
    InvalidInput
        If the separators make no number.
    """
    if sum(char.isdigit() for char in text) > _MOST_DIGITS:
        raise InvalidInput(Issue(where, f"has more than {_MOST_DIGITS} digits"))
    flags: list[str] = []
    body = text
    if re.search(f"[{_GROUP_SPACES}{_APOSTROPHES}]", body):
        if not re.fullmatch(rf"[0-9]{{1,3}}(?:[{_GROUP_SPACES}{_APOSTROPHES}][0-9]{{3}})+(?:[.,][0-9]+)?", body):
            raise InvalidInput(Issue(where, f"{text!r} is not a number: digits are grouped in threes"))
        body = re.sub(f"[{_GROUP_SPACES}{_APOSTROPHES}]", "", body)
        flags.append("grouped_by_spaces")
    marks = [char for char in body if char in ".,"]
    if not marks:
        return PrintedNumber(Decimal(body), Decimal(body), tuple(flags))
    if len(set(marks)) == 2:
        return _two_marks(text, body, where, flags)
    if len(marks) > 1:
        return _grouped(text, body, marks[0], where, flags)
    return _one_mark(body, marks[0], locale, flags)


def _grouped(text: str, body: str, mark: str, where: str, flags: list[str]) -> PrintedNumber:
    if not re.fullmatch(rf"[0-9]{{1,3}}(?:\{mark}[0-9]{{3}})+", body):
        raise InvalidInput(Issue(where, f"{text!r} is not a number: digits are grouped in threes"))
    value = Decimal(body.replace(mark, ""))
    return PrintedNumber(value, value, tuple(flags))


def _two_marks(text: str, body: str, where: str, flags: list[str]) -> PrintedNumber:
    decimal_mark = body[max(body.rfind("."), body.rfind(","))]
    group_mark = "," if decimal_mark == "." else "."
    whole, _, decimals = body.rpartition(decimal_mark)
    if decimal_mark in whole or not re.fullmatch(rf"[0-9]{{1,3}}(?:\{group_mark}[0-9]{{3}})+", whole):
        raise InvalidInput(Issue(where, f"{text!r} is not a number: dots and commas contradict each other"))
    value = Decimal(f"{whole.replace(group_mark, '')}.{decimals}")
    return PrintedNumber(value, value, (*flags, *(("decimal_comma",) if decimal_mark == "," else ())))


def _one_mark(body: str, mark: str, locale: str | None, flags: list[str]) -> PrintedNumber:
    whole, _, decimals = body.partition(mark)
    as_decimal = Decimal(f"{whole or '0'}.{decimals}")
    if mark == ",":
        flags = [*flags, "decimal_comma"]
    if len(decimals) != 3 or whole in ("", "0") or len(whole) > 3:
        return PrintedNumber(as_decimal, as_decimal, tuple(flags))
    as_group = Decimal(whole + decimals)
    comma_locale = locale in _COMMA_LOCALES
    if mark == "," and not comma_locale:
        return PrintedNumber(as_group, as_group)
    if mark == "." and comma_locale:
        return PrintedNumber(as_group, as_group)
    if mark == "." and locale == "en":
        return PrintedNumber(as_decimal, as_decimal)
    return PrintedNumber(as_decimal, as_group, (*flags, "separator_ambiguous"))
