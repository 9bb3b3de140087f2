"""Units told with their size: ``90-count``, ``per 5-g portion``, ``per tablet of 2 g``, ``per 5 ml pump``."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.errors import InvalidInput
from service.domain.labels.numerals import Number
from service.domain.labels.phrases import any_of
from service.domain.labels.quantities import Per, Quantity, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import PER
from service.domain.numbers import read_number
from service.reference.records import Unit

_HYPHENS = ("-", "\u2013")
_OF = frozenset("of de d' zu a von van da di weighing weighs each je".split())
_SIZES = ("mass", "volume")
_SERVING_WORDS = any_of("dosis | raci\u00f3n | toma | ration | dosi | portie | gabe | einnahme")


@dataclass(frozen=True, slots=True)
class SizedPer:
    """What an amount is for, the size of one of it where that is printed, and the token after both."""

    per: Per
    size: Quantity | None
    end: int


def hyphenated(sheet: Sheet, at: int, end: int) -> Quantity | None:
    """Recognise ``90-count``, ``5-g``, ``500-ml``: a number and a unit joined by a hyphen.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    Quantity or None
        ``None`` where no hyphen joins them, or where the number can be read two ways.
    """
    tokens = sheet.tokens
    if at + 2 >= end or tokens[at].kind != "number" or tokens[at + 1].text not in _HYPHENS:
        return None
    unit = sheet.units.find(tokens, at + 2, end)
    if unit is None or not (tokens[at + 1].glued and tokens[at + 2].glued):
        return None
    try:
        read = read_number(tokens[at].text, sheet.locale, "text")
    except InvalidInput:
        return None
    if read.low != read.high:
        return None
    return Quantity(at, unit.end, Number(at, at + 1, read.low, read.high), unit.meaning, None, ())


def sized_per(sheet: Sheet, at: int, end: int) -> SizedPer | None:
    """Recognise what amounts are for, with the size of it.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    SizedPer or None
        For example one tablet and 2 g for ``par comprim\u00e9 de 2 g``.
    """
    inside = sheet.inside(at) if at < end else None
    if inside is not None and inside[1] < end:
        told = sized_per(sheet, *inside)
        return replace(told, end=inside[1] + 1) if told is not None and told.end == inside[1] else None
    if (joined := _per_hyphenated(sheet, at, end)) is not None:
        return joined
    what = per(sheet, at, end) or _per_serving(sheet, at, end)
    if what is None:
        return None
    hyphen = what.end < end and sheet.tokens[what.end].text in _HYPHENS
    unit = _counting(sheet, what.end + hyphen, end) if what.kind in ("volume", "product_mass") else None
    if unit is not None and (amount := _size_within(sheet, what)) is not None:
        # "per 5 ml pump", "per 2 g-tablet"
        return SizedPer(_one(what.start, unit[1], unit[0]), amount, unit[1])
    if what.kind not in ("unit", "serving"):
        return SizedPer(what, None, what.end)
    return _behind(sheet, what, end)


def _per_serving(sheet: Sheet, at: int, end: int) -> Per | None:
    """``por dosis``, ``je Gabe``: words that mean a serving and are no units elsewhere."""
    word = PER.find(sheet.tokens, at, end)
    hit = _SERVING_WORDS.find(sheet.tokens, word.end, end) if word is not None else None
    return Per(at, hit.end, "serving", Decimal(1), sheet.reference.units["serving"]) if hit is not None else None


def _behind(sheet: Sheet, what: Per, end: int) -> SizedPer:
    """Look for the size inside (``per 2 g tablet``) and behind (``per tablet of 2 g``) what is counted."""
    tokens, stop = sheet.tokens, what.end
    serving = _counting(sheet, stop, end) if what.kind == "unit" else None
    if serving is not None and serving[0].unit == "serving":
        # "per 2 chew serving"
        stop = serving[1]
    inside = _size_within(sheet, what)
    if inside is not None or stop >= end or tokens[stop].fold not in _OF or what.unit is None:
        return SizedPer(replace(what, end=stop), inside, stop)
    place = stop
    while place < end and tokens[place].fold in _OF:
        place += 1
    size = quantity(sheet, place, end)
    dimensions = (*_SIZES, "count") if what.kind == "serving" else _SIZES
    if size is None or size.unit is None or size.unit.dimension not in dimensions or size.refused:
        return SizedPer(replace(what, end=stop), None, stop)
    return SizedPer(replace(what, end=size.end), size, size.end)


def _per_hyphenated(sheet: Sheet, at: int, end: int) -> SizedPer | None:
    """``Je 5-g-Portion``, ``per 2-chew serving``."""
    word = PER.find(sheet.tokens, at, end)
    joined = hyphenated(sheet, word.end, end) if word is not None else None
    if joined is None or joined.unit is None or joined.number.low <= 0:
        return None
    place = joined.end + 1 if joined.end < end and sheet.tokens[joined.end].text in _HYPHENS else joined.end
    counted = _counting(sheet, place, end)
    if joined.unit.dimension == "count":
        stop = counted[1] if counted is not None and counted[0].unit == "serving" else joined.end
        kind = "serving" if joined.unit.unit == "serving" else "unit"
        return SizedPer(Per(at, stop, kind, joined.number.low, joined.unit), None, stop)
    if counted is None or joined.unit.dimension not in _SIZES:
        return None
    return SizedPer(_one(at, counted[1], counted[0]), joined, counted[1])


def _one(start: int, end: int, unit: Unit) -> Per:
    return Per(start, end, "serving" if unit.unit == "serving" else "unit", Decimal(1), unit)


def _counting(sheet: Sheet, at: int, end: int) -> tuple[Unit, int] | None:
    hit = sheet.units.find(sheet.tokens, at, end)
    return (hit.meaning, hit.end) if hit is not None and hit.meaning.dimension == "count" else None


def _size_within(sheet: Sheet, what: Per) -> Quantity | None:
    for at in range(what.start, what.end):
        one = quantity(sheet, at, what.end)
        if one is not None and one.unit is not None and one.unit.dimension in _SIZES:
            return one
    return None
