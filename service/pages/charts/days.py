"""The scale of a course: days from its start, or dates."""

from __future__ import annotations

from datetime import date, timedelta

from service.pages.charts.axes import Scale
from service.pages.wording import number

_DAY_STEPS = (1, 2, 5, 7, 14, 28, 30, 60, 90, 180, 365, 730, 1825, 3650)
_MONTH_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240, 600)
# Below so many days a scale of dates counts days, above it months.
_MONTHS_FROM_DAYS = 75
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_scale(days: int, start: date | None, most_ticks: int) -> Scale:
    """Make the scale of a course.

    Parameters
    ----------
    days
        Length of the course.
    start
        Its first day; ``None`` where only days are counted.
    most_ticks
        Most ticks that have room.

    Returns
    -------
    Scale
        In days from the start, written as days or as dates.
    """
    length = max(days, 1)
    if start is not None and length > _MONTHS_FROM_DAYS:
        return Scale(0, length, _month_ticks(length, start, most_ticks), "Date")
    step = next((step for step in _DAY_STEPS if length / step <= most_ticks), length)
    places = range(0, length + 1, step)
    if start is None:
        return Scale(0, length, tuple((place, number(place)) for place in places), "Days from the start")
    return Scale(0, length, tuple((place, short_date(start + timedelta(days=place))) for place in places), "Date")


def _month_ticks(length: int, start: date, most_ticks: int) -> tuple[tuple[float, str], ...]:
    months = length / 30.44
    step = next((step for step in _MONTH_STEPS if months / step <= most_ticks), _MONTH_STEPS[-1])
    ticks = []
    # Counted from a January, so that half years begin in January and July.
    for month in range(start.year * 12, (start.year + length // 365 + 2) * 12, step):
        first = date(month // 12, month % 12 + 1, 1)
        place = (first - start).days
        if 0 <= place <= length:
            ticks.append((float(place), f"{_MONTHS[first.month - 1]} {first.year}"))
    return tuple(ticks) or ((0.0, long_date(start)),)


def short_date(day: date) -> str:
    """Write a day without its year."""
    return f"{day.day} {_MONTHS[day.month - 1]}"


def long_date(day: date) -> str:
    """Write a day."""
    return f"{short_date(day)} {day.year}"
