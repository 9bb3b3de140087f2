"""Recognisers of numbers, units, amounts and what an amount is for. Each takes a place and gives what it found there.

A recogniser never looks further than a fixed number of tokens, so a label is read in time linear in its length.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import cast

from service.domain.labels.numerals import Number, belongs_to_a_name, number
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BODY_WEIGHT, BOUNDS, DAILY, EACH, OF_PRODUCT, PER
from service.reference.records import Unit

_BEHIND_BOUNDS = frozenset((":", ".", ",", "\u2026", "_"))
_VALUES = ("value", "values")
# "2x2x2..." is no number with letters for digits, however long it goes on.
_MOST_PIECES_OF_A_NUMBER = 6
_RANGE_SIGNS = ("-", "\u2013", "\u2014")
_RANGE_WORDS = ("to", "bis", "a", "o", "or", "ou", "oder")
# "1 heaping tablespoon", "2 soft chews", "3 vegetarian capsules": words between a number and what it counts.
_FULLNESS = frozenset(
    """level heaping heaped rounded scant full large small soft tasty chewable flavoured flavored bacon beef
    chicken daily
    gestrichener gestrichene gehaufter gehaufte rase rases colmada rasa vegetarian vegetable veggie veg delicious mini
    medium free bonus extra gratis sample sample""".split()
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit and bound. ``refused`` says why the print is no number that may be used."""

    start: int
    end: int
    number: Number
    unit: Unit | None
    bound: str | None
    flags: tuple[str, ...]
    refused: str | None = None


@dataclass(frozen=True, slots=True)
class Per:
    """What an amount is for: a ``unit``, ``serving``, ``day``, ``product_mass``, ``volume`` or ``body_weight``."""

    start: int
    end: int
    kind: str
    count: Decimal
    unit: Unit | None


def quantity(sheet: Sheet, at: int, end: int, inherited: Unit | None = None) -> Quantity | None:
    """Recognise an amount: bound, number or range, unit, bound.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.
    inherited
        Unit of the column, for a number that has none.

    Returns
    -------
    Quantity or None
        ``unit`` is ``None`` for a bare number. A number with letters among its digits is refused, not repaired.
    """
    key = (at, end, inherited.alias if inherited is not None else None)
    if key not in sheet.seen:
        sheet.seen[key] = _quantity(sheet, at, end, inherited) if _may_begin(sheet, at, end) else None
    return cast("Quantity | None", sheet.seen[key])


def _may_begin(sheet: Sheet, at: int, end: int) -> bool:
    """Say whether an amount can begin at a token at all: most tokens are words that cannot."""
    if at >= end:
        return False
    token = sheet.tokens[at]
    if token.kind == "word":
        if is_letter_for_digit(sheet, at, end):
            return True
        return any(char.isdigit() for char in token.text) or BOUNDS.find(sheet.tokens, at, end) is not None
    return token.kind in ("number", "sign")


def _quantity(sheet: Sheet, at: int, end: int, inherited: Unit | None) -> Quantity | None:
    bound, about, place = _bounds(sheet, at, end)
    if (refused := _look_alike(sheet, place, end)) is not None:
        return replace(refused, start=at)
    first = number(sheet, place, end)
    if first is None:
        return _malformed(sheet, at, place, end)
    place, whole = _range(sheet, first, end)
    unit, place, flags = _unit(sheet, _out_of_bracket(sheet, first, place, end), end)
    if unit is None and inherited is not None:
        unit, flags = inherited, (*flags, "unit_inherited")
    if unit is None and inherited is None and (broken := _broken_number(sheet, at, first, end)) is not None:
        return broken
    after, about_after, stop = _bounds_after(sheet, place, end)
    flags = (*whole.flags, *flags, *(("approximate",) if about or about_after else ()))
    if unit is not None and unit.flag:
        flags = (*flags, unit.flag)
    return Quantity(at, stop, whole, unit, after or bound, tuple(dict.fromkeys(flags)))


