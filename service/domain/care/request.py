"""What a care note is asked for: one animal, all that it is given, and what its carer wants to say."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from service.domain.common import Animal
from service.domain.products import Product


@dataclass(frozen=True, slots=True)
class PhaseTold:
    """One stretch of a course as the caller tells it.

    Exactly one of ``units_per_day`` and ``mg_per_day`` (of ``ingredient``, counted as ``form``) says how much, no units
    being a pause; at most one of ``days``, ``weeks``, ``years`` and ``until_date`` how long. Only the last phase may be
    open.
    """

    name: str | None = None
    units_per_day: Decimal | None = None
    mg_per_day: Decimal | None = None
    ingredient: str | None = None
    form: str | None = None
    days: int | None = None
    weeks: int | None = None
    years: Decimal | None = None
    from_date: date | None = None
    until_date: date | None = None


@dataclass(frozen=True, slots=True)
class ProductTold:
    """One product and when it is given; without phases the ``units_per_day`` of the product, from and until."""

    product: Product
    from_date: date | None = None
    until_date: date | None = None
    phases: tuple[PhaseTold, ...] = ()


@dataclass(frozen=True, slots=True)
class CareRequest:
    """Everything that a care note is made from. ``inputs_sha256`` is computed by the caller over its own input."""

    animal: Animal
    products: tuple[ProductTold, ...]
    inputs_sha256: str
    name: str | None = None
    identification: str | None = None
    traits: tuple[str, ...] = ()
    medications: tuple[str, ...] = ()
    other_supplements: tuple[Product, ...] = ()
    conditions: tuple[str, ...] = ()
    start_date: date | None = None
    note_date: date | None = None
    questions: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()
