"""From label facts and a price to amounts per unit and what a milligram of active substance costs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from service.domain.amounts import LabelAmount, bound_in_name, read_amount, restatement_disagrees
from service.domain.common import Caution, origin_cautions
from service.domain.fact_names import FactReading, read_fact_name, with_stated_content
from service.domain.label_mass import NO_MASS, MassReading, mass_reading, restated_mg
from service.domain.products import LabelFact, Product
from service.domain.resolving import ListItem, Resolution, resolver_for
from service.domain.rounding import amount, amount_range, money_per_day, money_rate
from service.reference.release import Reference

_MOST_NAMES_KEPT = 2048
_LONGEST_NAME_KEPT = 200
_FLAG_WORDS = {
    "form_not_stated": "The label does not say which chemical form it means: low and high readings are given.",
    "stabiliser_not_stated": "A sulfate without its stabiliser named: low and high readings are given.",
    "salt_or_base_ambiguous": "It is open whether the number counts the salt or the base: both readings are given.",
    "amount_hidden_in_blend": "A blend hides the amounts of its members: none is credited.",
    "unit_suspicious": "A unit on the label is easily misread; check it against the pack.",
}


@dataclass(frozen=True, slots=True)
class NormalisedFact:
    """One label fact per unit; amounts in mg, costs in the product's currency."""

    name: str
    amount: str | None
    ingredient: str | None
    form: str | None
    basis: str | None
    bound: str | None
    mg_per_unit: Decimal | None
    mg_low_per_unit: Decimal | None
    mg_high_per_unit: Decimal | None
    moiety: str | None
    moiety_mg_per_unit: Decimal | None
    moiety_low_mg_per_unit: Decimal | None
    moiety_high_mg_per_unit: Decimal | None
    cost_per_mg: Decimal | None
    cost_per_g: Decimal | None
    moiety_cost_per_mg: Decimal | None
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LabelHazard:
    """A substance on the label that can harm a dog or a cat."""

    hazard: str
    name: str
    subject: str
    where: str
    match: str
    trace: bool
    kind_dog: str
    kind_cat: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LabelItem:
    """One item of the other ingredients and what it means."""

    text: str
    match: str
    ingredient: str | None
    form: str | None
    hazard: str | None
    negated: bool
    trace: bool


