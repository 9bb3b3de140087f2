"""When to look again whether it helps."""

from __future__ import annotations

from collections.abc import Sequence

from service.domain.course.answer import Reassessment
from service.domain.course.days import DayCount
from service.domain.course.portions import Portion
from service.reference.release import Reference

_COMMON_PRACTICE = "common-practice"
_DAYS_BETWEEN_VISITS = 182


def reassessments(
    reference: Reference,
    species: str,
    ingredient: str | None,
    portions: Sequence[Portion],
    count: DayCount,
    days: int,
) -> tuple[Reassessment, ...]:
    """List the days to look again: after the time in which the trials saw an effect, then twice a year.

    Parameters
    ----------
    reference
        The release to answer from.
    species, ingredient
        Whose guidance tells after how many days an effect is to be judged.
    portions
        What is given; the first day on which something is given begins the count.
    count
        The days of the course.
    days
        Length of the course.

    Returns
    -------
    tuple of Reassessment
        The first as the guidance says, where it says so; a visit twice a year is common practice. A first one beyond
        the course is told all the same: a short course can be judged only after it.
    """
    begin = next((one.from_day for one in portions if one.units_per_day), None)
    if begin is None:
        return ()
    rows = reference.guidance_of.get((ingredient or "", species), ())
    stated = [row for row in rows if row.reassess_after_days is not None]
    found = []
    if stated:
        row = max(stated, key=lambda one: one.reassess_after_days or 0)
        day = begin + (row.reassess_after_days or 0)
        reason = f"{row.reassess_after_days} days after the start: stop what has not helped by then."
        sources = tuple(dict.fromkeys(id_ for one in stated for id_ in one.source_ids))
        found.append(Reassessment(day + 1, count.date_of(day), reason, row.origin, sources))
    for day in range(begin + _DAYS_BETWEEN_VISITS, days, _DAYS_BETWEEN_VISITS):
        reason = "Twice a year: weight, teeth, kidney and liver values as the veterinarian advises, and the amount."
        found.append(Reassessment(day + 1, count.date_of(day), reason, "common_practice", (_COMMON_PRACTICE,)))
    return tuple(found)