def _malformed(sheet: Sheet, at: int, place: int, end: int) -> Quantity | None:
    """Refuse ``1,50,000 mcg``: digits and separators that make no number, with a unit behind them."""
    if place >= end or sheet.tokens[place].kind != "number" or belongs_to_a_name(sheet, place, end):
        return None
    unit, stop, _flags_of_unit = _unit(sheet, place + 1, end)
    if unit is None:
        return None
    nothing = Number(place, place + 1, Decimal(0), Decimal(0))
    return Quantity(at, stop, nothing, unit, None, ("number_malformed",), "is not a number: check its separators")


def _broken_number(sheet: Sheet, at: int, first: Number, end: int) -> Quantity | None:
    """Refuse ``5 00 mg``: digits that stand apart are no group, and which of them count is not for us to say."""
    second = number(sheet, first.end, end)
    if second is None or sheet.tokens[first.end].kind != "number":
        return None
    unit, stop, _flags_of_unit = _unit(sheet, second.end, end)
    if unit is None or unit.dimension in ("count", "fraction"):
        return None
    reason = "is not one number: digits are grouped in threes"
    return Quantity(at, stop, replace(first, end=second.end), unit, None, ("digits_apart",), reason)


def _look_alike(sheet: Sheet, at: int, end: int) -> Quantity | None:
    """Recognise ``5OO mg``, ``l50 mg``: letters that look like digits inside a number."""
    tokens, stop = sheet.tokens, at
    if at >= end or tokens[at].kind not in ("number", "word"):
        return None
    goes_on = at + 1 < end and tokens[at + 1].glued and tokens[at + 1].kind == "word"
    if tokens[at].kind == "number" and not goes_on:
        # Digits and nothing else.
        return None
    text = ""
    limit = min(end, at + _MOST_PIECES_OF_A_NUMBER)
    while stop < limit and (stop == at or tokens[stop].glued):
        if tokens[stop].kind not in ("number", "word") and (stop != at + 1 or not is_letter_for_digit(sheet, at, end)):
            break
        text += tokens[stop].text
        stop += 1
    core, rest = _split_look_alike(text)
    if core.isdigit() or len(core) < 2 or not any(char.isdigit() for char in core):
        return None
    unit_follows = bool(rest) and rest.casefold() in ("mg", "g", "mcg", "iu", "ml", "kg")
    if not unit_follows and (rest or sheet.units.find(tokens, stop, end) is None):
        return None
    hit = None if rest else sheet.units.find(tokens, stop, end)
    zero = Number(at, stop, Decimal(0), Decimal(0))
    reason = "has a letter among its digits; write the digit"
    return Quantity(
        at, hit.end if hit else stop, zero, hit.meaning if hit else None, None, ("letter_among_digits",), reason
    )


def is_letter_for_digit(sheet: Sheet, at: int, end: int) -> bool:
    """Say whether a letter stands for the first digit of a number, as in ``l,000 mg`` and ``I.5 g``.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Place of the letter, and where the line ends.

    Returns
    -------
    bool
        ``False`` where a blank parts them, as in ``vitamin A, 5 mg``.
    """
    tokens = sheet.tokens
    if at + 2 >= end or tokens[at].text not in ("l", "I", "O", "o") or tokens[at + 1].text not in (".", ","):
        return False
    return tokens[at + 1].glued and tokens[at + 2].glued and tokens[at + 2].kind == "number"


def _split_look_alike(text: str) -> tuple[str, str]:
    """Split ``5OOmg`` into what looks like digits and what follows."""
    at = 0
    while at < len(text) and (text[at].isdigit() or text[at] in "OoIl|.,S"):
        at += 1
    return text[:at].replace(".", "").replace(",", ""), text[at:]


