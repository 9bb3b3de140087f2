"""Body weights over a course: the animal's own on the first day, then those that the caller foresees."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.days import DayCount
from service.domain.course.request import PlanRequest, WeightOn
from service.domain.errors import InvalidInput, Issue
from service.domain.targets import known_weight
from service.domain.weights import check_weight


@dataclass(frozen=True, slots=True)
class WeightFrom:
    """A body weight in kg from a day on; days count from 0."""

    day: int
    weight_kg: Decimal


def weights_over(request: PlanRequest, count: DayCount) -> tuple[WeightFrom, ...]:
    """Put the weights of a course in order.

    Parameters
    ----------
    request
        The course; its animal's weight holds from the first day.
    count
        Its days.

    Returns
    -------
    tuple of WeightFrom
        The first on day 0; later ones in order.

    Raises
    ------
    InvalidInput
        If the animal has no weight, a date lies before the start or has no start to count from, or two weights are
        told for one day.
    """
    found = {0: known_weight(request.animal)}
    for index, weight in enumerate(request.weights):
        where = f"weights/{index}"
        day = _day(weight, count, where)
        if day == 0:
            detail = "is for the first day, on which the weight of the animal holds; tell it there"
            raise InvalidInput(Issue(where, detail))
        if day in found:
            raise InvalidInput(Issue(where, "tells a second weight for the same day; give one"))
        found[day] = check_weight(weight.weight_kg, request.animal.species, where)
    return tuple(WeightFrom(day, found[day]) for day in sorted(found))


def _day(weight: WeightOn, count: DayCount, where: str) -> int:
    if (weight.day is None) == (weight.on is None):
        raise InvalidInput(Issue(f"{where}/day", "give exactly one of day and date"))
    if weight.day is not None:
        return weight.day - 1
    if count.start is None or weight.on is None:
        raise InvalidInput(Issue(f"{where}/date", "needs a start_date to count from; give day instead"))
    day = count.day_of(weight.on)
    if day < 0:
        detail = f"{weight.on} lies before the start of the course on {count.start}; the animal's weight holds then"
        raise InvalidInput(Issue(f"{where}/date", detail))
    return day
