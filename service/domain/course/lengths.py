"""How long a course is, and on which days its phases begin and end."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.days import DayCount
from service.domain.course.request import LONGEST_DAYS, PhaseWanted, PlanRequest
from service.domain.errors import InvalidInput, Issue

_HORIZONS = ("horizon_days", "horizon_years", "until_age_years")
_LENGTHS = ("days", "weeks", "years")


@dataclass(frozen=True, slots=True)
class Stretch:
    """The days from ``from_day`` up to, not including, ``to_day`` that one wanted phase takes; from 0."""

    from_day: int
    to_day: int
    wanted: PhaseWanted
    where: str


def horizon_days(request: PlanRequest, count: DayCount) -> int | None:
    """Give the length that the caller asks for.

    Parameters
    ----------
    request
        The course.
    count
        Its days.

    Returns
    -------
    int or None
        Days; ``None`` where none of the three ways is used.

    Raises
    ------
    InvalidInput
        If it is told in two ways, ends before it begins, or is longer than 30 years.
    """
    told = [name for name in _HORIZONS if getattr(request, name) is not None]
    if len(told) > 1:
        raise InvalidInput(*(Issue(name, f"give only one of {', '.join(_HORIZONS)}") for name in told))
    if not told:
        return None
    if request.until_age_years is not None:
        days = day_of_age(request, count, request.until_age_years, "until_age_years")
    elif request.horizon_years is not None:
        days = count.after_years(request.horizon_years)
    else:
        days = request.horizon_days or 0
    return _checked(days, told[0])


def _checked(days: int, where: str) -> int:
    if days < 1:
        raise InvalidInput(Issue(where, "ends the course before its first day; give a later end"))
    if days > LONGEST_DAYS:
        detail = f"makes the course {days} days long; at most {LONGEST_DAYS} days (30 years) are planned"
        raise InvalidInput(Issue(where, detail))
    return days


def day_of_age(request: PlanRequest, count: DayCount, age_years: Decimal, where: str) -> int:
    """Give the day on which the animal reaches an age.

    Parameters
    ----------
    request
        With ``birth_date`` and a start date, or with the age of the animal on the first day.
    count
        The days of the course.
    age_years
        The age.
    where
        Path of the age in the input, for errors.

    Returns
    -------
    int
        From 0; negative or 0 where it is reached already.

    Raises
    ------
    InvalidInput
        If neither birth date nor age is known.
    """
    if request.birth_date is not None:
        # From the birth date itself: birthdays of the calendar, also for one born on 29 February.
        from_birth = DayCount(request.birth_date).after_years(age_years)
        return from_birth - DayCount(request.birth_date).day_of(request.start_date or request.birth_date)
    if request.animal.age_years is None:
        raise InvalidInput(Issue(where, "needs the age of the animal: give animal/age_years, or birth_date"))
    years = age_years - request.animal.age_years
    return count.after_years(years) if years > 0 else 0


def stretches(request: PlanRequest, count: DayCount) -> tuple[Stretch, ...]:
    """Lay the phases that the caller gives out on the days of the course.

    Parameters
    ----------
    request
        With at least one phase.
    count
        The days of the course.

    Returns
    -------
    tuple of Stretch
        In order, without overlap; phases that end before the first day are left out.

    Raises
    ------
    InvalidInput
        If a phase has no length or two, ages run downwards, or nothing is left within the horizon.
    """
    by_age = [phase.from_age_years is not None for phase in request.phases]
    if any(by_age) and not all(by_age):
        index = by_age.index(False)
        raise InvalidInput(Issue(f"phases/{index}/from_age_years", "is needed: either every phase has one or none"))
    for index, phase in enumerate(request.phases):
        _check_lengths(phase, index, index == len(request.phases) - 1, all(by_age))
    asked = horizon_days(request, count)
    return (
        _by_age(request, count, asked or count.after_years(Decimal(1)))
        if all(by_age)
        else _in_turn(request, count, asked)
    )


def _check_lengths(phase: PhaseWanted, index: int, last: bool, by_age: bool) -> None:
    given = [name for name in _LENGTHS if getattr(phase, name) is not None]
    where = f"phases/{index}"
    if by_age and given:
        raise InvalidInput(
            Issue(f"{where}/{given[0]}", "cannot stand beside from_age_years: the next age ends a phase")
        )
    if len(given) > 1:
        raise InvalidInput(*(Issue(f"{where}/{name}", f"give exactly one of {', '.join(_LENGTHS)}") for name in given))
    if not given and not by_age and not last:
        detail = f"is needed: give exactly one of {', '.join(_LENGTHS)}; only the last phase may be open"
        raise InvalidInput(Issue(f"{where}/days", detail))


def _in_turn(request: PlanRequest, count: DayCount, asked: int | None) -> tuple[Stretch, ...]:
    found = []
    day = anchor = 0
    years = Decimal(0)
    for index, phase in enumerate(request.phases):
        end = day + (phase.days or (phase.weeks or 0) * 7)
        if phase.years is not None:
            # Counted from where the years began, so that a course from 29 February finds its day again.
            years += phase.years
            end = count.after_years(years, anchor)
        elif end == day:
            end = _open_end(asked, day, index)
        else:
            anchor, years = end, Decimal(0)
        found.append(Stretch(day, _checked(end, f"phases/{index}"), phase, f"phases/{index}"))
        day = end
    if asked is not None and asked != day:
        detail = f"is {asked} days, but the phases take {day}; leave it out, or leave the length of the last phase out"
        raise InvalidInput(Issue(next(name for name in _HORIZONS if getattr(request, name) is not None), detail))
    return tuple(found)


def _open_end(asked: int | None, day: int, index: int) -> int:
    if asked is None:
        detail = f"is needed: give one of {', '.join(_LENGTHS)}, or the length of the course as one of "
        raise InvalidInput(Issue(f"phases/{index}/days", detail + ", ".join(_HORIZONS)))
    if asked <= day:
        raise InvalidInput(Issue(f"phases/{index}", f"begins on day {day + 1}, after the course of {asked} days ends"))
    return asked


def _by_age(request: PlanRequest, count: DayCount, horizon: int) -> tuple[Stretch, ...]:
    ages = [phase.from_age_years or Decimal(0) for phase in request.phases]
    begins = []
    for index, age in enumerate(ages):
        if index and age <= ages[index - 1]:
            detail = f"{age} does not come after {ages[index - 1]}; give the phases in order of age"
            raise InvalidInput(Issue(f"phases/{index}/from_age_years", detail))
        begins.append(max(day_of_age(request, count, age, f"phases/{index}/from_age_years"), 0))
    ends = [*begins[1:], max(horizon, begins[-1])]
    found = [
        Stretch(begin, min(end, horizon), phase, f"phases/{index}")
        for index, (begin, end, phase) in enumerate(zip(begins, ends, request.phases, strict=True))
        if begin < min(end, horizon)
    ]
    if not found:
        detail = f"no phase begins within the {horizon} days of the course; give a longer horizon"
        raise InvalidInput(Issue("phases/0/from_age_years", detail))
    return tuple(found)


def default_horizon_days(request: PlanRequest, count: DayCount) -> int:
    """Give the length of a course from guidance, one year where the caller does not say.

    Parameters
    ----------
    request
        The course.
    count
        Its days.

    Returns
    -------
    int
        Days.

    Raises
    ------
    InvalidInput
        As :func:`horizon_days`.
    """
    return horizon_days(request, count) or count.after_years(Decimal(1))
