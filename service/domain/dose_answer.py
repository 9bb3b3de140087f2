"""The parts of a dose answer; field names are the wire names of ``GET /v1/dose``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Caution


@dataclass(frozen=True, slots=True)
class Band:
    """A half-open weight band in kg: ``from_kg`` <= weight < ``to_kg`` (``None``: no upper end)."""

    from_kg: Decimal
    to_kg: Decimal | None


@dataclass(frozen=True, slots=True)
class PhaseDose:
    """The amount per day in one phase, in mg of the form and in mg of its active moiety."""

    phase: str
    low_mg: Decimal
    high_mg: Decimal
    per: str
    divided_doses: int
    days_low: int | None
    days_high: int | None
    moiety_low_mg: Decimal
    moiety_high_mg: Decimal
    band: Band
    basis: str
    rule: str
    guidance_id: str
    regimen_ids: tuple[str, ...]
    origin: str
    source_ids: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True)
class UpperLimit:
    """A published daily maximum for this animal, in mg of the guidance's substance."""

    limit_id: str
    amount_mg: Decimal
    basis: str
    kind: str
    origin: str
    source_ids: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True)
class EvidenceSummary:
    """How good the evidence is, with the dissent beside it."""

    verdict: str
    summary: str
    dissent: str | None
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class IdealWeight:
    """Amounts at an estimated ideal weight, beside those at the true weight."""

    ideal_weight_kg: Decimal
    rule: str
    origin: str
    phases: tuple[PhaseDose, ...]


@dataclass(frozen=True, slots=True)
class TraitNote:
    """What is published for a trait, and a plain statement where nothing is."""

    trait: str
    statements: tuple[str, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrialAmount:
    """One published or customary amount shown beside the guidance, with its outcome."""

    regimen_id: str
    phase: str
    material: str | None
    weight_from_kg: Decimal | None
    weight_to_kg: Decimal | None
    amount_low: Decimal | None
    amount_high: Decimal | None
    unit: str | None
    basis: str | None
    outcome: str | None
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DoseAnswer:
    """Amounts per day; field names are the wire names of ``GET /v1/dose``."""

    species: str
    weight_kg: Decimal
    ingredient: str
    form: str
    moiety: str
    phases: tuple[PhaseDose, ...]
    upper_limit: UpperLimit | None
    published_amounts: tuple[TrialAmount, ...]
    evidence: EvidenceSummary
    reassess_after_days: int | None
    ideal_weight_kg: Decimal | None
    ideal_weight: IdealWeight | None
    trait: TraitNote | None
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