@dataclass(frozen=True, slots=True)
class NormaliseAnswer:
    """A product per unit; field names are the wire names of ``POST /v1/normalise``."""

    product_id: str
    name: str | None
    unit: str
    unit_count: Decimal | None
    divisible: str
    currency: str | None
    cost_per_unit: Decimal | None
    facts: tuple[NormalisedFact, ...]
    other_ingredients: tuple[LabelItem, ...]
    label_flags: tuple[str, ...]
    hazards: tuple[LabelHazard, ...]
    statements: tuple[str, ...]
    unrecognised: tuple[str, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadFact:
    """A fact read but not rounded: what other parts of the domain compute with. Amounts in mg per unit."""

    fact: LabelFact
    reading: FactReading
    amount: LabelAmount | None
    mass: MassReading

    @property
    def bound(self) -> str | None:
        """``min``, ``max`` or ``less_than`` where the label gives a bound instead of an amount."""
        return self.amount.bound if self.amount else None

    @property
    def flags(self) -> tuple[str, ...]:
        """Everything that a reader of this line should know, each once."""
        printed = self.amount.flags if self.amount else ("amount_not_stated",)
        return tuple(dict.fromkeys((*self.reading.flags, *printed, *self.mass.flags, *self._restated)))

    @property
    def _restated(self) -> tuple[str, ...]:
        """Say whether a second figure for the same amount agrees with the first."""
        second = restated_mg(self.reading, self.amount) if self.amount else None
        if second is None or self.mass.printed_mg is None:
            return ()
        disagrees = restatement_disagrees(self.mass.printed_mg, second)
        return ("label_inconsistent",) if disagrees else ("restated_amount",)


@lru_cache(maxsize=_MOST_NAMES_KEPT)
def _kept_name(reference: Reference, name: str) -> FactReading:
    return read_fact_name(reference, name)


def _read_name(reference: Reference, name: str) -> FactReading:
    """Read a name, or remember it: a comparison reads each label twice, and many labels print the same names."""
    return _kept_name(reference, name) if len(name) <= _LONGEST_NAME_KEPT else read_fact_name(reference, name)


def cost_per_unit(product: Product) -> Decimal | None:
    """Exact price of one unit, ``None`` where price or count is missing.

    Parameters
    ----------
    product
        The product with its price and its number of units.

    Returns
    -------
    Decimal or None
        In the product's currency, not rounded.
    """
    if product.price is None or not product.unit_count:
        return None
    return product.price / product.unit_count


def read_facts(reference: Reference, product: Product, where: str = "product") -> tuple[ReadFact, ...]:
    """Read every fact of a product, unrounded.

    Parameters
    ----------
    reference
        The release to answer from.
    product
        Facts are per serving.
    where
        Path of the product in the input, for errors.

    Returns
    -------
    tuple of ReadFact
        In printed order.

    Raises
    ------
    InvalidInput
        If an amount cannot be read.
    """
    found = []
    for index, fact in enumerate(product.facts):
        name, bound = bound_in_name(fact.name)
        reading = _read_name(reference, name)
        if fact.amount is None:
            found.append(ReadFact(fact, reading, None, NO_MASS))
            continue
        label_amount = read_amount(reference, fact.amount, f"{where}/facts/{index}/amount", product.locale)
        label_amount = replace(label_amount, bound=label_amount.bound or bound)
        if label_amount.aside:
            reading = with_stated_content(reference, reading, label_amount.aside)
            if reading.stated_mg is not None:
                flags = tuple(flag for flag in label_amount.flags if flag != "aside_not_counted")
                label_amount = replace(label_amount, flags=flags)
        mass = mass_reading(reference, fact.name, reading, label_amount, product)
        found.append(ReadFact(fact, reading, label_amount, mass))
    return tuple(found)


def normalise(reference: Reference, product: Product, where: str = "product") -> NormaliseAnswer:
    """Give amounts and costs per unit of one product.

    Parameters
    ----------
    reference
        The release to answer from.
    product
        Label facts, pack and price.
    where
        Path of the product in the input, for errors.

    Returns
    -------
    NormaliseAnswer
        Amounts in mg per unit, costs in the product's currency.

    Raises
    ------
    InvalidInput
        If an amount cannot be read.
    """
    read = read_facts(reference, product, where)
    unit_cost = cost_per_unit(product)
    items = resolver_for(reference).resolve_list(product.other_ingredients) if product.other_ingredients else ()
    facts = tuple(_normalised(fact, unit_cost) for fact in read)
    flags = dict.fromkeys(flag for fact in facts for flag in fact.flags)
    if product.serving_units is None and product.facts:
        flags["serving_not_stated"] = None
    # A blend is understood by its members; its own name ("joint blend") says nothing.
    resolutions = [
        (fact.fact.name, "facts", resolution)
        for fact in read
        for resolution in fact.reading.members or (fact.reading.resolution,)
    ]
    resolutions += [(item.text, "other_ingredients", item.resolution) for item in items]
    hazards = label_hazards(reference, resolutions)
    return NormaliseAnswer(
        product_id=product.id,
        name=product.name,
        unit=product.unit,
        unit_count=product.unit_count,
        divisible=product.divisible,
        currency=product.currency,
        cost_per_unit=money_per_day(unit_cost) if unit_cost is not None else None,
        facts=facts,
        other_ingredients=tuple(_label_item(item) for item in items),
        label_flags=tuple(flags),
        hazards=hazards,
        statements=tuple(text for text, _, resolution in resolutions if resolution.negated),
        unrecognised=unrecognised_texts(resolutions),
        cautions=_cautions(flags, resolutions, hazards),
        source_ids=_sources(reference, read, hazards),
    )


def unrecognised_texts(resolutions: list[tuple[str, str, Resolution]]) -> tuple[str, ...]:
    """Texts in which something was not understood, once each, in order.

    Parameters
    ----------
    resolutions
        Printed text, where it stands, and what it means.

    Returns
    -------
    tuple of str
        As printed.
    """
    return tuple(dict.fromkeys(text for text, _, found in resolutions if is_unrecognised(found)))


def is_unrecognised(resolution: Resolution) -> bool:
    """Say whether a name was not understood, wholly or in part.

    Parameters
    ----------
    resolution
        What a name means.

    Returns
    -------
    bool
        ``False`` for what the label says is not in it.
    """
    if resolution.negated:
        return False
    return resolution.match != "exact" or bool(resolution.not_understood)


def _normalised(fact: ReadFact, unit_cost: Decimal | None) -> NormalisedFact:
    mass, reading = fact.mass, fact.reading
    mg_low, mg_high = _rounded(mass.mg_low, mass.mg_high)
    moiety_low, moiety_high = _rounded(mass.moiety_low_mg, mass.moiety_high_mg)
    settled = moiety_low is not None and moiety_low == moiety_high
    return NormalisedFact(
        name=fact.fact.name,
        amount=fact.fact.amount,
        ingredient=reading.ingredient,
        form=reading.form.id if reading.form else None,
        basis=reading.basis,
        bound=fact.bound,
        mg_per_unit=mg_low if mg_low == mg_high else None,
        mg_low_per_unit=mg_low,
        mg_high_per_unit=mg_high,
        moiety=reading.moiety,
        moiety_mg_per_unit=moiety_low if settled else None,
        moiety_low_mg_per_unit=moiety_low,
        moiety_high_mg_per_unit=moiety_high,
        cost_per_mg=_rate(unit_cost, mass.mg_low),
        cost_per_g=_rate(unit_cost, mass.mg_low, Decimal(1000)),
        moiety_cost_per_mg=_rate(unit_cost, mass.moiety_low_mg),
        flags=fact.flags,
    )


def _rounded(low: Decimal | None, high: Decimal | None) -> tuple[Decimal | None, Decimal | None]:
    if low is None or high is None:
        return None, None
    return (amount(low), amount(high)) if low == high else amount_range(low, high)


def _rate(unit_cost: Decimal | None, mg: Decimal | None, per_mg: Decimal = Decimal(1)) -> Decimal | None:
    return money_rate(unit_cost * per_mg / mg) if unit_cost is not None and mg else None


def _label_item(item: ListItem) -> LabelItem:
    found = item.resolution
    return LabelItem(item.text, found.match, found.ingredient, found.form, found.hazard, found.negated, found.trace)


def label_hazards(reference: Reference, resolutions: list[tuple[str, str, Resolution]]) -> tuple[LabelHazard, ...]:
    """Give the hazards that texts of a label name, or that they may misspell.

    Parameters
    ----------
    reference
        The release to answer from.
    resolutions
        Printed text, where it stands, and what it means.

    Returns
    -------
    tuple of LabelHazard
        One for each hazard and text; what the label says is absent is left out.
    """
    found: dict[tuple[str, str], LabelHazard] = {}
    for text, where, resolution in resolutions:
        for meaning in resolution.meanings:
            if meaning.hazard and not meaning.negated:
                entry = _label_hazard(reference, meaning.hazard, text, where, "exact", meaning.trace)
                found.setdefault((meaning.hazard, text), entry)
        for miss in resolution.possible:
            if miss.hazard and not resolution.negated:
                entry = _label_hazard(reference, miss.hazard, text, where, "possible", False)
                found.setdefault((miss.hazard, text), entry)
    return tuple(found.values())


def _label_hazard(reference: Reference, hazard_id: str, text: str, where: str, match: str, trace: bool) -> LabelHazard:
    row = reference.hazards[hazard_id]
    return LabelHazard(row.id, row.name, text, where, match, trace, row.kind_dog, row.kind_cat, row.source_ids)


def _cautions(
    flags: dict[str, None], resolutions: list[tuple[str, str, Resolution]], hazards: tuple[LabelHazard, ...]
) -> tuple[Caution, ...]:
    found = [Caution(flag, "caution", text) for flag, text in _FLAG_WORDS.items() if flag in flags]
    if hazards:
        found.append(
            Caution(
                "hazards_on_label", "warning", "The label names substances that can harm; screen it for this animal."
            )
        )
    recalled = any(caution.code == "from_memory" for _, _, resolution in resolutions for caution in resolution.cautions)
    return (
        *found,
        *(
            replace(caution, text="Some names were matched by recalled spellings.")
            for caution in origin_cautions({"memory"} if recalled else set())
        ),
    )


def _sources(reference: Reference, read: tuple[ReadFact, ...], hazards: tuple[LabelHazard, ...]) -> tuple[str, ...]:
    ids = [id_ for fact in read if fact.reading.form for id_ in fact.reading.form.source_ids]
    ids += [id_ for fact in read if fact.amount for id_ in fact.amount.unit.source_ids]
    ids += [id_ for hazard in hazards for id_ in hazard.source_ids]
    return tuple(dict.fromkeys(ids))
