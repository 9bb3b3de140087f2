"""What a course has cost by each day: paid, in steps at every purchase, and used up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING

from service.pages.charts.axes import Scale, linear, plot_box, scaled
from service.pages.charts.chart import Cell, Chart, DataTable, Look
from service.pages.charts.days import day_scale, long_date
from service.pages.charts.figure import Figure, Heading, Sample
from service.pages.charts.numbers import can_be_drawn, counted, money
from service.pages.charts.palette import LIGHT, STYLES
from service.pages.charts.placing import Box, Segment, spread
from service.pages.charts.plotting import LOCK, prepare
from service.pages.charts.text import clean, width, wrap
from service.reference.release import DatasetStamp

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_TITLE = "Cost over the course"
_USED_DASH = (1.2, 2.0)
_KEY = (
    (Sample(LIGHT.quiet, "o", line_width=1.8), "paid, a mark at each purchase"),
    (Sample(LIGHT.quiet, line_width=1.2, dash=_USED_DASH), "used up"),
)
_BREAK_EVEN = Sample(LIGHT.ink, line_width=0.9, dash=(4, 3))
# More purchases than these would make one thick line of their marks.
_MOST_MARKS = {"wide": 40, "narrow": 20}
_ROOM_AT_RIGHT = 190.0
_BESIDE_PLOT = 16.0
_FEW_COURSES = 4
_SPARE_DAYS = 1000
_PITCH = 1.22
_COLUMNS = ("product", "days_from_start", "date", "what", "total", "currency", "drawn")


@dataclass(frozen=True, slots=True)
class CostStep:
    """What has been spent in all so many days after the start; a purchase on the first day has ``day`` 0."""

    day: int
    total: Decimal


@dataclass(frozen=True, slots=True)
class Course:
    """One product: its total after each purchase, and what has been used up of it at some days."""

    name: str
    paid: tuple[CostStep, ...]
    used: tuple[CostStep, ...]


@dataclass(frozen=True, slots=True)
class BreakEven:
    """From when on one product has cost less than another, in days after the start."""

    day: int
    cheaper: str
    dearer: str


@dataclass(frozen=True, slots=True)
class CostOverCourse:
    """What the chart shows. ``start`` is the first day, ``None`` where only days are counted."""

    subject: str
    currency: str | None
    days: int
    courses: tuple[Course, ...]
    start: date | None = None
    break_even: tuple[BreakEven, ...] = ()


def draw_cost_over_course(data: CostOverCourse, stamp: DatasetStamp, look: Look) -> Chart:
    """Draw the chart.

    Parameters
    ----------
    data
        The courses, the most important first.
    stamp
        The release that the answer came from.
    look
        Layout and theme.

    Returns
    -------
    Chart
        With the first six courses; further ones are in the table, and the picture says so.
    """
    data = _dated(data)
    drawn = [course for course in data.courses if _can_be_drawn(course)][: len(STYLES)]
    with LOCK:
        prepare()
        is_narrow = look.layout == "narrow"
        figure = Figure(look, Heading(_TITLE, data.subject, _key(drawn, data, is_narrow)), _notes(data, drawn), stamp)
        box, axes, across = _scaled(figure, data, drawn, is_narrow)
        _draw_break_even(figure, axes, box, data.break_even, across)
        for index, course in enumerate(drawn):
            _draw_course(figure, axes, index, course, data.days, _MOST_MARKS[look.layout])
        if not is_narrow:
            _write_ends(figure, axes, box, drawn, data)
        return figure.chart(_alternative(data, drawn), _table(data, drawn))


def _dated(data: CostOverCourse) -> CostOverCourse:
    """Count days alone where dates would run out of the calendar."""
    steps = [step.day for course in data.courses for step in (*course.paid, *course.used)]
    days = max((data.days, *steps, *(one.day for one in data.break_even)))
    is_dated = data.start is not None and days < (date.max - data.start).days - _SPARE_DAYS
    return data if is_dated else replace(data, start=None)


def _can_be_drawn(course: Course) -> bool:
    steps = (*course.paid, *course.used)
    return bool(steps) and all(can_be_drawn(step.total) for step in steps)


def _key(drawn: Sequence[Course], data: CostOverCourse, is_narrow: bool) -> tuple[tuple[Sample, str], ...]:
    """Explain the lines; on a narrow figure, where nothing can be written beside them, name the products as well."""
    if not is_narrow:
        return _KEY
    named = [
        (_paid_sample(index), f"{clean(course.name)}: {_totals(course, data.currency)}")
        for index, course in enumerate(drawn)
    ]
    return (*_KEY, *named)


def _scaled(figure: Figure, data: CostOverCourse, drawn: Sequence[Course], is_narrow: bool) -> tuple[Box, Axes, Scale]:
    across = day_scale(data.days, data.start, 4 if is_narrow else 7)
    most = max((step.total for course in drawn for step in (*course.paid, *course.used)), default=Decimal(1))
    up = linear(float(most), f"Total cost{', ' + data.currency if data.currency else ''}", 6)
    # The days of break-even are written over the plot.
    over = figure.layout.text * 1.3 if data.break_even else 0
    box = plot_box(figure, across, up, room_over=over, room_at_right=0 if is_narrow else _ROOM_AT_RIGHT)
    return box, scaled(figure, box, across, up), across


def _paid_sample(index: int) -> Sample:
    style = STYLES[index]
    return Sample(style.colour, style.marker, line_width=1.8, dash=style.dash, size=6)


def _draw_course(figure: Figure, axes: Axes, index: int, course: Course, days: int, most_marks: int) -> None:
    style = STYLES[index]
    used = [(0.0, 0.0), *((float(step.day), float(step.total)) for step in course.used)]
    if len(used) > 1:
        figure.mark(axes, f"{index + 1}-used", used, Sample(style.colour, line_width=1.2, dash=_USED_DASH))
    if not course.paid:
        return
    points = [(float(step.day), float(step.total)) for step in course.paid]
    corners = [points[0]]
    for before, after in pairwise(points):
        corners += [(after[0], before[1]), after]
    corners.append((float(max(days, course.paid[-1].day)), points[-1][1]))
    figure.mark(axes, f"{index + 1}-paid", corners, Sample(style.colour, line_width=1.8, dash=style.dash))
    if len(points) <= most_marks:
        figure.mark(axes, f"{index + 1}-purchases", points, Sample(style.colour, style.marker, size=6))


def _draw_break_even(figure: Figure, axes: Axes, box: Box, found: Sequence[BreakEven], across: Scale) -> None:
    text = figure.layout.text
    taken = float("-inf")
    for one in sorted(found, key=lambda one: one.day):
        if not across.low <= one.day <= across.high:
            continue
        x = figure.pixels(axes, one.day, 0)[0]
        figure.stroke(((x, box.top - 2), (x, box.bottom)), _BREAK_EVEN)
        label = f"day {one.day + 1}"
        half = width(label, text) / 2
        centre = min(max(x, box.left + half), box.right - half)
        # The note below names every break-even; a label without room would only hide its neighbour.
        if centre - half > taken + 6:
            figure.write(centre, box.top - 7, label, text, anchor="middle")
            taken = centre + half


def _write_ends(figure: Figure, axes: Axes, box: Box, drawn: Sequence[Course], data: CostOverCourse) -> None:
    """Name each line where it ends, the names moved apart where lines end together."""
    text, x = figure.layout.text, box.right + _BESIDE_PLOT
    room = figure.right - x
    # Long names take two lines where there are few of them.
    most_lines = 2 if len(drawn) <= _FEW_COURSES else 1
    half = text * _PITCH * (most_lines + 1) / 2
    ends = [figure.pixels(axes, data.days, float(_last(course)))[1] for course in drawn]
    places = spread(ends, 2 * half + 5, box.top + half - text, box.bottom - half) or ends
    for course, end, place in zip(drawn, ends, places, strict=True):
        names = wrap(figure.fitted(course.name, most_lines * room * 0.9), room, text)[:most_lines]
        top = place - text * _PITCH * (len(names) + 1) / 2
        for index, line in enumerate((*names, figure.fitted(_totals(course, None), room))):
            colour = LIGHT.ink if index < len(names) else LIGHT.quiet
            figure.write(x, top + text * (0.9 + _PITCH * index), line, text, colour=colour)
        figure.leader(Segment(box.right + 4, end, x - 2, place))


def _last(course: Course) -> Decimal:
    return (course.paid or course.used)[-1].total


def _totals(course: Course, currency: str | None) -> str:
    parts = [f"{money(steps[-1].total, currency)} {what}" for steps, what in _lines(course)]
    return ", ".join(parts)


def _lines(course: Course) -> list[tuple[tuple[CostStep, ...], str]]:
    return [(steps, what) for steps, what in ((course.paid, "paid"), (course.used, "used")) if steps]


def _when(data: CostOverCourse, day: int) -> str:
    return f"day {day + 1}" + (f" ({long_date(data.start + timedelta(days=day))})" if data.start is not None else "")


def _notes(data: CostOverCourse, drawn: Sequence[Course]) -> str:
    notes = [f"From {_when(data, one.day)} on {_less(one)}." for one in data.break_even]
    if more := len(data.courses) - len(drawn):
        notes.append(f"Not drawn: {counted(more, 'further product', 'further products')}, in the table.")
    return " ".join(notes)


def _less(one: BreakEven) -> str:
    return f"{clean(one.cheaper)} has cost less than {clean(one.dearer)}"


def _alternative(data: CostOverCourse, drawn: Sequence[Course]) -> str:
    told = "; ".join(f"{clean(course.name)}, {_totals(course, data.currency)}" for course in drawn)
    said = [f"{_TITLE} of {counted(data.days, 'day', 'days')}. {clean(data.subject)}."]
    said.append(f"At its end: {told}." if told else "No cost is known.")
    notes = _notes(data, drawn)
    return " ".join([*said, notes] if notes else said)


def _table(data: CostOverCourse, drawn: Sequence[Course]) -> DataTable:
    rows: list[tuple[Cell, ...]] = []
    for course in data.courses:
        is_drawn = "yes" if any(course is one for one in drawn) else "no"
        for steps, what in _lines(course):
            for step in steps:
                day = (data.start + timedelta(days=step.day)).isoformat() if data.start is not None else None
                rows.append((clean(course.name), step.day, day, what, step.total, data.currency, is_drawn))
    return DataTable(_COLUMNS, tuple(rows))
