"""Whether a daily amount of a product can be kept up: number of units, energy, cost that is known."""

from __future__ import annotations

from decimal import Decimal

from service.domain.daily_limits import metabolic_weight
from service.domain.products import Product
from service.domain.rounding import significant

# Above this many units a day no one keeps to a course for years (common practice).
MOST_UNITS_PER_DAY = Decimal(20)
# Treats and chews at most a tenth of the day's energy; resting need 70 x kg^0.75 kcal (sources treats, merckq).
LARGEST_ENERGY_SHARE = Decimal("0.1")
_RESTING_KCAL = Decimal(70)
_COUNTED_UNITS = {"ml", "millilitre", "milliliter", "g", "gram"}


def resting_energy_kcal(weight_kg: Decimal) -> Decimal:
    """Energy that an animal needs at rest (source merckq).

    Parameters
    ----------
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal
        70 x kg^0.75 kcal per day.
    """
    return _RESTING_KCAL * metabolic_weight(weight_kg)


def is_too_many(product: Product, units_per_day: Decimal) -> bool:
    """Say whether nobody would give so many units every day; millilitres and grams are measured, not counted.

    Parameters
    ----------
    product
        The product.
    units_per_day
        Units of it a day.

    Returns
    -------
    bool
        ``True`` above 20 (common practice).
    """
    return units_per_day > MOST_UNITS_PER_DAY and product.unit.casefold() not in _COUNTED_UNITS


def is_too_rich(product: Product, units_per_day: Decimal, weight_kg: Decimal) -> bool:
    """Say whether the units bring more than a tenth of the resting energy need (source treats).

    Parameters
    ----------
    product
        The product; of unknown energy it is not too rich.
    units_per_day
        Units of it a day.
    weight_kg
        Body weight in kg.

    Returns
    -------
    bool
        ``True`` above a tenth.
    """
    energy = (product.unit_energy_kcal or Decimal(0)) * units_per_day
    return energy > LARGEST_ENERGY_SHARE * resting_energy_kcal(weight_kg)


def impracticalities(product: Product, units_per_day: Decimal | None, weight_kg: Decimal) -> tuple[str, ...]:
    """List, in sentences, what makes a daily amount hard to keep up.

    Parameters
    ----------
    product
        The product.
    units_per_day
        Units of it a day, ``None`` where none can be told.
    weight_kg
        Body weight in kg.

    Returns
    -------
    tuple of str
        On the number of units and on their energy.
    """
    if units_per_day is None:
        return ()
    found = []
    if is_too_many(product, units_per_day):
        count = f"{_plain(units_per_day)} units ({product.unit}) a day"
        found.append(f"{count} would be needed; it is too weak for this animal.")
    if is_too_rich(product, units_per_day, weight_kg):
        energy = (product.unit_energy_kcal or Decimal(0)) * units_per_day
        share = significant(energy * 100 / resting_energy_kcal(weight_kg), 3)
        found.append(f"Its energy is {_plain(share)} % of the resting need, more than a tenth.")
    return tuple(found)


def has_unknown_cost(product: Product) -> bool:
    """Say whether price or number of units is missing.

    Parameters
    ----------
    product
        The product.

    Returns
    -------
    bool
        ``True`` where a cost cannot be told.
    """
    return product.price is None or not product.unit_count


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}"
