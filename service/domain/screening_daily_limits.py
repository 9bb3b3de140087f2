"""Which recorded limits a total is held against, and which of them answers."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.daily_limits import WHOLE_DIET, daily_limit
from service.domain.rounding import amount
from service.domain.screening_answers import TotalLimit
from service.reference.release import Reference

# A bound that was given up, a minimum, or one for a single dose says nothing about an amount a day.
_KINDS = ("safe_upper_limit", "guideline_maximum", "diet_maximum", "diet_legal_maximum", "risk_threshold")
# Of two forms of one enforced limit, the one by metabolic weight is the publisher's own.
_BASES = ("per_kg075_per_day", "per_kg_per_day", "per_1000_kcal")


def limits_for(reference: Reference, ingredient: str, high_mg: Decimal, animal: Animal) -> tuple[TotalLimit, ...]:
    """List the limits of one ingredient as mg per day for one animal.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient
        Id of an ingredient.
    high_mg
        High reading of the total, exact, in mg per day.
    animal
        Without a weight there is none.

    Returns
    -------
    tuple of TotalLimit
        In the order of the table.
    """
    if animal.weight_kg is None:
        return ()
    found = []
    for row in reference.limits_of.get((ingredient, animal.species), ()):
        limit = daily_limit(row, animal.weight_kg) if row.kind in _KINDS else None
        if limit is None or row.amount is None:
            continue
        found.append(
            TotalLimit(
                limit_id=row.id,
                kind=row.kind,
                amount=row.amount,
                unit=row.unit,
                basis=row.basis,
                limit_mg_per_day=amount(limit.mg_per_day),
                share=amount(high_mg / limit.mg_per_day),
                covers=limit.covers,
                rule=limit.rule,
                enforced=row.enforced,
                origin=row.origin,
                source_ids=tuple(dict.fromkeys((*row.source_ids, *limit.source_ids))),
            )
        )
    return tuple(found)


def answering(limits: tuple[TotalLimit, ...]) -> TotalLimit | None:
    """Pick the limit that a total is judged by.

    Parameters
    ----------
    limits
        What ``limits_for`` lists.

    Returns
    -------
    TotalLimit or None
        An enforced limit, by metabolic weight first, of equals the lowest. Where none is enforced, the best known
        maximum of the whole diet: a supplement that alone passes it is too much whatever the food holds.
    """
    enforced = [limit for limit in limits if limit.enforced and limit.basis in _BASES]
    if enforced:
        return min(enforced, key=lambda limit: (_BASES.index(limit.basis), limit.limit_mg_per_day))
    diet = [limit for limit in limits if limit.covers == WHOLE_DIET]
    return min(diet, key=lambda limit: (limit.origin == "memory", limit.limit_mg_per_day), default=None)


def strictest_exceeded(limits: tuple[TotalLimit, ...]) -> TotalLimit | None:
    """Find the lowest of the limits that a total exceeds, whether or not it is the one to judge by.

    Parameters
    ----------
    limits
        What ``limits_for`` lists.

    Returns
    -------
    TotalLimit or None
        ``None`` where the total is within all of them.
    """
    exceeded = [limit for limit in limits if limit.share > 1]
    return min(exceeded, key=lambda limit: limit.limit_mg_per_day, default=None)
