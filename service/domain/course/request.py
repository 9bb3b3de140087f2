"""What a course is asked for: one or several products, what is given of them and for how long."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from service.domain.common import Animal
from service.domain.products import Product

# Thirty calendar years: longer than any dog or cat is given anything.
LONGEST_DAYS = 10_958
# A pack of one for every day of ten years: beyond it, a pack is described wrongly.
MOST_CONTAINERS = 4_000


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """What one container costs, in the product's currency, where at least so many are bought at once."""

    containers: int
    price: Decimal


@dataclass(frozen=True, slots=True)
class Pack:
    """A product with what only a course needs to know of it; ``where`` is its path in the input, for errors."""

    product: Product
    where: str = "product"
    price_breaks: tuple[PriceBreak, ...] = ()
    opened_shelf_life_days: int | None = None


@dataclass(frozen=True, slots=True)
class PhaseWanted:
    """One phase as the caller tells it.

    Exactly one of ``units_per_day``, ``mg_per_day`` (of ``ingredient``, counted as ``form``) and ``aim`` (``low``,
    ``middle`` or ``high`` of the guidance) says how much; ``days``, ``weeks`` or ``years`` how long. With
    ``from_age_years`` a phase begins at a birthday and lasts until the next begins.
    """

    units_per_day: Decimal | None = None
    mg_per_day: Decimal | None = None
    aim: str | None = None
    ingredient: str | None = None
    form: str | None = None
    guidance_phase: str = "maintenance"
    days: int | None = None
    weeks: int | None = None
    years: Decimal | None = None
    from_age_years: Decimal | None = None
    name: str | None = None


@dataclass(frozen=True, slots=True)
class WeightOn:
    """A body weight in kg that holds from a day of the course (1 is the first) or from a date on."""

    weight_kg: Decimal
    day: int | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that might turn out otherwise: factors on every price or body weight, or another aim."""

    price_factor: Decimal | None = None
    weight_factor: Decimal | None = None
    aim: str | None = None


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """A course to plan.

    ``horizon_days``, ``horizon_years`` and ``until_age_years`` are three ways to say how long; at most one is given.
    ``remainder`` says what becomes of the rest of a divided unit: ``kept`` for the next time or ``discarded``.
    """

    animal: Animal
    packs: tuple[Pack, ...]
    birth_date: date | None = None
    start_date: date | None = None
    phases: tuple[PhaseWanted, ...] = ()
    ingredient: str | None = None
    form: str | None = None
    aim: str = "low"
    loading: bool = True
    loading_days: int | None = None
    horizon_days: int | None = None
    horizon_years: Decimal | None = None
    until_age_years: Decimal | None = None
    weights: tuple[WeightOn, ...] = ()
    whole_containers: bool = True
    containers_per_purchase: int | None = None
    remainder: str = "kept"
    price_change_per_year: Decimal = Decimal(0)
    what_if: tuple[Change, ...] | None = None
    show_days: bool = False
    medications: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    other_supplements: tuple[Product, ...] = ()
    course_id: str | None = None