def _bounds(sheet: Sheet, at: int, end: int) -> tuple[str | None, bool, int]:
    """Recognise up to two bounding words, with colon or bracket between them and the number: ``min. ca. 5 %``."""
    bound, about = None, False
    inside = sheet.inside(at) if at < end else None
    if inside is not None and inside[1] < end:
        hit = BOUNDS.find(sheet.tokens, *inside)
        if hit is not None and hit.end == inside[1] and hit.meaning != "about":
            # "(max) 2.5 %"
            return hit.meaning, False, inside[1] + 1
    for _ in range(2):
        hit = BOUNDS.find(sheet.tokens, at, end)
        if hit is None:
            break
        bound, about = (bound, True) if hit.meaning == "about" else (hit.meaning, about)
        at = hit.end
        after = at
        while after < end and sheet.tokens[after].text in _BEHIND_BOUNDS:
            after += 1
        # "not less than, 200 mg", "Min. .... 200 mg"
        at = after if number(sheet, after, end) is not None else at
    return bound, about, at


def _bounds_after(sheet: Sheet, at: int, end: int) -> tuple[str | None, bool, int]:
    """Recognise a bound behind the unit: ``16 % min``, ``40 ppm (min.)``."""
    tokens = sheet.tokens
    if at < end and (inside := sheet.inside(at)) is not None and inside[1] < end:
        hit = BOUNDS.find(tokens, inside[0], inside[1])
        of_the_next = number(sheet, inside[1] + 1, end) is not None
        if hit is not None and hit.end == inside[1] and not of_the_next:
            return (None if hit.meaning == "about" else hit.meaning), hit.meaning == "about", inside[1] + 1
        return None, False, at
    hit = BOUNDS.find(tokens, at, end)
    # "500 mg min" bounds what stands before; in "EPA 16 %, min DHA 10 %" a number follows the word.
    if hit is None or tokens[at].kind != "word" or number(sheet, hit.end, end) is not None:
        return None, False, at
    return (None if hit.meaning == "about" else hit.meaning), hit.meaning == "about", hit.end


def _range(sheet: Sheet, first: Number, end: int) -> tuple[int, Number]:
    """Recognise ``1.0-1.4``, ``4 to 6``, ``400 mg - 500 mg``; a range that runs downwards is two numbers."""
    tokens, at = sheet.tokens, first.end
    after_unit = sheet.units.find(tokens, at, end)
    for place in (at, *((after_unit.end,) if after_unit else ())):
        if place >= end or not (tokens[place].text in _RANGE_SIGNS or tokens[place].fold in _RANGE_WORDS):
            continue
        second = number(sheet, place + 1, end)
        if second is None or second.low <= first.high:
            continue
        if place != at:
            again = sheet.units.find(tokens, second.end, end)
            if again is None or after_unit is None or again.meaning.unit != after_unit.meaning.unit:
                continue
        flags = (*first.flags, *second.flags, "range")
        return second.end, Number(first.start, second.end, first.low, second.high, flags)
    return at, first


def _unit(sheet: Sheet, at: int, end: int) -> tuple[Unit | None, int, tuple[str, ...]]:
    """Recognise a unit, behind a footnote mark, in brackets, or behind the word that says how full a spoon is."""
    tokens = sheet.tokens
    start = at
    while at < end and (tokens[at].kind == "mark" or (tokens[at].text == "|" and at == start)):
        at += 1
    hit = sheet.units.find(tokens, at, end)
    if hit is not None:
        return hit.meaning, _after_stop(sheet, hit.end, end), ()
    place = at
    while place < end and place - at < 3 and tokens[place].fold in _FULLNESS:
        place += 1
    hit = sheet.units.find(tokens, place, end) if place > at else None
    if hit is not None and hit.meaning.dimension in ("count", "volume"):
        return hit.meaning, _after_stop(sheet, hit.end, end), ()
    at = start
    inside = sheet.inside(at) if at < end else None
    if inside is not None and inside[1] < end:
        hit = sheet.units.find(sheet.tokens, inside[0], inside[1])
        if hit is not None and hit.end == inside[1]:
            return hit.meaning, inside[1] + 1, ("unit_in_parentheses",)
    return None, at, ()


