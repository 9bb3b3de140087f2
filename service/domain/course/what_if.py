"""How the cost of a course moves if one thing turns out otherwise."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from service.domain.common import WEIGHT_RANGE_KG
from service.domain.course.answer import WhatIf
from service.domain.course.courses import Planned
from service.domain.course.request import Change, Pack, PlanRequest, PriceBreak, WeightOn
from service.domain.errors import DomainError, InvalidInput, Issue

_STANDARD = (
    Change(price_factor=Decimal("0.9")),
    Change(price_factor=Decimal("1.1")),
    Change(weight_factor=Decimal("0.9")),
    Change(weight_factor=Decimal("1.1")),
)
_AIMS = ("low", "middle", "high")

# Plans one product anew for a changed request; ``None`` where its label cannot serve it.
Planner = Callable[[PlanRequest, Pack], Planned | None]


def changes_of(request: PlanRequest) -> tuple[Change, ...]:
    """Give the changes to try: those of the caller, else price and weight by a tenth and the other aims.

    Parameters
    ----------
    request
        The course.

    Returns
    -------
    tuple of Change
        Each with one thing changed.

    Raises
    ------
    InvalidInput
        If a change of the caller changes nothing or more than one thing.
    """
    if request.what_if is None:
        return (*_STANDARD, *(Change(aim=aim) for aim in _AIMS if aim != request.aim))
    ways = ("price_factor", "weight_factor", "aim")
    for index, change in enumerate(request.what_if):
        given = [way for way in ways if getattr(change, way) is not None]
        if len(given) != 1:
            detail = f"give exactly one of {', '.join(ways)}"
            raise InvalidInput(Issue(f"what_if/{index}/{(given or ways)[0]}", detail))
    return request.what_if


def what_ifs(request: PlanRequest, pack: Pack, base: Planned, plan: Planner) -> tuple[WhatIf, ...]:
    """Plan a course again for every change.

    Parameters
    ----------
    request
        The course as asked.
    pack
        The product.
    base
        Its plan.
    plan
        Plans the product for a changed request.

    Returns
    -------
    tuple of WhatIf
        Costs at the minor unit, and what they differ by from the course as asked.
    """
    return tuple(_what_if(request, pack, base, plan, change) for change in changes_of(request))


def _what_if(request: PlanRequest, pack: Pack, base: Planned, plan: Planner, change: Change) -> WhatIf:
    try:
        return _changed(request, pack, base, plan, change)
    except InvalidInput as error:
        return _told(_name(change), change, base, None, f"It cannot be planned: {error.issues[0].detail}.")
    except DomainError as error:
        return _told(_name(change), change, base, None, f"It cannot be planned: {error}")


def _name(change: Change) -> str:
    if change.price_factor is not None:
        return "price"
    return "weight" if change.weight_factor is not None else "aim"


def _changed(request: PlanRequest, pack: Pack, base: Planned, plan: Planner, change: Change) -> WhatIf:
    if change.price_factor is not None:
        price = _at_price(pack, change.price_factor)
        effect = "Every price is multiplied by the factor." if pack.product.price is not None else "No price is known."
        return _told("price", change, base, plan(request, price), effect)
    if change.weight_factor is not None:
        return _at_weight(request, pack, base, plan, change)
    if request.phases or not any(one.derived for one in base.portions):
        return _told("aim", change, base, base, "No effect: the phases say what is given.")
    other = replace(request, aim=change.aim or request.aim)
    return _told("aim", change, base, plan(other, pack), f"The {change.aim} of the range is aimed at.")


def _at_price(pack: Pack, factor: Decimal) -> Pack:
    price = pack.product.price
    if price is None:
        return pack
    breaks = tuple(PriceBreak(step.containers, step.price * factor) for step in pack.price_breaks)
    return replace(pack, product=replace(pack.product, price=price * factor), price_breaks=breaks)


def _at_weight(request: PlanRequest, pack: Pack, base: Planned, plan: Planner, change: Change) -> WhatIf:
    told = request.phases and all(phase.aim is None for phase in request.phases)
    if told or not any(one.derived for one in base.portions):
        return _told("weight", change, base, base, "No effect: the amounts are given, not derived from the weight.")
    factor = change.weight_factor or Decimal(1)
    weight_kg = (request.animal.weight_kg or Decimal(0)) * factor
    least, most = WEIGHT_RANGE_KG[request.animal.species]
    later = tuple(replace(one, weight_kg=one.weight_kg * factor) for one in request.weights)
    if not all(least <= one.weight_kg <= most for one in (WeightOn(weight_kg), *later)):
        return _told("weight", change, base, None, f"Outside {least} to {most} kg, the range accepted.")
    other = replace(request, animal=replace(request.animal, weight_kg=weight_kg), weights=later)
    return _told("weight", change, base, plan(other, pack), "Every body weight is multiplied by the factor.")


def _told(name: str, change: Change, base: Planned, other: Planned | None, effect: str) -> WhatIf:
    before, after = _costs(base), _costs(other)
    differences = [None if new is None or old is None else new - old for new, old in zip(after, before, strict=True)]
    factor = change.price_factor if change.price_factor is not None else change.weight_factor
    units = other.portions[-1].units_per_day if other is not None else None
    return WhatIf(
        change=name,
        factor=factor,
        aim=change.aim,
        units_per_day=units,
        consumed_cost=after[0],
        paid_cost=after[1],
        consumed_difference=differences[0],
        paid_difference=differences[1],
        effect=effect,
    )


def _costs(planned: Planned | None) -> tuple[Decimal | None, Decimal | None]:
    if planned is None or planned.ledger is None:
        return None, None
    ledger = planned.ledger
    return ledger.rounded(ledger.used_until(planned.days)), ledger.paid_until(planned.days)
