"""Courses against each other: what the cheaper saves, and from which day a larger pack has paid off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.answer import Course, Pair, Saving
from service.domain.course.courses import Planned
from service.domain.course.days import DayCount
from service.domain.rounding import significant


@dataclass(frozen=True, slots=True)
class Priced:
    """A course that counts in a comparison: it has a cost, and nothing speaks against it."""

    course: Course
    planned: Planned

    def paid_until(self, day: int) -> Decimal:
        """Give what has been paid before a day, from 0."""
        return self.planned.ledger.paid_until(day) if self.planned.ledger else Decimal(0)

    @property
    def paid(self) -> Decimal:
        """Give what the whole course costs at the till."""
        return self.course.paid_cost or Decimal(0)

    @property
    def consumed(self) -> Decimal:
        """Give what the units used have cost."""
        return self.course.consumed_cost or Decimal(0)


def saving(found: Sequence[tuple[Course, Planned]], count: DayCount) -> Saving | None:
    """Hold the courses of several products against each other.

    Parameters
    ----------
    found
        Every course with its plan.
    count
        The days of the course.

    Returns
    -------
    Saving or None
        ``None`` where fewer than two courses have a known cost and nothing against them.
    """
    priced = [
        Priced(course, planned) for course, planned in found if course.paid_cost is not None and not course.why_not
    ]
    if len(priced) < 2:
        return None
    ordered = sorted(priced, key=lambda one: (one.paid, one.consumed, one.course.product_id))
    cheapest, dearest = ordered[0], ordered[-1]
    paid = dearest.paid - cheapest.paid
    return Saving(
        cheapest_product_id=cheapest.course.product_id,
        dearest_product_id=dearest.course.product_id,
        currency=cheapest.course.currency or "",
        paid=paid,
        consumed=dearest.consumed - cheapest.consumed,
        share_of_paid=significant(paid / dearest.paid, 4) if dearest.paid else Decimal(0),
        pairs=tuple(_pair(one, other, count) for index, one in enumerate(priced) for other in priced[index + 1 :]),
    )


def _pair(one: Priced, other: Priced, count: DayCount) -> Pair:
    """Hold the course that asks for more at first against the other."""
    first, second = one.paid_until(1), other.paid_until(1)
    larger, smaller = (one, other) if (first, one.paid) >= (second, other.paid) else (other, one)
    even = _break_even(larger, smaller, False)
    for_good = _break_even(larger, smaller, True)
    return Pair(
        product_id=larger.course.product_id,
        instead_of=smaller.course.product_id,
        paid_saving=smaller.paid - larger.paid,
        consumed_saving=smaller.consumed - larger.consumed,
        break_even_day=even + 1 if even is not None else None,
        break_even_date=count.date_of(even) if even is not None else None,
        ahead_for_good_from_day=for_good + 1 if for_good is not None else None,
        ahead_for_good_from_date=count.date_of(for_good) if for_good is not None else None,
    )


def _break_even(larger: Priced, smaller: Priced, for_good: bool) -> int | None:
    """Find the first day on which no more has been paid for the larger; it can only change where one is bought."""
    days = sorted({one.day for priced in (larger, smaller) for one in priced.planned.bought} | {0})
    ahead = [larger.paid_until(day + 1) <= smaller.paid_until(day + 1) for day in days]
    if for_good:
        behind = [index for index, is_ahead in enumerate(ahead) if not is_ahead]
        begin = behind[-1] + 1 if behind else 0
        return days[begin] if begin < len(days) else None
    return next((day for day, is_ahead in zip(days, ahead, strict=True) if is_ahead), None)
