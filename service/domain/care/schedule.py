"""From what a caller tells of a course to days: which product is given in how many units from when until when."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType

from service.domain.care.request import CareRequest, PhaseTold, ProductTold
from service.domain.course.days import DayCount
from service.domain.course.request import LONGEST_DAYS
from service.domain.errors import InvalidInput, Issue

_LENGTHS = ("days", "weeks", "years", "until_date")
_DAYS_PER_WEEK = 7
# More changes than that make no course that anybody keeps, and no note that anybody reads.
MOST_STRETCHES = 24


@dataclass(frozen=True, slots=True)
class Span:
    """Days ``from_day`` up to, not including, ``to_day`` (``None``: open) of one product; days count from 0.

    ``told`` says how much; ``None`` where not even the number of units is known. ``where`` is its path in the input.
    """

    product: int
    from_day: int
    to_day: int | None
    told: PhaseTold | None
    where: str

    @property
    def is_pause(self) -> bool:
        """Whether nothing is given on these days."""
        return self.told is not None and self.told.units_per_day == 0


@dataclass(frozen=True, slots=True)
class Stretch:
    """Days on which nothing changes: the span that holds for each product, by its position."""

    from_day: int
    to_day: int | None
    spans: Mapping[int, Span]


def day_count(request: CareRequest) -> DayCount:
    """Find the first day of the course: ``start_date``, else the earliest date from which a product is given.

    Parameters
    ----------
    request
        The care note.

    Returns
    -------
    DayCount
        Without dates where the caller tells none.
    """
    begins = [told.from_date for told in request.products]
    begins += [told.phases[0].from_date for told in request.products if told.phases]
    known = [begin for begin in begins if begin is not None]
    return DayCount(request.start_date or (min(known) if known else None))


def spans_of(told: ProductTold, index: int, count: DayCount) -> tuple[Span, ...]:
    """Lay out when one product is given.

    Parameters
    ----------
    told
        The product with its dates and phases.
    index
        Its position in the request.
    count
        The days of the course.

    Returns
    -------
    tuple of Span
        In order, without overlap; between two of them nothing may be given.

    Raises
    ------
    InvalidInput
        If dates run backwards or have no calendar, amounts or lengths are told twice or not at all, or the course is
        longer than 30 years.
    """
    where = f"products/{index}"
    _check_product(told, where)
    if not told.phases:
        units = told.product.units_per_day
        begin = _begin(told.from_date, 0, count, f"{where}/from_date")
        end = _end_of_date(told.until_date, count, f"{where}/until_date")
        only = Span(index, begin, end, PhaseTold(units_per_day=units) if units is not None else None, where)
        return (_checked(only, f"{where}/until_date"),)
    found: list[Span] = []
    day = _begin(told.from_date, 0, count, f"{where}/from_date")
    for position, phase in enumerate(told.phases):
        here = f"{where}/phases/{position}"
        _check_phase(phase, here, last=position == len(told.phases) - 1)
        begin = _begin(phase.from_date, day, count, f"{here}/from_date")
        if found and begin < day:
            detail = f"{phase.from_date} lies before the end of the phase before it; give the phases in order"
            raise InvalidInput(Issue(f"{here}/from_date", detail))
        end = _end(phase, begin, count, here)
        found.append(_checked(Span(index, begin, end, phase, here), f"{here}/{_length_told(phase) or 'days'}"))
        day = end if end is not None else begin
    return tuple(found)


def stretches_of(spans: Iterable[Span]) -> tuple[Stretch, ...]:
    """Cut the course into stretches of days on which nothing changes.

    Parameters
    ----------
    spans
        The spans of all products.

    Returns
    -------
    tuple of Stretch
        In order; days on which nothing is given are left out.

    Raises
    ------
    InvalidInput
        If nothing is given on any day, or there are more than ``MOST_STRETCHES``.
    """
    every = tuple(span for span in spans if not span.is_pause)
    cuts = sorted({span.from_day for span in every} | {span.to_day for span in every if span.to_day is not None})
    found = []
    for position, begin in enumerate(cuts):
        end = cuts[position + 1] if position + 1 < len(cuts) else None
        held = {span.product: span for span in every if _covers(span, begin)}
        if held:
            found.append(Stretch(begin, end, MappingProxyType(held)))
    if not found:
        raise InvalidInput(Issue("products", "are given on no day: every phase is a pause"))
    if len(found) > MOST_STRETCHES:
        detail = f"change {len(found)} times between them; a note holds at most {MOST_STRETCHES} stretches of days"
        raise InvalidInput(Issue("products", detail))
    return tuple(found)


def day_shown(day: int) -> int | None:
    """Count a day from 1, ``None`` for one before the course.

    Parameters
    ----------
    day
        From 0.

    Returns
    -------
    int or None
        From 1.
    """
    return day + 1 if day >= 0 else None


def last_day(to_day: int | None) -> int | None:
    """Give the last day of a span or stretch, counted from 0.

    Parameters
    ----------
    to_day
        The day after it; ``None`` where it is open.

    Returns
    -------
    int or None
        ``None`` where it is open.
    """
    return None if to_day is None else to_day - 1


def date_of(count: DayCount, day: int | None) -> date | None:
    """Give the date of a day, ``None`` for none.

    Parameters
    ----------
    count
        The days of the course.
    day
        From 0.

    Returns
    -------
    datetime.date or None
        ``None`` also without a calendar.
    """
    return None if day is None else count.date_of(day)


def _covers(span: Span, day: int) -> bool:
    return span.from_day <= day and (span.to_day is None or day < span.to_day)


def _check_product(told: ProductTold, where: str) -> None:
    if not told.phases:
        return
    if told.product.units_per_day is not None:
        detail = "stands beside phases, which say how much is given; leave one of them out"
        raise InvalidInput(Issue(f"{where}/units_per_day", detail))
    if told.until_date is not None:
        raise InvalidInput(Issue(f"{where}/until_date", "stands beside phases; give it with the last phase"))
    if told.from_date is not None and told.phases[0].from_date is not None:
        detail = "is told twice: with the product and with its first phase; leave one of them out"
        raise InvalidInput(Issue(f"{where}/from_date", detail))


def _check_phase(phase: PhaseTold, where: str, *, last: bool) -> None:
    if (phase.units_per_day is None) == (phase.mg_per_day is None):
        raise InvalidInput(Issue(f"{where}/units_per_day", "give exactly one of units_per_day and mg_per_day"))
    if phase.mg_per_day is not None and phase.ingredient is None:
        raise InvalidInput(Issue(f"{where}/ingredient", "is needed: say which ingredient the amount counts"))
    given = [name for name in _LENGTHS if getattr(phase, name) is not None]
    if len(given) > 1:
        raise InvalidInput(*(Issue(f"{where}/{name}", f"give only one of {', '.join(_LENGTHS)}") for name in given))
    if not given and not last:
        detail = f"is needed: give one of {', '.join(_LENGTHS)}; only the last phase may be open"
        raise InvalidInput(Issue(f"{where}/days", detail))


def _begin(on: date | None, otherwise: int, count: DayCount, where: str) -> int:
    return otherwise if on is None else _day_of(on, count, where)


def _end_of_date(until: date | None, count: DayCount, where: str) -> int | None:
    return None if until is None else _day_of(until, count, where) + 1


def _day_of(on: date, count: DayCount, where: str) -> int:
    if count.start is None:
        raise InvalidInput(Issue(where, "needs start_date, or the from_date of a product or of its first phase"))
    return count.day_of(on)


def _length_told(phase: PhaseTold) -> str | None:
    return next((name for name in _LENGTHS if getattr(phase, name) is not None), None)


def _end(phase: PhaseTold, begin: int, count: DayCount, where: str) -> int | None:
    if phase.until_date is not None:
        return _end_of_date(phase.until_date, count, f"{where}/until_date")
    if phase.days is not None:
        return begin + phase.days
    if phase.weeks is not None:
        return begin + phase.weeks * _DAYS_PER_WEEK
    return count.after_years(phase.years, begin) if phase.years is not None else None


def _checked(span: Span, where: str) -> Span:
    if span.to_day is None:
        return span
    if span.to_day <= span.from_day:
        raise InvalidInput(Issue(where, "ends it before its first day; give a later end"))
    if span.to_day <= 0:
        detail = "ends before the course begins; what is no longer given belongs into observations"
        raise InvalidInput(Issue(where, detail))
    if span.to_day - span.from_day > LONGEST_DAYS or span.to_day > LONGEST_DAYS:
        detail = f"lies more than {LONGEST_DAYS} days (30 years) ahead; give a nearer end"
        raise InvalidInput(Issue(where, detail))
    return span
