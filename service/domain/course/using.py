"""Which container every unit of a course comes from: opened, used up, or thrown away too old."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.request import MOST_CONTAINERS
from service.domain.errors import InvalidInput, Issue


@dataclass(frozen=True, slots=True)
class DailyUse:
    """Units taken out of the pack on each day from ``from_day`` up to, not including, ``to_day``."""

    from_day: int
    to_day: int
    units_per_day: Decimal


@dataclass(frozen=True, slots=True)
class Run:
    """Days in a row that are served from one container; ``units_per_day`` is what it gives on each of them."""

    day: int
    days: int
    units_per_day: Decimal
    container: int


@dataclass(frozen=True, slots=True)
class Usage:
    """What becomes of the containers: the day each is opened, its runs, and the units it loses to age."""

    runs: tuple[Run, ...]
    opened_on: tuple[int, ...]
    discarded: tuple[tuple[int, Decimal], ...]
    left_in_open: Decimal


class _Cupboard:
    """Keeps the one open container. Only :func:`use_up` fills and empties it."""

    def __init__(self, unit_count: Decimal, shelf_life_days: int | None, where: str) -> None:
        self.unit_count, self.shelf_life_days, self.where = unit_count, shelf_life_days, where
        self.runs: list[Run] = []
        self.opened_on: list[int] = []
        self.discarded: list[tuple[int, Decimal]] = []
        self.left = Decimal(0)

    def take_out_old(self, day: int) -> None:
        """Throw away what is left of a container that has been open for too long."""
        if self.left and self.shelf_life_days is not None and day >= self.opened_on[-1] + self.shelf_life_days:
            self.discarded.append((len(self.opened_on) - 1, self.left))
            self.left = Decimal(0)

    def whole_days(self, day: int, units: Decimal, until: int) -> int:
        """Count the days in a row that the open container serves alone."""
        days = min(int(self.left // units), until - day)
        if self.shelf_life_days is not None:
            days = min(days, self.opened_on[-1] + self.shelf_life_days - day)
        return max(days, 0)

    def use(self, day: int, days: int, units: Decimal) -> None:
        """Take units on each of some days from the open container."""
        self.runs.append(Run(day, days, units, len(self.opened_on) - 1))
        self.left -= units * days

    def open_next(self, day: int) -> None:
        """Open a container."""
        if len(self.opened_on) >= MOST_CONTAINERS:
            detail = f"makes more than {MOST_CONTAINERS} containers in this course; check it, or plan fewer days"
            raise InvalidInput(Issue(self.where, detail))
        self.opened_on.append(day)
        self.left = self.unit_count


def use_up(
    uses: Sequence[DailyUse], unit_count: Decimal, shelf_life_days: int | None, where: str = "product/unit_count"
) -> Usage:
    """Serve a course from containers, each opened when the one before cannot serve the day alone.

    Parameters
    ----------
    uses
        What is taken out each day, in order of days.
    unit_count
        Units in a container.
    shelf_life_days
        Days that an opened container may be used, the day of opening included; ``None`` for no limit.
    where
        Path of the unit count in the input, for errors.

    Returns
    -------
    Usage
        Units are conserved: opened containers hold what the runs use, what is discarded and what is left.

    Raises
    ------
    InvalidInput
        If the course takes more than 4,000 containers.

    Examples
    --------
    Thirty units at two a day, for twenty days: the second container is opened on day 15 and keeps twenty units.

    >>> usage = use_up([DailyUse(0, 20, Decimal(2))], Decimal(30), None)
    >>> usage.opened_on, usage.left_in_open
    ((0, 15), Decimal('20'))
    """
    cupboard = _Cupboard(unit_count, shelf_life_days, where)
    for use in uses:
        day = use.from_day
        while use.units_per_day and day < use.to_day:
            cupboard.take_out_old(day)
            if not cupboard.left:
                cupboard.open_next(day)
            days = cupboard.whole_days(day, use.units_per_day, use.to_day)
            if days:
                cupboard.use(day, days, use.units_per_day)
                day += days
                continue
            _serve_one_day(cupboard, day, use.units_per_day)
            day += 1
    if uses:
        # What has grown too old during a pause at the end is no stock.
        cupboard.take_out_old(uses[-1].to_day - 1)
    return Usage(tuple(cupboard.runs), tuple(cupboard.opened_on), tuple(cupboard.discarded), cupboard.left)


def _serve_one_day(cupboard: _Cupboard, day: int, units: Decimal) -> None:
    """Take the rest of one container and go on with the next, as often as the day needs."""
    while units:
        if not cupboard.left:
            cupboard.open_next(day)
        part = min(units, cupboard.left)
        cupboard.use(day, 1, part)
        units -= part
