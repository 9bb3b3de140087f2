"""What a course is told, held against itself before anything is planned."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from service.domain.course.days import DAYS_PER_YEAR, DayCount
from service.domain.course.request import Pack, PlanRequest
from service.domain.errors import InvalidInput, Issue


def checked(request: PlanRequest) -> PlanRequest:
    """Refuse what contradicts itself, and work the age out where a birth date tells it.

    Parameters
    ----------
    request
        The course as told.

    Returns
    -------
    PlanRequest
        The same, with the age of the animal on the first day where it is known.

    Raises
    ------
    InvalidInput
        If prices are in several currencies, price breaks do not fit, or the birth date is not one.
    """
    _check_currencies(request.packs)
    for pack in request.packs:
        _check_breaks(pack)
    if request.loading_days is not None and not request.loading:
        raise InvalidInput(Issue("loading_days", "cannot stand beside loading: false; leave one of them out"))
    if request.phases and request.loading_days is not None:
        raise InvalidInput(Issue("loading_days", "cannot stand beside phases, which say what is given; leave one out"))
    return _with_age(request)


def _check_currencies(packs: tuple[Pack, ...]) -> None:
    currencies = {pack.product.currency for pack in packs if pack.product.price is not None}
    if len(currencies) > 1:
        shown = ", ".join(sorted(str(code) for code in currencies))
        raise InvalidInput(Issue("products", f"prices are in several currencies ({shown}); convert them to one first"))


def _check_breaks(pack: Pack) -> None:
    seen: set[int] = set()
    for index, step in enumerate(pack.price_breaks):
        where = f"{pack.where}/price_breaks/{index}"
        if pack.product.price is None:
            raise InvalidInput(Issue(where, "needs the price of a single container: give price and currency"))
        if step.containers in seen:
            raise InvalidInput(Issue(f"{where}/containers", f"{step.containers} has a price already; give each one"))
        seen.add(step.containers)
    falling = sorted(pack.price_breaks, key=lambda step: step.containers)
    prices = [pack.product.price or Decimal(0), *(step.price for step in falling)]
    if any(later > earlier for earlier, later in pairwise(prices)):
        detail = "is a price per container that rises with their number; give the price of each, not of all together"
        raise InvalidInput(Issue(f"{pack.where}/price_breaks", detail))


def _with_age(request: PlanRequest) -> PlanRequest:
    if request.birth_date is None:
        return request
    if request.start_date is None:
        raise InvalidInput(Issue("start_date", "is needed where birth_date is given: the age on the first day counts"))
    if request.animal.age_years is not None:
        raise InvalidInput(Issue("animal/age_years", "cannot stand beside birth_date; leave one of them out"))
    days = DayCount(request.birth_date).day_of(request.start_date)
    if days < 0:
        raise InvalidInput(Issue("birth_date", f"{request.birth_date} lies after the start on {request.start_date}"))
    age_years = Decimal(days) / (DAYS_PER_YEAR + Decimal("0.25"))
    return replace(request, animal=replace(request.animal, age_years=age_years))
