"""Why a course cannot be recommended, in sentences for people."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from service.domain.course.portions import Portion
from service.domain.practicality import has_unknown_cost, impracticalities
from service.domain.products import Product


def objections(product: Product, portions: Sequence[Portion], verdict: str, weight_kg: Decimal) -> tuple[str, ...]:
    """List what speaks against giving a product for a whole course.

    Parameters
    ----------
    product
        The product.
    portions
        What is given of it.
    verdict
        Of the screen, at the largest daily amount.
    weight_kg
        The animal's weight on the first day.

    Returns
    -------
    tuple of str
        Empty where nothing of this speaks against it.
    """
    units = max((one.units_per_day or Decimal(0) for one in portions), default=Decimal(0))
    found = ["The screen found something that must not be given to this animal."] if verdict == "stop" else []
    found += _amounts(portions)
    found += impracticalities(product, units, weight_kg)
    if has_unknown_cost(product):
        found.append("Price or number of units is missing, so its cost is unknown.")
    return tuple(found)


def _amounts(portions: Sequence[Portion]) -> list[str]:
    missing = dict.fromkeys(one.target.ingredient for one in portions if one.units_per_day is None and one.target)
    found = [f"The label credits no amount of {ingredient}." for ingredient in missing]
    phases = dict.fromkeys(one.phase for one in portions if one.derived and one.meets is False and one.units_per_day)
    return found + [
        f"No number of units that it divides into reaches the aim of the {phase} phase without passing its high end."
        for phase in phases
    ]
