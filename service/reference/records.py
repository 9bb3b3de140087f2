"""The rows of a dataset release as immutable records, one class per table.

Field names are the column names of ``dataset/tables/*.csv``. Lists are tuples, numbers are
:class:`~decimal.Decimal`, an empty cell is ``None`` (or an empty tuple), never zero.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """What every value row carries: where it comes from and how that was seen."""

    source_id: str
    more_source_ids: tuple[str, ...]
    locator: str | None
    origin: str

    @property
    def source_ids(self) -> tuple[str, ...]:
        """All source ids of the row, the main one first."""
        return (self.source_id, *self.more_source_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Bibliographic data of one source (table ``sources``)."""

    id: str
    authors: str | None
    year: str | None
    title: str
    container: str | None
    doi: str | None
    url: str | None
    seen_as: str | None
    origin: str
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient(Fact):
    """One thing a label can name (table ``ingredients``)."""

    id: str
    name: str
    kind: str
    moiety: str | None
    default_form_id: str | None
    group_ids: tuple[str, ...]
    screened_as_ids: tuple[str, ...]
    what_it_does: str
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class IngredientGroup(Fact):
    """A set of ingredients that interaction rows address together (``ingredient_groups``)."""

    id: str
    name: str
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Form(Fact):
    """One chemical form of an ingredient (table ``forms``)."""

    id: str
    name: str
    ingredient_id: str
    kind: str
    formula: str | None
    cas: str | None
    cas_origin: str | None
    moiety: str
    moiety_formula: str | None
    moieties_per_formula: int | None
    molar_mass_g_per_mol: Decimal | None
    moiety_molar_mass_g_per_mol: Decimal | None
    share_low: Decimal | None
    share_high: Decimal | None
    candidate_form_ids: tuple[str, ...]
    expression_of: str | None
    iu_per_mg_low: Decimal | None
    iu_per_mg_high: Decimal | None
    label_basis: str | None
    published_check: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Regimen(Fact):
    """One published or customary amount with its outcome (table ``regimens``)."""

    id: str
    ingredient_id: str
    form_id: str | None
    material: str | None
    species: str
    phase: str
    weight_from_kg: Decimal | None
    weight_to_kg: Decimal | None
    amount_low: Decimal | None
    amount_high: Decimal | None
    unit: str | None
    basis: str | None
    doses_per_day: Decimal | None
    co_ingredients: str | None
    duration_days: str | None
    animals: str | None
    study_type: str | None
    outcome: str | None
    time_to_effect_days_low: int | None
    time_to_effect_days_high: int | None
    trial_origin: str | None
    memory_confidence: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Guidance(Fact):
    """One weight band and phase the service answers with (table ``guidance``)."""

    id: str
    ingredient_id: str
    form_id: str
    species: str
    phase: str
    from_kg: Decimal
    to_kg: Decimal | None
    amount_low: Decimal
    amount_high: Decimal
    unit: str
    basis: str
    at_weight_kg: Decimal
    divided_doses: int
    days_low: int | None
    days_high: int | None
    reassess_after_days: int | None
    adults_only: bool
    rule_id: str
    regimen_ids: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Fact):
    """An upper (or lower) bound with its basis (table ``limits``)."""

    id: str
    ingredient_id: str
    species: str
    kind: str
    amount: Decimal | None
    unit: str
    basis: str
    enforced: bool
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard(Fact):
    """One substance that can harm (table ``hazards``)."""

    id: str
    name: str
    ingredient_id: str
    group: str
    kind_dog: str
    kind_cat: str
    unquantified_dog: str
    unquantified_cat: str
    needs_amount: bool
    moiety: str | None
    cas: str | None
    e_number: str | None
    description: str
    conflicts: str | None
    false_friends: str | None
    gaps: str | None
    regulatory_flag: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Threshold(Fact):
    """One tier of a hazard for one species (table ``hazard_thresholds``)."""

    id: str
    hazard_id: str
    species: str
    severity: str
    comparison: str | None
    amount_low: Decimal | None
    amount_high: Decimal | None
    unit: str | None
    moiety: str | None
    basis: str | None
    per_day: bool
    mg_per_kg_low: Decimal | None
    mg_per_kg_high: Decimal | None
    onset: str | None
    signs: str | None
    action: str
    use: str
    delegates_to: str | None
    grade: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentFactor(Fact):
    """How much of a harmful moiety a material holds (table ``content_factors``)."""

    id: str
    hazard_id: str
    material: str
    quantity: str
    value_low: Decimal | None
    value_high: Decimal | None
    unit: str
    recommended: Decimal | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Medication(Fact):
    """One medicine by its generic name (table ``medications``)."""

    id: str
    name: str
    variants: tuple[str, ...]
    class_ids: tuple[str, ...]
    given_by_mouth: bool
    species: str
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrugClass(Fact):
    """One class of medicines (table ``drug_classes``)."""

    id: str
    name: str
    variants: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition(Fact):
    """A disease, state, life stage or trait (table ``conditions``)."""

    id: str
    name: str
    synonyms: tuple[str, ...]
    kind: str
    species: tuple[str, ...]
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Interaction(Fact):
    """One recorded pair and topic (table ``interactions``)."""

    id: str
    kind: str
    a_kind: str
    a_id: str
    b_kind: str
    b_id: str
    topic: str
    finding: str
    direction: str | None
    effect: str
    mechanism: str | None
    level: str
    evidence: str
    evidence_species: str | None
    action: str
    species: tuple[str, ...]
    limit_or_conflict: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence(Fact):
    """The verdict on one active, with reviews and dissent (table ``evidence``)."""

    ingredient_id: str
    verdict: str
    summary: str
    review_source_ids: tuple[str, ...]
    dissent: str | None
    dissent_source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief(Fact):
    """A common belief and where it stands (table ``beliefs``)."""

    id: str
    ingredient_id: str
    statement: str
    standing: str
    summary: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Name(Fact):
    """One spelling on a label and what it means (table ``names``)."""

    name: str
    language: str
    type: str
    match_mode: str
    target_kind: str
    target_id: str | None
    false_friend_of: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit(Fact):
    """One accepted spelling of a unit (table ``units``)."""

    alias: str
    unit: str
    dimension: str
    factor: Decimal
    base_unit: str
    flag: str | None
    note: str | None
