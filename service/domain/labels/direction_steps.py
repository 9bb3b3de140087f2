"""What a line of directions says, part by part: units, body weights, how often, how long."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import cast

from service.domain.labels.direction_words import (
    ABOVE,
    ADDITIONAL,
    AFTER,
    AND_OVER,
    AND_UNDER,
    AT_MOST,
    BELOW,
    COUNT_WORDS,
    DAYS,
    DOUBLE,
    EVERY,
    IN_A_DAY,
    IN_A_WEEK,
    INTERVALS,
    LATER,
    NOT_ABOVE_EDGE,
    PHASES,
    TIMES,
    TIMES_SIGNS,
    TIMES_WORDS,
)
from service.domain.labels.numerals import Number, number
from service.domain.labels.phrases import phrase_key
from service.domain.labels.quantities import Quantity, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BODY_WEIGHT, PER, SPECIES_WORDS
from service.reference.release import Reference

KG_PER_MG = Decimal("0.000001")
_BODY_WEIGHT_UNITS = ("kilogram", "pound", "stone")
_MOST_GRAMS_A_DAY = 100
_MOST_TIMES = 12
_LONGEST_PER = 4
_DAYS_OF_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class Weights:
    """A range of body weights in kg, and the tokens that say it; ``None`` for an open end."""

    start: int
    end: int
    from_kg: Decimal | None
    to_kg: Decimal | None
    flags: tuple[str, ...] = ()


@dataclass(slots=True)
class Told:
    """What one line of directions says, collected from left to right.

    ``most`` is the largest count to give, ``size`` the mass in a bracket behind the first count.
    """

    weights: list[Weights]
    units: list[Quantity]
    most: Quantity | None = None
    size: Quantity | None = None
    times: Decimal | None = None
    times_per_week: Decimal | None = None
    interval: int | None = None
    phase: str | None = None
    factor: Decimal | None = None
    days: tuple[int, int] | None = None
    per_body_weight_kg: Decimal | None = None
    species: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()


def collect(sheet: Sheet, start: int, end: int) -> Told:
    """Collect everything that a line says of amounts and animals.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The line, without its heading.

    Returns
    -------
    Told
        In the order printed.
    """
    key = ("directions", start, end)
    if key not in sheet.seen:
        told = Told([], [])
        at = start
        while at < end:
            at = _step(sheet, told, at, end)
        sheet.seen[key] = told
    return cast("Told", sheet.seen[key])


def names_body_weight(sheet: Sheet, start: int, end: int) -> bool:
    """Say whether a unit of body weight stands in a line at all: most lines need no closer look.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The line.

    Returns
    -------
    bool
        Whether the weight is that of an animal is not looked at.
    """
    words = _first_words(sheet.reference)
    return any(token.fold in words for token in sheet.tokens[start:end])


def names_animal(sheet: Sheet, start: int, end: int) -> bool:
    """Say whether a line names a species or a body weight.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The line.

    Returns
    -------
    bool
        ``False`` for most lines of a panel.
    """
    species = (SPECIES_WORDS.find(sheet.tokens, at, end) for at in range(start, end))
    return names_body_weight(sheet, start, end) or any(hit is not None for hit in species)


@lru_cache(maxsize=8)
def _first_words(reference: Reference) -> frozenset[str]:
    units = reference.units.items()
    return frozenset(phrase_key(alias)[0] for alias, unit in units if unit.unit in _BODY_WEIGHT_UNITS)


def _step(sheet: Sheet, told: Told, at: int, end: int) -> int:
    """Take in what begins at a token and give the token after it."""
    tokens = sheet.tokens
    if (told.units or told.factor is not None) and _is_later(sheet, at, end):
        # "2 chews daily for 6 weeks, then half": what comes later is no part of what comes first.
        told.phase = told.phase or ("loading" if told.days else None)
        told.flags += ("later_dose_open",)
        return end
    after = _frequency(sheet, told, at, end) or _word(sheet, told, at, end) or _per_body_weight(sheet, told, at, end)
    after = after or _at_most(sheet, told, at, end)
    if after is not None:
        return after
    if (weights := _weights(sheet, at, end)) is not None:
        told.weights.append(weights)
        told.flags += weights.flags
        return weights.end
    counted = quantity(sheet, at, end) or spelt_count(sheet, at, end)
    if counted is None and told.weights and (hit := COUNT_WORDS.find(tokens, at, end)) is not None:
        # "Over 20 kg: one daily"; what is counted stands in another line.
        told.units.append(Quantity(at, hit.end, Number(at, hit.end, hit.meaning, hit.meaning), None, None, ()))
        return hit.end
    return _take_count(sheet, told, counted, end) if counted is not None else at + 1


def _is_later(sheet: Sheet, at: int, end: int) -> bool:
    """Say whether what is given later begins here: ``then``, ``after 6 weeks``."""
    if LATER.find(sheet.tokens, at, end) is not None:
        return True
    return sheet.tokens[at].fold in AFTER and phase_at(sheet, at, end) is not None


def _at_most(sheet: Sheet, told: Told, at: int, end: int) -> int | None:
    """``1 tablet per 5 kg up to a maximum of 6 tablets``: the last count bounds the first."""
    hit = AT_MOST.find(sheet.tokens, at, end) if told.units else None
    counted = quantity(sheet, hit.end, end) or spelt_count(sheet, hit.end, end) if hit is not None else None
    if counted is None or counted.unit is None or counted.unit.dimension not in ("count", "volume"):
        return None
    told.most = told.most or counted
    told.flags += ("maximum_stated",)
    return counted.end


def _frequency(sheet: Sheet, told: Told, at: int, end: int) -> int | None:
    """``3x daily``, ``three times a week``, ``3 x 1 tablet daily``: how often, whatever the count."""
    tokens = sheet.tokens
    counts = tokens[at].kind == "number" or COUNT_WORDS.find(tokens, at, end) is not None
    if not counts and TIMES_WORDS.find(tokens, at, end) is None:
        return None
    if (weekly := _times_in_a_week(sheet, at, end)) is not None:
        told.times_per_week = weekly[0]
        told.flags += ("times_per_week",)
        return weekly[1]
    spelt, counted = COUNT_WORDS.find(tokens, at, end), _number_or_range(sheet, at, end)
    place = counted.end if counted is not None else spelt.end if spelt is not None else at
    if place == at or place >= end or tokens[place].fold not in TIMES_SIGNS:
        return None
    times = counted.low if counted is not None else spelt.meaning if spelt is not None else Decimal(0)
    if not 0 < times <= _MOST_TIMES:
        return None
    told.flags += ("range",) if counted is not None and counted.low != counted.high else ()
    if (week := IN_A_WEEK.find(tokens, place + 1, end)) is not None:
        told.times_per_week = times
        told.flags += ("times_per_week",)
        return week.end
    if (day := IN_A_DAY.find(tokens, place + 1, end)) is not None:
        told.times = times
        return day.end
    units = quantity(sheet, place + 1, end)
    if units is not None and units.unit is not None and units.unit.dimension in ("count", "volume"):
        # "3 x 1 tablet daily": the times stand before the units.
        daily = any(
            IN_A_DAY.find(tokens, after, end) is not None for after in range(units.end, min(end, units.end + 3))
        )
        told.times = times if daily else told.times
        return place + 1 if daily else None
    return None


def _number_or_range(sheet: Sheet, at: int, end: int) -> Number | None:
    """``2``, ``2-3``: a number without a unit."""
    whole = quantity(sheet, at, end)
    return whole.number if whole is not None and whole.unit is None and not whole.refused else number(sheet, at, end)


def _times_in_a_week(sheet: Sheet, at: int, end: int) -> tuple[Decimal, int] | None:
    """``twice weekly``, ``zweimal pro Woche``, ``3 days a week``."""
    tokens = sheet.tokens
    if (spelt := TIMES_WORDS.find(tokens, at, end)) is not None:
        week = IN_A_WEEK.find(tokens, spelt.end, end)
        return (spelt.meaning, week.end) if week is not None else None
    counted, word = number(sheet, at, end), COUNT_WORDS.find(tokens, at, end)
    place = counted.end if counted is not None else word.end if word is not None else at
    days = DAYS.find(tokens, place, end) if place > at else None
    week = IN_A_WEEK.find(tokens, days.end, end) if days is not None and days.meaning == 1 else None
    times = counted.low if counted is not None else word.meaning if word is not None else Decimal(0)
    return (times, week.end) if week is not None and 0 < times <= _DAYS_OF_A_WEEK else None


def _interval(sheet: Sheet, at: int, end: int) -> tuple[int, int] | None:
    """``every other day``, ``every 4 days``, ``alle 2 Wochen``: days from one to the next, and the token behind."""
    if (known := INTERVALS.find(sheet.tokens, at, end)) is not None:
        return known.meaning, known.end
    every = EVERY.find(sheet.tokens, at, end)
    counted = number(sheet, every.end, end) if every is not None else None
    days = DAYS.find(sheet.tokens, counted.end, end) if counted is not None else None
    if days is None or counted is None or counted.low != counted.high or counted.low % 1 or not counted.low:
        return None
    return int(counted.low) * days.meaning, days.end


def _word(sheet: Sheet, told: Told, at: int, end: int) -> int | None:
    """Take in words: how often, which phase, which species. What stands first holds, later words only add."""
    tokens = sheet.tokens
    if (days := _interval(sheet, at, end)) is not None:
        told.interval = told.interval or days[0]
        return days[1]
    if (times := TIMES.find(tokens, at, end)) is not None:
        told.times = told.times or times.meaning
        return times.end
    factor = DOUBLE.find(tokens, at, end)
    counts = told.weights or spelt_count(sheet, at, end) is not None
    if factor is not None and not (counts and factor.end == at + 1 and COUNT_WORDS.find(tokens, at, end)):
        told.factor = told.factor or factor.meaning
        return factor.end
    if (phase := phase_at(sheet, at, end)) is not None:
        told.phase = told.phase or phase[0]
        return phase[1]
    if (species := SPECIES_WORDS.find(tokens, at, end)) is not None:
        told.species = tuple(dict.fromkeys((*told.species, species.meaning)))
        return species.end
    return None


def phase_at(sheet: Sheet, at: int, end: int) -> tuple[str, int] | None:
    """Recognise a word for a phase, or ``after 6 weeks``, which begins the next one.

    Parameters
    ----------
    sheet
        The label.
    at, end
        The token, and where the line ends.

    Returns
    -------
    tuple or None
        ``loading`` or ``maintenance``, and the token after it.
    """
    hit = PHASES.find(sheet.tokens, at, end)
    if hit is not None:
        return hit.meaning, hit.end
    counted = number(sheet, at + 1, end) if sheet.tokens[at].fold in AFTER and at + 1 < end else None
    days = DAYS.find(sheet.tokens, counted.end, end) if counted is not None else None
    return ("maintenance", days.end) if days is not None else None


def _per_body_weight(sheet: Sheet, told: Told, at: int, end: int) -> int | None:
    """``1 chew per 20 lb``: units are for so much body weight."""
    tokens = sheet.tokens
    if PER.find(tokens, at, end) is not None and any(
        token.fold in ADDITIONAL for token in tokens[at : min(end, at + _LONGEST_PER)]
    ):
        # "1 chew per additional 20 lb": more on top of what stands elsewhere, no amount of its own.
        told.flags += ("per_additional_weight",)
    body = per(sheet, at, end)
    if body is None or body.unit is None or body.unit.unit not in _BODY_WEIGHT_UNITS:
        return None
    if not told.units and body.kind != "body_weight":
        return None
    told.per_body_weight_kg = body.count * body.unit.factor * KG_PER_MG
    return body.end


def spelt_count(sheet: Sheet, at: int, end: int) -> Quantity | None:
    """Recognise ``half a tablet``, ``two chews``, ``mezza compressa``.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where it must begin, and where the line ends.

    Returns
    -------
    Quantity or None
        ``None`` where no unit that counts stands behind the word.
    """
    hit = COUNT_WORDS.find(sheet.tokens, at, end)
    unit = sheet.units.find(sheet.tokens, hit.end, end) if hit is not None else None
    if hit is None or unit is None or unit.meaning.dimension not in ("count", "volume"):
        return None
    return Quantity(at, unit.end, Number(at, hit.end, hit.meaning, hit.meaning), unit.meaning, None, ())


def _take_count(sheet: Sheet, told: Told, counted: Quantity, end: int) -> int:
    unit = counted.unit
    grams = unit is not None and unit.unit == "gram" and counted.number.high <= _MOST_GRAMS_A_DAY
    bracketed = counted.start > 0 and sheet.tokens[counted.start - 1].text == "("
    if told.units and bracketed and unit is not None and unit.dimension in ("volume", "mass"):
        # "1 tsp (5 ml)" says the same twice.
        told.size = told.size or (counted if len(told.units) == 1 else None)
        return counted.end
    if unit is not None and (unit.dimension in ("count", "volume") or grams):
        told.units.append(counted)
        told.flags += (*counted.flags, *((f"bound_{counted.bound}",) if counted.bound else ()))
        return counted.end
    days = DAYS.find(sheet.tokens, counted.number.end, end)
    before = DAYS.find(sheet.tokens, counted.start - 1, end) if counted.start else None
    if days is None and unit is None and before is not None and before.end == counted.start and counted.number.low == 1:
        # "days 1-28", "weeks 1 to 6": as long as the last of them.
        told.days = (int(counted.number.high) * before.meaning,) * 2
        return counted.end
    if days is not None:
        told.days = (int(counted.number.low) * days.meaning, int(counted.number.high) * days.meaning)
        told.flags += tuple(flag for flag in counted.flags if flag == "range")
        return days.end
    if unit is None and told.weights and counted.number.low <= 20:
        # "Over 50 kg: 3" counts units that an earlier line named.
        told.units.append(counted)
    return counted.end


def _weights(sheet: Sheet, at: int, end: int) -> Weights | None:
    """Recognise a body weight or a range of them."""
    tokens = sheet.tokens
    above, below = ABOVE.find(tokens, at, end), BELOW.find(tokens, at, end)
    place = above.end if above else below.end if below else at
    first = number(sheet, place, end)
    if first is None:
        return None
    if (open_ended := _with_plus(sheet, first, end)) is not None:
        return open_ended
    span = _span(sheet, first, end)
    if span is None:
        return None
    low, high, stop, flags = span
    stop = weight.end if (weight := BODY_WEIGHT.find(tokens, stop, end)) else stop
    over = AND_OVER.find(tokens, stop, end)
    under = AND_UNDER.find(tokens, stop, end)
    if low != high:
        return Weights(at, stop, low, high, flags)
    if above is not None or over is not None:
        exclusive = ("lower_edge_excluded",) if above is not None and tokens[at].fold in NOT_ABOVE_EDGE else ()
        return Weights(at, over.end if over else stop, low, None, (*flags, *exclusive))
    if below is not None or under is not None:
        included = (
            ("upper_edge_included",)
            if tokens[at].fold in ("up", "bis", "jusqu'a", "hasta", "\u2264", "to") or under
            else ()
        )
        return Weights(at, under.end if under else stop, None, low, (*flags, *included))
    return Weights(at, stop, low, low, (*flags, "single_weight"))


def _with_plus(sheet: Sheet, first: Number, end: int) -> Weights | None:
    """``51+ lb``, ``75+ LBS``."""
    tokens = sheet.tokens
    if first.end >= end or tokens[first.end].text != "+":
        return None
    unit = sheet.units.find(tokens, first.end + 1, end)
    if unit is None or unit.meaning.unit not in _BODY_WEIGHT_UNITS:
        return None
    return Weights(first.start, unit.end, first.low * unit.meaning.factor * KG_PER_MG, None)


def _span(sheet: Sheet, first: Number, end: int) -> tuple[Decimal, Decimal, int, tuple[str, ...]] | None:
    """Read one weight or two, in one unit or each in its own."""
    tokens = sheet.tokens
    whole = quantity(sheet, first.start, end)
    if (
        whole is None
        or whole.unit is None
        or whole.unit.dimension != "mass"
        or whole.unit.unit not in _BODY_WEIGHT_UNITS
    ):
        return None
    factor = whole.unit.factor * KG_PER_MG
    low, high, stop = whole.number.low * factor, whole.number.high * factor, whole.end
    flags: tuple[str, ...] = ("stone",) if whole.unit.unit == "stone" else ()
    if whole.unit.unit == "stone":
        more = quantity(sheet, stop, end)
        if more is not None and more.unit is not None and more.unit.unit == "pound":
            extra = more.number.low * more.unit.factor * KG_PER_MG
            low, high, stop = low + extra, high + extra, more.end
    if stop < end and tokens[stop].text in ("(", "/"):
        # "up to 25 lb (11 kg)": the same weight in the other unit.
        inside = quantity(sheet, stop + 1, end)
        if inside is not None and inside.unit is not None and inside.unit.dimension == "mass":
            stop = inside.end + (1 if inside.end < end and tokens[inside.end].text == ")" else 0)
    return low, high, stop, flags
