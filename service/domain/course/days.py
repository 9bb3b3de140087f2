"""Days of a course, with or without a calendar. Inside the domain they count from 0; answers count from 1."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

DAYS_PER_YEAR = 365


def add_years(start: date, years: Decimal) -> date:
    """Give the date so many years after another.

    Parameters
    ----------
    start
        Any date.
    years
        Whole years go by the calendar, the rest of a year by 365 days.

    Returns
    -------
    datetime.date
        29 February becomes 28 February where a year has none (common practice of calendar libraries).
    """
    whole = int(years)
    year = start.year + whole
    is_leap_day = (start.month, start.day) == (2, 29)
    has_leap_day = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    anniversary = start.replace(year=year, day=28 if is_leap_day and not has_leap_day else start.day)
    return anniversary + timedelta(days=_rest_in_days(years - whole))


def _rest_in_days(share_of_year: Decimal) -> int:
    return int((share_of_year * DAYS_PER_YEAR).to_integral_value(ROUND_HALF_UP))


@dataclass(frozen=True, slots=True)
class DayCount:
    """Counts the days of a course that begins on ``start``, or on no date: then every year has 365 days."""

    start: date | None = None

    def date_of(self, day: int) -> date | None:
        """Give the date of a day.

        Parameters
        ----------
        day
            From 0.

        Returns
        -------
        datetime.date or None
            ``None`` without a start date.
        """
        return None if self.start is None else self.start + timedelta(days=day)

    def day_of(self, on: date) -> int:
        """Give the day of a date; negative before the start.

        Parameters
        ----------
        on
            The date; the course must have a start date.

        Returns
        -------
        int
            From 0.

        Raises
        ------
        ValueError
            If the course has no start date.
        """
        if self.start is None:
            raise ValueError("a course without a start date has no dates")
        return (on - self.start).days

    def after_years(self, years: Decimal, from_day: int = 0) -> int:
        """Give the day that comes so many years after another.

        Parameters
        ----------
        years
            Years, also in parts.
        from_day
            Day the years begin on.

        Returns
        -------
        int
            From 0.
        """
        begin = self.date_of(from_day)
        if begin is None:
            return from_day + int(years) * DAYS_PER_YEAR + _rest_in_days(years - int(years))
        return self.day_of(add_years(begin, years))

    def anniversaries(self, days: int) -> tuple[int, ...]:
        """List the days on which the years of a course begin.

        Parameters
        ----------
        days
            Length of the course.

        Returns
        -------
        tuple of int
            Starting with 0; all below ``days``.
        """
        found = [0]
        while (following := self.after_years(Decimal(len(found)))) < days:
            found.append(following)
        return tuple(found)
