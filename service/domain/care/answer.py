"""The parts of a care note; field names are the wire names of ``POST /v1/care-note``.

Days count from 1, the first day of the course, and are ``None`` for what began before it; ``to`` belongs to what it
ends. Amounts are mg, low and high reading of the label.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from service.domain.common import Caution
from service.domain.screening_answers import Finding, NotAssessed, TakenAs, Unrecognised


@dataclass(frozen=True, slots=True)
class CareAnimal:
    """The animal as told."""

    name: str | None
    identification: str | None
    species: str
    weight_kg: Decimal | None
    age_years: Decimal | None
    traits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GivenPhase:
    """One stretch with one number of units a day. ``doses`` are the parts that it is given in over a day."""

    phase: int
    name: str | None
    from_day: int | None
    to_day: int | None
    from_date: date | None
    to_date: date | None
    days: int | None
    units_per_day: Decimal | None
    doses: tuple[Decimal, ...]


@dataclass(frozen=True, slots=True)
class LinePerDay:
    """What one line of a label comes to a day in one phase."""

    phase: int
    low_mg: Decimal | None
    high_mg: Decimal | None
    moiety_low_mg: Decimal | None
    moiety_high_mg: Decimal | None


@dataclass(frozen=True, slots=True)
class GivenLine:
    """One line of a label: what it says, what that is, and what it leaves open (in sentences)."""

    name: str
    amount: str | None
    ingredient: str | None
    ingredient_name: str | None
    form: str | None
    form_name: str | None
    moiety: str | None
    low_mg_per_unit: Decimal | None
    high_mg_per_unit: Decimal | None
    moiety_low_mg_per_unit: Decimal | None
    moiety_high_mg_per_unit: Decimal | None
    flags: tuple[str, ...]
    left_open: tuple[str, ...]
    per_day: tuple[LinePerDay, ...]


@dataclass(frozen=True, slots=True)
class GivenProduct:
    """One product: what is given of it when, and what its label says."""

    product_id: str
    name: str | None
    unit: str
    serving_units: Decimal | None
    phases: tuple[GivenPhase, ...]
    lines: tuple[GivenLine, ...]
    other_ingredients: str | None


@dataclass(frozen=True, slots=True)
class GuidanceBeside:
    """The range that an amount was held against, in mg per day of the form that the amount counts."""

    phase: str
    low_mg: Decimal
    high_mg: Decimal
    divided_doses: int
    days_low: int | None
    days_high: int | None
    guidance_id: str
    origin: str
    note: str | None
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AmountRow:
    """One ingredient over all that is given, for a stretch of days.

    ``position``: ``below``, ``within``, ``above``, ``open`` (one reading of the labels lies in the range, another does
    not), ``not_known`` (no amount could be counted) or ``no_guidance``, with the reason in ``why_no_guidance``.
    """

    ingredient: str
    name: str
    form: str | None
    counted_as: str
    from_day: int | None
    to_day: int | None
    from_date: date | None
    to_date: date | None
    low_mg: Decimal | None
    high_mg: Decimal | None
    at_least: bool
    products: tuple[str, ...]
    position: str
    guidance: GuidanceBeside | None
    why_no_guidance: str | None


@dataclass(frozen=True, slots=True)
class CareEvidence:
    """How good the evidence for one ingredient is."""

    ingredient: str
    name: str
    verdict: str
    summary: str
    dissent: str | None
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """One medicine, condition or trait as told, and what it was taken as; nothing where it was not understood."""

    text: str
    understood: bool
    taken_as: tuple[TakenAs, ...]


@dataclass(frozen=True, slots=True)
class CareFinding(Finding):
    """A finding of the screen with the names of its subjects, in their order."""

    subject_names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReasonCount:
    """How many pairs were not assessed for one reason."""

    reason: str
    count: int


@dataclass(frozen=True, slots=True)
class CareScreen:
    """What the screen says of all that is given. ``not_assessed`` leaves pairs of two ingredients to the counts."""

    verdict: str
    highest_level: str | None
    findings: tuple[CareFinding, ...]
    unrecognised: tuple[Unrecognised, ...]
    not_assessed: tuple[NotAssessed, ...]
    not_assessed_counts: tuple[ReasonCount, ...]


@dataclass(frozen=True, slots=True)
class Question:
    """One question for the veterinarian; ``asked_by`` is ``carer``, or ``rule`` where it follows from the note."""

    code: str
    asked_by: str
    text: str
    subjects: tuple[str, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing to watch for and what to do then; ``general`` where it is not about what is given here."""

    text: str
    action: str
    general: bool
    level: str | None
    subjects: tuple[str, ...]
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reassessment:
    """When to judge whether one ingredient helps, counted from the day on which it began."""

    ingredient: str
    name: str
    after_days: int
    on_day: int | None
    on_date: date | None
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Reproduction:
    """How to get this note again, byte for byte: the same inputs, the same release, the same service."""

    dataset: str
    inputs_sha256: str
    text: str


@dataclass(frozen=True, slots=True)
class CareNote:
    """The record to hand to a veterinary practice."""

    note_date: date | None
    start_date: date | None
    animal: CareAnimal
    given: tuple[GivenProduct, ...]
    amounts: tuple[AmountRow, ...]
    evidence: tuple[CareEvidence, ...]
    medications: tuple[Told, ...]
    other_supplements: tuple[GivenProduct, ...]
    conditions: tuple[Told, ...]
    traits: tuple[Told, ...]
    observations: tuple[str, ...]
    screen: CareScreen
    questions: tuple[Question, ...]
    reassess_on: date | None
    reassess_on_day: int | None
    reassess_after_days: int | None
    reassessments: tuple[Reassessment, ...]
    watch_for: tuple[Sign, ...]
    reproduce: Reproduction
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
