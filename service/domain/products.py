"""A product as a caller describes it: label facts, pack and price."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

# The smallest part a unit can be given in. A capsule that opens is given in halves (common practice).
STEP_OF = {
    "whole": Decimal(1),
    "halves": Decimal("0.5"),
    "quarters": Decimal("0.25"),
    "opens": Decimal("0.5"),
    "millilitre_tenths": Decimal("0.1"),
    "scoop_halves": Decimal("0.5"),
}


@dataclass(frozen=True, slots=True)
class LabelFact:
    """One line of a facts panel. ``amount`` is per serving, as printed; ``None`` where the label hides it."""

    name: str
    amount: str | None


@dataclass(frozen=True, slots=True)
class Product:
    """One product. Amounts of ``facts`` are per serving of ``serving_units`` units."""

    id: str
    name: str | None = None
    unit: str = "unit"
    unit_count: Decimal | None = None
    price: Decimal | None = None
    currency: str | None = None
    serving_units: Decimal | None = None
    serving_mass_g: Decimal | None = None
    unit_mass_g: Decimal | None = None
    unit_energy_kcal: Decimal | None = None
    divisible: str = "whole"
    facts: tuple[LabelFact, ...] = ()
    other_ingredients: str | None = None
    units_per_day: Decimal | None = None
    locale: str | None = None
