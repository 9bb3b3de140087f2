"""The chart of amounts over body weight in words and in numbers."""

from __future__ import annotations

from service.pages.charts.amount_data import AmountOverWeight, AmountPoint
from service.pages.charts.chart import Cell, DataTable
from service.pages.charts.numbers import counted
from service.pages.charts.text import clean
from service.pages.wording import amount_for_people, number, sentence_case, span, words

_COLUMNS = (
    "what",
    "id",
    "phase",
    "from_kg",
    "to_kg",
    "weights_recorded",
    "low_mg_at_from",
    "high_mg_at_from",
    "low_mg_at_to",
    "high_mg_at_to",
    "stated",
    "outcome",
    "drawn",
    "why_not_drawn",
)


def _milligrams(point: AmountPoint) -> str:
    """Write an amount for people."""
    return f"{span(*amount_for_people(point.low_mg, point.high_mg))} mg"


def notes(data: AmountOverWeight) -> str:
    """Say what a reader of the picture must know and cannot see."""
    said = ["Both scales are logarithmic.", data.notes]
    if any(mark.is_for_any_weight and mark.points for mark in data.published):
        said.append(
            "A regimen stated per kg without weights is marked at one place of its line, which runs through all."
        )
    if missing := sum(not mark.points for mark in data.published):
        said.append(f"Not drawn: {counted(missing, 'regimen', 'regimens')}, for reasons told in the table.")
    return " ".join(filter(None, said))


def alternative(data: AmountOverWeight) -> str:
    """Say what the picture shows."""
    said = [f"{clean(data.title)}, for {number(data.from_kg)} to {number(data.to_kg)} kg. {clean(data.subject)}."]
    for band in data.bands:
        first, last = band.points[0], band.points[-1]
        said.append(
            f"{sentence_case(words(band.phase))}: {_milligrams(first)} at {number(first.weight_kg)} kg to "
            f"{_milligrams(last)} at {number(last.weight_kg)} kg."
        )
    if data.asked is not None:
        said.append(f"At {', '.join(told_of_asked(data))}.")
    drawn = sum(bool(mark.points) for mark in data.published)
    said.append(f"{counted(drawn, 'published regimen is', 'published regimens are')} marked.")
    if missing := len(data.published) - drawn:
        said.append(f"{counted(missing, 'regimen', 'regimens')} could not be drawn.")
    return " ".join(said)


def told_of_asked(data: AmountOverWeight) -> tuple[str, ...]:
    """Say what the animal asked for is to be given, phase by phase: ``34 kg: loading 1000 to 2000 mg``."""
    if data.asked is None:
        return ()
    told = [f"{words(phase)} {_milligrams(point)}" for phase, point in data.asked.amounts]
    return (f"{number(data.asked.weight_kg)} kg: {told[0]}", *told[1:])


def table(data: AmountOverWeight) -> DataTable:
    """List what is drawn, and the regimens that could not be, with the reason."""
    rows: list[tuple[Cell, ...]] = []
    for band in data.bands:
        rows += [_guidance_row("guidance", band.phase, point) for point in band.points]
    rows += [_guidance_row("upper limit", None, point) for point in data.limit]
    if data.asked is not None:
        rows += [_guidance_row("animal asked for", phase, point) for phase, point in data.asked.amounts]
    for mark in data.published:
        ends = (mark.points[0], mark.points[-1]) if mark.points else (None, None)
        rows.append(
            (
                "published",
                mark.regimen_id,
                mark.phase,
                *(end.weight_kg if end is not None and not mark.is_beside else None for end in ends),
                "yes" if mark.has_weights else "no",
                *((ends[0].low_mg, ends[0].high_mg) if ends[0] is not None else (None, None)),
                *((ends[1].low_mg, ends[1].high_mg) if ends[1] is not None else (None, None)),
                mark.stated,
                mark.outcome,
                "yes" if mark.points else "no",
                mark.why_not_drawn,
            )
        )
    return DataTable(_COLUMNS, tuple(rows))


def _guidance_row(what: str, phase: str | None, point: AmountPoint) -> tuple[Cell, ...]:
    amounts = (point.low_mg, point.high_mg)
    weights = (point.weight_kg, point.weight_kg)
    return (what, None, phase, *weights, None, *amounts, *amounts, None, None, "yes", None)
