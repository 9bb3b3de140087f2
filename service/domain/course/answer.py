"""The parts of a plan's answer; field names are the wire names of ``POST /v1/plan``. Days count from 1."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from service.domain.common import Caution
from service.domain.dose_answer import EvidenceSummary


@dataclass(frozen=True, slots=True)
class PlanPhase:
    """A stretch of days with one amount a day. Amounts count mg of ``form``; ``to_day`` and ``to_date`` belong to it.

    ``mg_per_day`` is the low reading of the label, ``wanted_low_mg`` to ``wanted_high_mg`` what was to be reached.
    """

    phase: str
    from_day: int
    to_day: int
    from_date: date | None
    to_date: date | None
    days: int
    weight_kg: Decimal | None
    units_per_day: Decimal
    units: Decimal
    wasted_units: Decimal
    ingredient: str | None
    form: str | None
    mg_per_day: Decimal | None
    mg_high_per_day: Decimal | None
    wanted_low_mg: Decimal | None
    wanted_high_mg: Decimal | None
    surplus_mg_per_day: Decimal | None
    meets_target: bool | None
    divided_doses: int | None
    cost_per_day: Decimal | None
    cost: Decimal | None
    origin: str
    flags: tuple[str, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Purchase:
    """What is bought on one day. ``containers`` is a fraction only where whole containers were not asked for."""

    day: int
    date: date | None
    containers: Decimal
    units: Decimal
    price_per_container: Decimal | None
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class CourseYear:
    """One year of the course; its costs add up to the totals to the minor unit."""

    year: int
    from_day: int
    to_day: int
    from_date: date | None
    to_date: date | None
    days: int
    units: Decimal
    consumed_cost: Decimal | None
    paid_cost: Decimal | None


@dataclass(frozen=True, slots=True)
class CourseDay:
    """One day of the course; the costs of all days add up to ``consumed_cost`` to the minor unit."""

    day: int
    date: date | None
    units: Decimal
    cost: Decimal | None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The course with one thing changed. ``effect`` says where nothing can change, or why it cannot be planned."""

    change: str
    factor: Decimal | None
    aim: str | None
    units_per_day: Decimal | None
    consumed_cost: Decimal | None
    paid_cost: Decimal | None
    consumed_difference: Decimal | None
    paid_difference: Decimal | None
    effect: str


@dataclass(frozen=True, slots=True)
class Course:
    """The course of one product: totals in its currency, all of them at the minor unit."""

    product_id: str
    name: str | None
    unit: str
    currency: str | None
    phases: tuple[PlanPhase, ...]
    purchases: tuple[Purchase, ...]
    years: tuple[CourseYear, ...]
    consumed_units: Decimal | None
    wasted_units: Decimal | None
    discarded_units: Decimal | None
    left_over_units: Decimal | None
    containers: Decimal | None
    consumed_cost: Decimal | None
    paid_cost: Decimal | None
    left_over_cost: Decimal | None
    discarded_cost: Decimal | None
    paid_cost_per_30_days: Decimal | None
    paid_cost_per_365_days: Decimal | None
    verdict: str
    warnings: tuple[str, ...]
    label_flags: tuple[str, ...]
    why_not: tuple[str, ...]
    what_if: tuple[WhatIf, ...]
    days: tuple[CourseDay, ...]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two products against each other: ``product_id`` asks for more on the first day than ``instead_of``.

    ``break_even_day`` is the first day on which no more has been paid for it; ``ahead_for_good_from_day`` the day
    from which that stays so to the end.
    """

    product_id: str
    instead_of: str
    paid_saving: Decimal
    consumed_saving: Decimal
    break_even_day: int | None
    break_even_date: date | None
    ahead_for_good_from_day: int | None
    ahead_for_good_from_date: date | None


@dataclass(frozen=True, slots=True)
class Saving:
    """What the cheapest course saves against the dearest; only courses with a known cost and no objection count."""

    cheapest_product_id: str
    dearest_product_id: str
    currency: str
    paid: Decimal
    consumed: Decimal
    share_of_paid: Decimal
    pairs: tuple[Pair, ...]


@dataclass(frozen=True, slots=True)
class Reassessment:
    """A day to look again whether it helps. ``origin`` says how the interval is known."""

    day: int
    date: date | None
    reason: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanAnswer(Course):
    """The course of the first product, and beside it those of all (``alternatives``, cheapest first) if several."""

    course_id: str | None
    species: str
    weight_kg: Decimal
    start_date: date | None
    end_date: date | None
    horizon_days: int
    aim: str
    ingredient: str | None
    evidence: EvidenceSummary | None
    next_reassessment: date | None
    next_reassessment_day: int | None
    reassessments: tuple[Reassessment, ...]
    alternatives: tuple[Course, ...]
    saving: Saving | None
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
