"""What a label says; field names are the wire names of ``POST /v1/labels/read``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Caution
from service.domain.labels.findings import Direction, Statement
from service.domain.labels.sheet import Span
from service.domain.normalising import LabelHazard


@dataclass(frozen=True, slots=True)
class PerReading:
    """What an amount is for: a ``serving``, ``unit``, ``day``, ``product_mass``, ``volume`` or ``body_weight``."""

    kind: str
    count: Decimal
    unit: str | None


@dataclass(frozen=True, slots=True)
class SecondFigure:
    """Another figure beside an amount: the same amount, an equivalent, or what it was made from. Never added."""

    kind: str
    text: str
    value: Decimal | None
    unit: str | None
    mg: Decimal | None
    span: Span


@dataclass(frozen=True, slots=True)
class Fact:
    """One name with its amount. ``mg`` members are for what ``per`` says, the others for a serving and a unit.

    ``name`` and ``amount`` are as ``POST /v1/normalise`` takes them. Where the label leaves an amount open the exact
    member is ``None`` and low and high differ.
    """

    name: str
    amount: str | None
    printed: str
    ingredient: str | None
    form: str | None
    value: Decimal | None
    value_low: Decimal | None
    value_high: Decimal | None
    unit: str | None
    per: PerReading | None
    basis: str | None
    bound: str | None
    mg: Decimal | None
    mg_low: Decimal | None
    mg_high: Decimal | None
    mg_per_kg: Decimal | None
    iu_per_kg: Decimal | None
    mg_per_serving: Decimal | None
    mg_low_per_serving: Decimal | None
    mg_high_per_serving: Decimal | None
    mg_per_unit: Decimal | None
    mg_low_per_unit: Decimal | None
    mg_high_per_unit: Decimal | None
    moiety: str | None
    moiety_mg: Decimal | None
    moiety_low_mg: Decimal | None
    moiety_high_mg: Decimal | None
    moiety_low_mg_per_unit: Decimal | None
    moiety_high_mg_per_unit: Decimal | None
    share_of_parent: Decimal | None
    daily_value_percent: Decimal | None
    constituents: tuple[Fact, ...]
    second_figures: tuple[SecondFigure, ...]
    footnotes: tuple[str, ...]
    why_not: str | None
    flags: tuple[str, ...]
    span: Span
    name_span: Span
    amount_span: Span | None


@dataclass(frozen=True, slots=True)
class BlendMember:
    """One member of a blend; ``mg`` where the label discloses it, else bounds from the total and the order."""

    name: str
    ingredient: str | None
    form: str | None
    hazard: str | None
    mg: Decimal | None
    mg_low: Decimal | None
    mg_high: Decimal | None
    members: tuple[BlendMember, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Blend:
    """Several substances under one total, in mg for what ``per`` says."""

    name: str
    amount: str | None
    mg: Decimal | None
    per: PerReading | None
    bound: str | None
    members: tuple[BlendMember, ...]
    flags: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class ServingReading:
    """One serving."""

    units: Decimal | None
    unit: str | None
    mass_g: Decimal | None
    volume_ml: Decimal | None
    per_day: Decimal | None
    flags: tuple[str, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class ContainerReading:
    """The pack."""

    unit_count: Decimal | None
    unit: str | None
    servings: Decimal | None
    net_g: Decimal | None
    net_ml: Decimal | None
    packs: Decimal | None
    unit_mass_g: Decimal | None
    approximate: bool
    flags: tuple[str, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class EnergyReading:
    """Energy in kcal. ``implied_unit_mass_g`` follows from both figures and checks the mass of a unit."""

    kcal_per_kg: Decimal | None
    kcal_per_unit: Decimal | None
    kcal_per_serving: Decimal | None
    unit: str | None
    implied_unit_mass_g: Decimal | None
    flags: tuple[str, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class PriceReading:
    """The price as printed; ``minor`` counts the smallest coins of the currency."""

    amount: Decimal
    currency: str | None
    minor: int | None
    flags: tuple[str, ...]
    spans: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class OtherIngredient:
    """One item of an ingredient list and what it means."""

    text: str
    match: str
    ingredient: str | None
    form: str | None
    hazard: str | None
    negated: bool
    trace: bool
    span: Span


@dataclass(frozen=True, slots=True)
class LabelAllergen:
    """An allergen. ``stated`` where the label says so in words, else an ingredient brings it."""

    allergen: str
    text: str
    stated: bool
    may_contain: bool
    span: Span


@dataclass(frozen=True, slots=True)
class Unread:
    """Characters ``start`` to ``end`` that were not understood, and a hazard that may hide in them."""

    text: str
    start: int
    end: int
    why: str
    hazard: str | None


@dataclass(frozen=True, slots=True)
class ProductFact:
    """A fact as ``POST /v1/normalise`` takes it."""

    name: str
    amount: str | None


@dataclass(frozen=True, slots=True)
class ProductServing:
    """A serving as ``POST /v1/normalise`` takes it."""

    units: Decimal
    mass_g: Decimal | None


@dataclass(frozen=True, slots=True)
class ReadProduct:
    """The product as ``normalise``, ``compare`` and ``screen`` take it, unchanged."""

    unit: str
    unit_count: Decimal | None
    price: Decimal | None
    currency: str | None
    serving: ProductServing | None
    unit_mass_g: Decimal | None
    unit_energy_kcal: Decimal | None
    facts: tuple[ProductFact, ...]
    other_ingredients: str | None
    locale: str | None


@dataclass(frozen=True, slots=True)
class LabelAnswer:
    """Everything that a label says, and what of it was not understood."""

    locale: str | None
    species: tuple[str, ...]
    product_type: str | None
    serving: ServingReading | None
    container: ContainerReading | None
    price: PriceReading | None
    energy: EnergyReading | None
    facts: tuple[Fact, ...]
    blends: tuple[Blend, ...]
    other_ingredients: tuple[OtherIngredient, ...]
    allergens: tuple[LabelAllergen, ...]
    directions: tuple[Direction, ...]
    statements: tuple[Statement, ...]
    hazards: tuple[LabelHazard, ...]
    flags: tuple[str, ...]
    unread: tuple[Unread, ...]
    product: ReadProduct
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