def _out_of_bracket(sheet: Sheet, first: Number, place: int, end: int) -> int:
    """Step out of the bracket of ``One (1) heaping scoop``: the unit stands behind it."""
    tokens = sheet.tokens
    alone = 0 < first.start and tokens[first.start - 1].text == "(" and place < end and tokens[place].text == ")"
    return place + 1 if alone else place


def _after_stop(sheet: Sheet, at: int, end: int) -> int:
    """Step over the full stop of a shortened unit: ``16 Cal. each``, ``1 Tbsp. (12 g)``."""
    tokens = sheet.tokens
    return at + 1 if at + 1 < end and tokens[at].text == "." and tokens[at].glued and not tokens[at + 1].glued else at


def per(sheet: Sheet, at: int, end: int) -> Per | None:
    """Recognise what an amount is for: ``per 2 chews``, ``/kg``, ``per 10 kg body weight``, ``each``, ``per day``.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    Per or None
        With the count that it names, 1 where it names none.
    """
    tokens = sheet.tokens
    inside = sheet.inside(at) if at < end else None
    if inside is not None and inside[1] < end:
        found = per(sheet, *inside)
        return replace(found, start=at, end=inside[1] + 1) if found and found.end == inside[1] else None
    daily = DAILY.find(tokens, at, end)
    if daily is not None and daily.end < end and tokens[daily.end].fold in _VALUES:
        # "Daily value not established" is no time.
        daily = None
    word = PER.find(tokens, at, end)
    if daily is not None and (word is None or daily.end > word.end):
        return Per(at, daily.end, "day", Decimal(1), None)
    if word is None:
        each = EACH.find(tokens, at, end)
        return Per(at, each.end, "unit", Decimal(1), None) if each else None
    return per_what(sheet, word.end, end, at)


def per_what(sheet: Sheet, at: int, end: int, start: int) -> Per | None:
    """Recognise the thing after ``per``: a count and a unit, a day, a weight of product or of the body.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.
    start
        First token of the whole clause.

    Returns
    -------
    Per or None
        ``None`` where no known unit follows.
    """
    tokens = sheet.tokens
    daily = DAILY.find(tokens, at, end)
    if daily is not None:
        return Per(start, daily.end, "day", Decimal(1), None)
    counted = number(sheet, at, end)
    place = counted.end if counted else at
    unit = sheet.units.find(tokens, place, end)
    if unit is None:
        return None
    count = counted.low if counted else Decimal(1)
    if count <= 0:
        return None
    found = unit.meaning
    if found.dimension == "mass" and found.factor < 1000:
        # "500 mg/400 mg" are two amounts, not one for 400 mg of product.
        return None
    if found.dimension == "mass":
        return _per_mass(sheet, unit.end, end, Per(start, unit.end, "product_mass", count, found))
    if found.dimension == "volume":
        return Per(start, unit.end, "volume", count, found)
    if found.dimension != "count":
        return None
    return Per(start, unit.end, "serving" if found.unit == "serving" else "unit", count, found)


def _per_mass(sheet: Sheet, at: int, end: int, product: Per) -> Per:
    """Say what a mass is one of: a body, a serving (``per 50 g serving``), a unit (``per 5 g tablet``), the product."""
    weight = BODY_WEIGHT.find(sheet.tokens, at, end)
    if weight is not None:
        return replace(product, end=weight.end, kind="body_weight")
    portion = sheet.units.find(sheet.tokens, at, end)
    if portion is not None and portion.meaning.dimension == "count":
        kind = "serving" if portion.meaning.unit == "serving" else "unit"
        return Per(product.start, portion.end, kind, Decimal(1), portion.meaning)
    whole = OF_PRODUCT.find(sheet.tokens, at, end)
    return replace(product, end=whole.end) if whole is not None else product
