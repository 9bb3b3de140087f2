"""The parts of an exposure answer; field names are the wire names of ``GET /v1/exposure``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal, Caution

# From the least to the gravest. A substance of which no amount is known to be harmless stays in the last, however
# little it was.
TIERS = ("below_published_thresholds", "mild", "severe", "life_threatening", "no_safe_amount")
BELOW, MILD, SEVERE, LIFE_THREATENING, NO_SAFE_AMOUNT = TIERS


@dataclass(frozen=True, slots=True)
class ExposureRequest:
    """What one animal ate once. ``amount`` is a text with a unit."""

    animal: Animal
    substance: str
    amount: str


@dataclass(frozen=True, slots=True)
class ContentUsed:
    """mg of what is counted in one mg of what was eaten, and where that is known from."""

    material: str
    of: str
    share_low: Decimal
    share_high: Decimal
    known: bool
    factor_ids: tuple[str, ...]
    how: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ExposureThreshold:
    """One published tier, and whether the amount reaches it.

    ``reached`` is ``None`` where it was not compared, ``why_not_compared`` says why. ``tier`` is the word that it
    stands for in this answer, ``None`` for a row that is shown for reading only.
    """

    id: str
    hazard: str
    severity: str
    tier: str | None
    comparison: str | None
    amount_low: Decimal | None
    amount_high: Decimal | None
    unit: str | None
    of: str | None
    basis: str | None
    per_day: bool
    mg_per_kg_low: Decimal | None
    mg_per_kg_high: Decimal | None
    compared_mg_per_kg: Decimal | None
    reached: bool | None
    why_not_compared: str | None
    onset: str | None
    signs: str | None
    action: str
    use: str
    grade: str | None
    note: str | None
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two sources that disagree; ``used`` is the one that was judged by."""

    about: str
    used_id: str
    used: str
    other_id: str
    other: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AlsoNamed:
    """Another harmful substance that the same words name, judged as if all of the amount were of it."""

    hazard: str
    name: str
    tier: str | None
    mg_per_kg: Decimal | None
    why_no_tier: str | None


@dataclass(frozen=True, slots=True)
class ExposureAnswer:
    """What an amount that was eaten once means; field names are the wire names of ``GET /v1/exposure``."""

    species: str
    weight_kg: Decimal
    substance: str
    ingredient: str | None
    form: str | None
    hazard: str | None
    hazard_name: str | None
    material: str
    amount_mg: Decimal | None
    amount_low_mg: Decimal | None
    amount_high_mg: Decimal | None
    counted_as: str | None
    content: ContentUsed | None
    moiety_low_mg: Decimal | None
    moiety_high_mg: Decimal | None
    mg_per_kg: Decimal | None
    mg_per_kg_low: Decimal | None
    mg_per_kg_high: Decimal | None
    tier: str | None
    why_no_tier: str | None
    thresholds: tuple[ExposureThreshold, ...]
    conflicts: tuple[Conflict, ...]
    disagreement: str | None
    onset: str | None
    signs: str | None
    action: str
    also_named: tuple[AlsoNamed, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
