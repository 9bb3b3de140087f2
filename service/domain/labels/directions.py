"""Recogniser of directions: how many units for which body weight, how often, how long."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.labels.direction_words import (
    ABOVE,
    AND_OVER,
    AND_UNDER,
    BELOW,
    COUNT_WORDS,
    DAYS,
    DOUBLE,
    INTERVALS,
    NOT_ABOVE_EDGE,
    PHASES,
    TIMES,
)
from service.domain.labels.findings import Band, Direction, Findings, Line
from service.domain.labels.heading_words import DIRECTION_HEADINGS
from service.domain.labels.phrases import Phrases
from service.domain.labels.quantities import Number, Quantity, number, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BODY_WEIGHT, SPECIES_WORDS
from service.reference.records import Unit

_HEADINGS = Phrases(dict.fromkeys(DIRECTION_HEADINGS, True))
_KG_PER_MG = Decimal("0.000001")
_MOST_GRAMS_A_DAY = 100


@dataclass(frozen=True, slots=True)
class _Weights:
    start: int
    end: int
    from_kg: Decimal | None
    to_kg: Decimal | None
    flags: tuple[str, ...] = ()


@dataclass(slots=True)
class _Told:
    """What one line of directions says, collected from left to right."""

    weights: list[_Weights]
    units: list[Quantity]
    order: list[str]
    times: Decimal | None = None
    interval: int | None = None
    phase: str | None = None
    factor: Decimal | None = None
    days: tuple[int, int] | None = None
    per_body_weight_kg: Decimal | None = None
    species: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()


def directions(found: Findings, line: Line) -> bool:
    """Recognise a line of directions.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether it gives units for a body weight, a frequency or a duration.
    """
    sheet = found.sheet
    head = _HEADINGS.find(sheet.tokens, line.start, line.end)
    told = _collect(sheet, head.end if head else line.start, line.end)
    column = found.column_unit if found.column_unit is not None and found.column_unit.dimension == "count" else None
    headed = head is not None or found.section == "directions"
    gives_units = bool(told.units) and bool(
        told.weights or told.times or told.interval or told.per_body_weight_kg or headed
    )
    speaks = gives_units or told.interval is not None or (told.factor is not None and told.days is not None)
    speaks = speaks or (headed and bool(told.weights or told.times or told.days))
    speaks = speaks or bool(told.weights and told.species)
    if not speaks:
        return False
    phase = told.phase or _phase_of_heading(sheet, line)
    first = told.units[0] if told.units else None
    found.directions.append(
        Direction(
            text=sheet.text(line.start, line.end),
            bands=tuple(_bands(sheet, told, column)),
            units_low=first.number.low if first and not told.weights else None,
            units_high=first.number.high if first and not told.weights else None,
            unit=first.unit.unit if first and first.unit else None,
            times_per_day=told.times,
            interval_days=told.interval,
            per_body_weight_kg=told.per_body_weight_kg,
            phase=phase,
            days_low=told.days[0] if told.days else None,
            days_high=told.days[1] if told.days else None,
            factor=told.factor,
            species=told.species,
            flags=tuple(dict.fromkeys(told.flags)),
            span=sheet.span(line.start, line.end),
        )
    )
    found.cover(line.start, line.end)
    return True


def weight_bands(found: Findings, line: Line) -> bool:
    """Recognise ``26-50 lb: 2 chews``, which looks like two sizes of a pack.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line gives units for a range of body weights.
    """
    told = _collect(found.sheet, line.start, line.end)
    ranges = [one for one in told.weights if "single_weight" not in one.flags]
    if not told.units or not (ranges or (told.weights and found.section == "directions")):
        return False
    return directions(found, line)


def _phase_of_heading(sheet: Sheet, line: Line) -> str | None:
    hit = PHASES.find(sheet.tokens, line.start, line.end)
    return hit.meaning if hit else None


def _collect(sheet: Sheet, start: int, end: int) -> _Told:
    told = _Told([], [], [])
    at = start
    while at < end:
        at = _step(sheet, told, at, end)
    return told


def _step(sheet: Sheet, told: _Told, at: int, end: int) -> int:
    """Take in what begins at a token and give the token after it."""
    tokens = sheet.tokens
    for phrases, take in (
        (INTERVALS, _take_interval), (TIMES, _take_times), (DOUBLE, _take_factor), (PHASES, _take_phase),
        (SPECIES_WORDS, _take_species),
    ):  # fmt: skip
        hit = phrases.find(tokens, at, end)  # type: ignore[attr-defined]
        if hit is not None:
            take(told, hit.meaning)  # type: ignore[operator]
            return int(hit.end)
    if (
        (body := per(sheet, at, end)) is not None
        and body.kind in ("body_weight", "product_mass")
        and body.unit
        and told.units
        and body.unit.unit in ("kilogram", "pound", "stone")
    ):
        told.per_body_weight_kg = body.count * body.unit.factor * _KG_PER_MG
        return body.end
    if (weights := _weights(sheet, at, end)) is not None:
        told.weights.append(weights)
        told.order.append("w")
        told.flags += weights.flags
        return weights.end
    counted = quantity(sheet, at, end) or _spelt_count(sheet, at, end)
    if counted is not None:
        return _take_count(sheet, told, counted, end)
    return at + 1


def _spelt_count(sheet: Sheet, at: int, end: int) -> Quantity | None:
    """Recognise ``half a tablet``, ``two chews``, ``mezza compressa``."""
    hit = COUNT_WORDS.find(sheet.tokens, at, end)
    unit = sheet.units.find(sheet.tokens, hit.end, end) if hit is not None else None
    if hit is None or unit is None or unit.meaning.dimension not in ("count", "volume"):
        return None
    return Quantity(at, unit.end, Number(at, hit.end, hit.meaning, hit.meaning), unit.meaning, None, ())


def _take_interval(told: _Told, days: int) -> None:
    told.interval = days


def _take_times(told: _Told, times: Decimal) -> None:
    told.times = told.times or times


def _take_factor(told: _Told, factor: Decimal) -> None:
    told.factor = factor


def _take_phase(told: _Told, phase: str) -> None:
    told.phase = told.phase or phase


def _take_species(told: _Told, species: str) -> None:
    told.species = tuple(dict.fromkeys((*told.species, species)))


def _take_count(sheet: Sheet, told: _Told, counted: Quantity, end: int) -> int:
    unit = counted.unit
    grams = unit is not None and unit.unit == "gram" and counted.number.high <= _MOST_GRAMS_A_DAY
    if unit is not None and (unit.dimension in ("count", "volume") or grams):
        told.units.append(counted)
        told.order.append("u")
        told.flags += counted.flags
        return counted.end
    days = DAYS.find(sheet.tokens, counted.number.end, end)
    if days is not None:
        told.days = (int(counted.number.low) * days.meaning, int(counted.number.high) * days.meaning)
        told.flags += tuple(flag for flag in counted.flags if flag == "range")
        return days.end
    if unit is None and told.weights and counted.number.low <= 20:
        # "Over 50 kg: 3" counts units that an earlier line named.
        told.units.append(counted)
        told.order.append("u")
    return counted.end


def _weights(sheet: Sheet, at: int, end: int) -> _Weights | None:
    """Recognise a body weight or a range of them."""
    tokens = sheet.tokens
    above, below = ABOVE.find(tokens, at, end), BELOW.find(tokens, at, end)
    place = above.end if above else below.end if below else at
    first = number(sheet, place, end)
    if first is None:
        return None
    span = _span(sheet, first, end)
    if span is None:
        return None
    low, high, stop, flags = span
    stop = weight.end if (weight := BODY_WEIGHT.find(tokens, stop, end)) else stop
    over = AND_OVER.find(tokens, stop, end)
    under = AND_UNDER.find(tokens, stop, end)
    if low != high:
        return _Weights(at, stop, low, high, flags)
    if above is not None or over is not None:
        exclusive = ("lower_edge_excluded",) if above is not None and tokens[at].fold in NOT_ABOVE_EDGE else ()
        return _Weights(at, over.end if over else stop, low, None, (*flags, *exclusive))
    if below is not None or under is not None:
        included = (
            ("upper_edge_included",)
            if tokens[at].fold in ("up", "bis", "jusqu'a", "hasta", "\u2264", "to") or under
            else ()
        )
        return _Weights(at, under.end if under else stop, None, low, (*flags, *included))
    return _Weights(at, stop, low, low, (*flags, "single_weight"))


def _span(sheet: Sheet, first: Number, end: int) -> tuple[Decimal, Decimal, int, tuple[str, ...]] | None:
    """Read one weight or two, in one unit or each in its own."""
    tokens = sheet.tokens
    whole = quantity(sheet, first.start, end)
    if (
        whole is None
        or whole.unit is None
        or whole.unit.dimension != "mass"
        or whole.unit.unit not in ("kilogram", "pound", "stone")
    ):
        return None
    factor = whole.unit.factor * _KG_PER_MG
    low, high, stop = whole.number.low * factor, whole.number.high * factor, whole.end
    flags: tuple[str, ...] = ("stone",) if whole.unit.unit == "stone" else ()
    if whole.unit.unit == "stone":
        more = quantity(sheet, stop, end)
        if more is not None and more.unit is not None and more.unit.unit == "pound":
            extra = more.number.low * more.unit.factor * _KG_PER_MG
            low, high, stop = low + extra, high + extra, more.end
    if stop < end and tokens[stop].text in ("(", "/"):
        # "up to 25 lb (11 kg)": the same weight in the other unit.
        inside = quantity(sheet, stop + 1, end)
        if inside is not None and inside.unit is not None and inside.unit.dimension == "mass":
            stop = inside.end + (1 if inside.end < end and tokens[inside.end].text == ")" else 0)
    return low, high, stop, flags


def _bands(sheet: Sheet, told: _Told, column: Unit | None) -> list[Band]:
    """Pair weights with units in the order printed: ``10 kg: 1 tab`` or ``1 tab for 10 kg``."""
    weights, units = told.weights, told.units
    found = []
    for at, one in enumerate(weights):
        unit = units[at] if len(units) == len(weights) else units[0] if len(units) == 1 else None
        found.append(
            Band(
                one.from_kg, one.to_kg,
                unit.number.low if unit else None, unit.number.high if unit else None,
                unit.unit.unit if unit and unit.unit else None, told.times, sheet.span(one.start, one.end),
            )
        )  # fmt: skip
    return found


def closed_bands(found: tuple[Direction, ...]) -> tuple[Direction, ...]:
    """Run each band up to the start of the next: printed gaps (``up to 25 lb``, ``26-50 lb``) hold no animal.

    Parameters
    ----------
    found
        Directions in printed order.

    Returns
    -------
    tuple of Direction
        With bands that are half-open and meet (source: the table of weight bands, common practice).
    """
    starts = sorted(
        {band.from_kg for one in found for band in one.bands if band.from_kg is not None and band.from_kg != band.to_kg}
    )
    closed = []
    for one in found:
        bands = []
        for band in one.bands:
            from_kg = band.from_kg if band.from_kg is not None else Decimal(0)
            to_kg = band.to_kg
            if to_kg is not None and from_kg != to_kg:
                following = next((start for start in starts if start >= to_kg), None)
                # A gap of up to a kilogram is the step of the printed table, no weight of its own.
                to_kg = following if following is not None and following - to_kg <= 1 else to_kg
            bands.append(replace(band, from_kg=from_kg, to_kg=to_kg))
        closed.append(replace(one, bands=tuple(bands)))
    return tuple(closed)
