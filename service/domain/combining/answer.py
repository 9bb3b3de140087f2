"""The parts of a combination's answer; field names are the wire names of ``POST /v1/combine``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Caution
from service.domain.compare_answer import TargetRange, TargetResult
from service.domain.screening_answers import TakenAs, Unrecognised

# How far a search came. Of a combination only the first two.
OPTIMAL, BEST_FOUND = "optimal", "best_found"
NOTHING_FITS, NOTHING_NEEDED, NOT_SETTLED = "nothing_fits", "nothing_needed", "not_settled"


@dataclass(frozen=True, slots=True)
class CombinedProduct:
    """One product of a combination; costs in its currency."""

    product_id: str
    name: str | None
    units_per_day: Decimal
    unit: str
    cost_per_day: Decimal
    container_lasts_days: Decimal
    label_flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CombinedTotal:
    """Amount of one substance per day, with what is given already, against the maximum that the screen judges by."""

    ingredient: str
    moiety: str | None
    low_mg_per_day: Decimal
    high_mg_per_day: Decimal
    limit_id: str | None
    limit_mg_per_day: Decimal | None
    share_of_limit: Decimal | None
    limit_origin: str | None
    lower_bound: bool
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BriefFinding:
    """One finding of the screen, in short."""

    kind: str
    level: str
    subjects: tuple[str, ...]
    effect: str
    action: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Combination:
    """One set of products with the number of units of each; ``gap`` is the share by which it may be too dear."""

    rank: int
    status: str
    gap: Decimal
    cost_per_day: Decimal
    cost_per_30_days: Decimal
    cost_per_365_days: Decimal
    more_than_cheapest_per_day: Decimal
    currency: str
    units_per_day: Decimal
    energy_kcal_per_day: Decimal | None
    products: tuple[CombinedProduct, ...]
    targets: tuple[TargetResult, ...]
    totals: tuple[CombinedTotal, ...]
    verdict: str
    findings: tuple[BriefFinding, ...]


@dataclass(frozen=True, slots=True)
class LeftOutReason:
    """Why a product is not used."""

    code: str
    detail: str


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A product that no combination may use."""

    product_id: str
    name: str | None
    reasons: tuple[LeftOutReason, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RejectedUnits:
    """From how many units a day of a product, together with the others named, the screen says stop."""

    product_id: str
    units_per_day: Decimal


@dataclass(frozen=True, slots=True)
class RejectedSet:
    """Products that may be given alone and not together, or not as much of them."""

    products: tuple[RejectedUnits, ...]
    detail: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """One thing that stands in the way where nothing fits: what has to hold, and how near the products come to it."""

    kind: str
    ingredient: str | None
    limit_id: str | None
    needed: Decimal | None
    reachable: Decimal | None
    unit: str | None
    detail: str
    limit_origin: str | None
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CombineAnswer:
    """The cheapest sets of products; field names are the wire names of ``POST /v1/combine``.

    ``status`` and ``gap`` tell of the cheapest set. ``search_complete`` is false where time ran out before the three
    cheapest sets, or the reasons why nothing fits, were settled. ``taken_as`` and ``unrecognised`` are about medicines,
    conditions, traits and what is given already.
    """

    species: str
    weight_kg: Decimal
    aim: str
    high_end_on: str
    most_products: int
    status: str
    gap: Decimal | None
    search_complete: bool
    targets: tuple[TargetRange, ...]
    combinations: tuple[Combination, ...]
    left_out: tuple[LeftOut, ...]
    rejected_sets: tuple[RejectedSet, ...]
    blocked_by: tuple[Block, ...]
    taken_as: tuple[TakenAs, ...]
    unrecognised: tuple[Unrecognised, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
