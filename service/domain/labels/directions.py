"""Recogniser of directions: how many units for which body weight, how often, how long."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from service.domain.labels.direction_steps import Told, collect, names_body_weight, phase_at
from service.domain.labels.findings import Band, Direction, Findings, Line, Statement
from service.domain.labels.heading_words import DIRECTION_HEADINGS
from service.domain.labels.phrases import Phrases
from service.domain.labels.quantities import Quantity
from service.domain.labels.sheet import Sheet
from service.reference.records import Unit

_MOST_AT_ONCE = 12
_HEADINGS = Phrases(dict.fromkeys(DIRECTION_HEADINGS, True))


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
    head = _HEADINGS.find(found.sheet.tokens, line.start, line.end)
    start = head.end if head else line.start
    if _phase_columns(found, line) or _row_of_phases(found, line):
        return True
    parts = _phases(found.sheet, start, line.end)
    if len(parts) == 1:
        return _told(found, line, start, headed=head is not None)
    spoken = [_told(found, Line(line.segment, *part), part[0], headed=True) for part in parts]
    if any(spoken):
        if found.directions[-1].phase == "maintenance" and spoken[0] and spoken[-1]:
            # "2 chews daily for 6 weeks, then 1": what lasts only some weeks and is followed by another amount.
            first = len(found.directions) - sum(spoken)
            before = found.directions[first]
            found.directions[first] = replace(before, phase=before.phase or ("loading" if before.days_low else None))
        found.cover(line.start, line.end)
    return any(spoken)


def _phase_columns(found: Findings, line: Line) -> bool:
    """``Weight   Initial (4-6 weeks)   Maintenance``: columns for the rows below."""
    sheet = found.sheet
    places: list[tuple[int, str]] = []
    at = line.start
    while at < line.end:
        hit = phase_at(sheet, at, line.end)
        # "Loading dose (first 4-6 weeks)" is one column.
        places += [(at, hit[0])] if hit is not None and (not places or places[-1][1] != hit[0]) else []
        at = hit[1] if hit is not None else at + 1
    if {phase for _, phase in places} != {"loading", "maintenance"} or len(places) != 2:
        return False
    told = collect(sheet, line.start, line.end)
    if told.units or told.weights or told.factor is not None or told.times:
        # "Double the dose for the first 4-6 weeks, then half" heads no columns.
        return False
    ends = [place for place, _ in places[1:]] + [line.end]
    found.phases = tuple(
        (phase, collect(sheet, place, end).days) for (place, phase), end in zip(places, ends, strict=True)
    )
    units = (sheet.units.find(sheet.tokens, at, line.end) for at in range(line.start, line.end))
    counting = (hit.meaning for hit in units if hit is not None and hit.meaning.dimension == "count")
    found.column_unit = next(counting, found.column_unit)
    found.state("heading", line.start, line.end)
    return True


def _row_of_phases(found: Findings, line: Line) -> bool:
    """``20-40 lbs   1 tablet   1/2 tablet`` below such columns: one direction for each phase."""
    if not found.phases:
        return False
    told = collect(found.sheet, line.start, line.end)
    if len(told.weights) != 1 or not told.units:
        return False
    if len(told.units) != len(found.phases):
        # Which column a number stands in is not to be guessed.
        open_ = replace(told, units=[], flags=(*told.flags, "several_columns"))
        found.directions.append(_direction(found, line, open_, None, None))
        found.cover(line.start, line.end)
        return True
    for unit, (phase, days) in zip(told.units, found.phases, strict=True):
        alone = replace(told, units=[unit], phase=phase, days=days)
        found.directions.append(_direction(found, line, alone, phase, days))
    found.cover(line.start, line.end)
    return True


def _phases(sheet: Sheet, start: int, end: int) -> list[tuple[int, int]]:
    """Cut a line where the next phase begins: ``2 chews daily for 6 weeks, then 1 chew daily``."""
    cuts: list[int] = []
    for at in range(start + 1, end):
        hit = phase_at(sheet, at, end)
        if hit is None or hit[0] != "maintenance":
            continue
        before = collect(sheet, cuts[-1] if cuts else start, at)
        after = collect(sheet, at, end)
        if (before.units or before.days) and after.units:
            cuts.append(at)
    edges = [start, *cuts, end]
    return list(pairwise(edges))


def _told(found: Findings, line: Line, start: int, *, headed: bool) -> bool:
    """Keep what one phase of a line says."""
    sheet = found.sheet
    told = collect(sheet, start, line.end)
    headed = headed or found.section == "directions"
    gives_units = bool(told.units) and bool(
        told.weights
        or told.times
        or told.times_per_week
        or told.interval
        or told.per_body_weight_kg
        or (told.days and told.units[0].number.high <= _MOST_AT_ONCE)
        or (told.phase and found.directions and told.units[0].number.high <= _MOST_AT_ONCE)
        or (told.species and all(one.unit is not None and one.unit.unit == "gram" for one in told.units))
        or (headed and not told.weights)
    )
    speaks = gives_units or told.interval is not None or (told.factor is not None and bool(told.days or told.phase))
    speaks = speaks or (headed and bool(told.weights or told.times or told.days))
    speaks = speaks or bool(told.weights and told.species)
    if not speaks:
        return False
    phase = told.phase or _phase_of_heading(sheet, line) or found.phase
    days = told.days or (found.days if phase == found.phase else None)
    found.directions.append(_direction(found, line, told, phase, days))
    found.cover(line.start, line.end)
    _state_the_most(found, told)
    _keep_size(found, told)
    return True


def _state_the_most(found: Findings, told: Told) -> None:
    """Keep the largest count to give as a statement with its value."""
    most = told.most
    if most is None or most.unit is None:
        return
    text, span = found.sheet.text(most.start, most.end), found.sheet.span(most.start, most.end)
    found.statements.append(Statement("maximum", text, "most_to_give", most.number.high, most.unit.unit, span))


def _keep_size(found: Findings, told: Told) -> None:
    """``1 teaspoon (5 g) per 10 kg``: the bracket tells the size; a measure, that it is what is given at once."""
    pack, size, first = found.pack, told.size, told.units[0] if told.units else None
    if size is None or size.unit is None or first is None or first.unit is None or first.number.low <= 0:
        return
    amount = size.number.low * size.unit.factor
    in_mass = size.unit.dimension == "mass"
    if first.unit.dimension == "count" and in_mass:
        if pack.unit_mass_g is None and pack.serving_mass_g is None:
            pack.unit_mass_g, pack.unit = amount / 1000 / first.number.low, pack.unit or first.unit.unit
            pack.container_spans.append(found.sheet.span(size.start, size.end))
    elif pack.serving_units is None and pack.serving_mass_g is None and size.unit.unit != first.unit.unit:
        pack.serving_units, pack.serving_unit = first.number.low, first.unit.unit
        pack.serving_mass_g = amount / 1000 if in_mass else None
        pack.serving_volume_ml = first.number.low * first.unit.factor if in_mass else amount
        pack.serving_flags += ["serving_from_directions", *([first.unit.flag] if first.unit.flag and in_mass else [])]
        pack.serving_spans.append(found.sheet.span(first.start, size.end))


def _direction(found: Findings, line: Line, told: Told, phase: str | None, days: tuple[int, int] | None) -> Direction:
    """Write one direction; units for which no weight stands are flagged rather than given to any."""
    sheet = found.sheet
    column = found.column_unit if found.column_unit is not None and found.column_unit.dimension == "count" else None
    first = told.units[0] if told.units else None
    unpaired = len(told.weights) > 0 and len(told.units) not in (0, 1, len(told.weights))
    return Direction(
        text=sheet.text(line.start, line.end),
        bands=tuple(_bands(sheet, told, column)),
        units_low=first.number.low if first and not told.weights else None,
        units_high=first.number.high if first and not told.weights else None,
        unit=first.unit.unit if first and first.unit else None,
        times_per_day=told.times,
        times_per_week=told.times_per_week,
        interval_days=told.interval,
        per_body_weight_kg=told.per_body_weight_kg,
        phase=phase,
        days_low=days[0] if days else None,
        days_high=days[1] if days else None,
        factor=told.factor,
        species=told.species,
        flags=tuple(dict.fromkeys((*told.flags, *(("several_columns",) if unpaired else ())))),
        span=sheet.span(line.start, line.end),
    )


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
    if not names_body_weight(found.sheet, line.start, line.end):
        return False
    told = collect(found.sheet, line.start, line.end)
    ranges = [one for one in told.weights if "single_weight" not in one.flags]
    if not told.units or not (ranges or (told.weights and found.section == "directions")):
        return False
    return directions(found, line)


def _phase_of_heading(sheet: Sheet, line: Line) -> str | None:
    hit = phase_at(sheet, line.start, line.end)
    return hit[0] if hit else None


def _bands(sheet: Sheet, told: Told, column: Unit | None) -> list[Band]:
    """Pair weights with units in the order printed: ``10 kg: 1 tab`` or ``1 tab for 10 kg``."""
    weights, units = told.weights, told.units
    found = []
    for at, one in enumerate(weights):
        unit = units[at] if len(units) == len(weights) else units[0] if len(units) == 1 else None
        found.append(
            Band(
                one.from_kg, one.to_kg,
                unit.number.low if unit else None, unit.number.high if unit else None,
                _unit_of(unit, column), told.times, sheet.span(one.start, one.end),
            )
        )  # fmt: skip
    return found


def _unit_of(counted: Quantity | None, column: Unit | None) -> str | None:
    """Give the unit of a count; that of its column where it has none."""
    if counted is None:
        return None
    unit = counted.unit or column
    return unit.unit if unit is not None else None


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
