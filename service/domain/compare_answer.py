"""The parts of a comparison's answer; field names are the wire names of ``POST /v1/compare``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Caution


@dataclass(frozen=True, slots=True)
class TargetRange:
    """A target with its amounts settled: mg per day of ``form``, from the caller or from guidance."""

    ingredient: str
    form: str | None
    phase: str
    low_mg: Decimal
    high_mg: Decimal
    aim_mg: Decimal
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TargetResult:
    """What a product reaches of one target, in mg of the target's form per day."""

    ingredient: str
    achieved_mg: Decimal
    achieved_high_mg: Decimal
    share_of_low: Decimal
    in_range: bool


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One product in the comparison; costs in its currency, energy in kcal."""

    product_id: str
    name: str | None
    rank: int
    units_per_day: Decimal | None
    unit: str
    meets_target: bool
    targets: tuple[TargetResult, ...]
    cost_per_day: Decimal | None
    cost_per_30_days: Decimal | None
    cost_per_365_days: Decimal | None
    cost_per_g: Decimal | None
    currency: str | None
    container_lasts_days: Decimal | None
    energy_kcal_per_day: Decimal | None
    energy_share_of_resting_need: Decimal | None
    verdict: str
    efficient: bool
    label_flags: tuple[str, ...]
    why_not: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CompareAnswer:
    """Products ranked for one animal; field names are the wire names of ``POST /v1/compare``."""

    species: str
    weight_kg: Decimal
    aim: str
    rank_by: str
    resting_energy_kcal_per_day: Decimal
    targets: tuple[TargetRange, ...]
    rows: tuple[CompareRow, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
