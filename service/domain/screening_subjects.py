"""From texts and products to what is screened: substances, medicines, conditions, and what was not understood."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.common import Animal
from service.domain.normalising import ReadFact, read_facts
from service.domain.products import Product
from service.domain.resolving import Meaning, Resolution, resolver_for
from service.domain.screening_answers import Recognised, ScreenRequest, Statement, TakenAs, Unrecognised
from service.domain.screening_carried import carried_by
from service.domain.screening_condition_names import GROWTH, read_conditions, without_cleared
from service.domain.screening_medicine_names import read_medicines
from service.domain.screening_names import CONDITIONS, TRAITS, NamesRead, together
from service.reference.release import Reference

TEXT = "ingredients_text"
_GROWN_UP_AGE_YEARS = Decimal(1)
# A list that names its sweetener has answered the question that a bare "sweetener" raises.
_UNNAMED_SWEETENER = "unspecified-sweetener"
_SWEETENER_GROUP = "sweetener"


@dataclass(frozen=True, slots=True)
class Mention:
    """One substance at one place.

    ``item`` numbers the texts of the place, ``fact`` the lines of its facts panel (``None`` in an ingredient list).
    ``name`` is the known spelling: two mentions with one spelling are one material, as cod liver oil is vitamin D too.
    ``carried``: not named itself but part of a named compound, as the potassium of glucosamine sulfate 2KCl.
    """

    text: str
    where: str
    item: int
    name: str
    fact: int | None
    ingredient: str
    form: str | None
    hazard: str | None
    trace: bool
    carried: bool = False


@dataclass(frozen=True, slots=True)
class PossibleHazard:
    """A text that comes close to the spelling of a hazard."""

    text: str
    where: str
    hazard: str
    known_name: str


@dataclass(frozen=True, slots=True)
class ReadLabel:
    """A product with its place in the answer and its facts, read but not rounded."""

    place: str
    product: Product
    facts: tuple[ReadFact, ...]


@dataclass(frozen=True, slots=True)
class Subjects:
    """All that a request names. ``implied_conditions`` follow from the animal and were not named."""

    mentions: tuple[Mention, ...]
    medications: tuple[str, ...]
    drug_classes: tuple[str, ...]
    conditions: tuple[str, ...]
    implied_conditions: tuple[str, ...]
    possible: tuple[PossibleHazard, ...]
    labels: tuple[ReadLabel, ...]
    recognised: tuple[Recognised, ...]
    unrecognised: tuple[Unrecognised, ...]
    statements: tuple[Statement, ...]
    taken_as: tuple[TakenAs, ...]


@dataclass(frozen=True, slots=True)
class _Named:
    """One printed text with what the resolver made of it."""

    text: str
    where: str
    item: int
    fact: int | None
    resolution: Resolution


def read_labels(reference: Reference, request: ScreenRequest) -> tuple[ReadLabel, ...]:
    """Read the facts of all products and other supplements.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        What the caller sent.

    Returns
    -------
    tuple of ReadLabel
        Placed at ``product:<id>`` and ``supplement:<id>``.

    Raises
    ------
    InvalidInput
        If an amount cannot be read; names the path of the fact.
    """
    groups = (("product", "products", request.products), ("supplement", "other_supplements", request.other_supplements))
    return tuple(
        ReadLabel(f"{role}:{product.id}", product, read_facts(reference, product, f"{path}/{number}"))
        for role, path, products in groups
        for number, product in enumerate(products)
    )


def read_subjects(reference: Reference, request: ScreenRequest) -> Subjects:
    """Resolve every text of a request.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        What the caller sent.

    Returns
    -------
    Subjects
        A negated name ("no xylitol") becomes a statement, a near miss of a hazard a possible one, and everything
        unknown is listed. A cat implies the trait ``species-cat``, an age under one year the condition ``growth``.

    Raises
    ------
    InvalidInput
        If an amount on a label cannot be read.
    """
    labels = read_labels(reference, request)
    named = tuple(_named(reference, request, labels))
    mentioned = [mention for one in named for mention in _mentions(reference, one)]
    mentions = _without_answered_sweetener(reference, mentioned)
    read = _read_names(reference, request)
    read = without_cleared(read)
    implied = _implied_conditions(reference, request.animal)
    stated = _ids(read.recognised, "condition")
    return Subjects(
        mentions=tuple(mentions),
        medications=_ids(read.recognised, "medication"),
        drug_classes=_ids(read.recognised, "drug_class"),
        conditions=stated,
        implied_conditions=tuple(one.id for one in implied if one.id not in stated),
        possible=tuple(
            PossibleHazard(one.text, one.where, miss.hazard, miss.name)
            for one in named
            for miss in one.resolution.possible
            if miss.hazard is not None
        ),
        labels=labels,
        recognised=(
            *(found for one in named for found in _recognised(reference, one)),
            *read.recognised,
            *(Recognised(one.text, one.where, "condition", one.id) for one in implied),
        ),
        unrecognised=(
            *(text for one in named for text in _unrecognised(one)),
            *_empty_labels(labels),
            *read.unrecognised,
        ),
        statements=(*(said for one in named if (said := _statement(one)) is not None), *read.statements),
        taken_as=(*read.taken_as, *implied),
    )


def _read_names(reference: Reference, request: ScreenRequest) -> NamesRead:
    """Read medicines, conditions and traits, in this order."""
    species = request.animal.species
    return together(
        (
            *(read_medicines(reference, text) for text in request.medications),
            *(read_conditions(reference, text, species, CONDITIONS) for text in request.conditions),
            *(read_conditions(reference, text, species, TRAITS) for text in request.traits),
        )
    )


def _named(reference: Reference, request: ScreenRequest, labels: tuple[ReadLabel, ...]) -> Iterable[_Named]:
    resolver = resolver_for(reference)
    for number, item in enumerate(resolver.resolve_list(request.ingredients_text or "")):
        yield _Named(item.text, TEXT, number, None, item.resolution)
    for label in labels:
        panel = [
            (resolution.name, number, resolution)
            for number, read in enumerate(label.facts)
            for resolution in read.reading.members or (read.reading.resolution,)
        ]
        rest = resolver.resolve_list(label.product.other_ingredients or "")
        below = [(item.text, None, item.resolution) for item in rest]
        for number, (text, fact, resolution) in enumerate((*panel, *below)):
            yield _Named(text, label.place, number, fact, resolution)


def _mentions(reference: Reference, one: _Named) -> Iterable[Mention]:
    for meaning in one.resolution.meanings:
        if meaning.ingredient is not None and not meaning.negated:
            found = Mention(
                text=one.text,
                where=one.where,
                item=one.item,
                name=meaning.matched_name.casefold(),
                fact=one.fact,
                ingredient=meaning.ingredient,
                form=meaning.form,
                hazard=meaning.hazard or _hazard_brought(reference, meaning.ingredient),
                trace=meaning.trace,
            )
            yield found
            yield from _carried_mentions(reference, found)


def _carried_mentions(reference: Reference, mention: Mention) -> Iterable[Mention]:
    for carried in carried_by(reference, mention.form):
        own = next((hazard.id for hazard in reference.hazards_of.get(carried.ingredient, ())), None)
        hazard = own or _hazard_brought(reference, carried.ingredient)
        yield replace(mention, ingredient=carried.ingredient, form=carried.expression.id, hazard=hazard, carried=True)


def _hazard_brought(reference: Reference, ingredient: str) -> str | None:
    """Hazard of what an ingredient is screened as: kelp brings iodine."""
    for screened_as in reference.ingredients[ingredient].screened_as_ids:
        for hazard in reference.hazards_of.get(screened_as, ()):
            return hazard.id
    return None


def _without_answered_sweetener(reference: Reference, mentions: list[Mention]) -> list[Mention]:
    answered = {
        mention.where
        for mention in mentions
        if mention.hazard is not None
        and not mention.trace
        and reference.hazards[mention.hazard].group == _SWEETENER_GROUP
    }
    return [mention for mention in mentions if mention.hazard != _UNNAMED_SWEETENER or mention.where not in answered]


def _recognised(reference: Reference, one: _Named) -> Iterable[Recognised]:
    found = one.resolution
    present = [meaning for meaning in found.meanings if not meaning.negated]
    for meaning in present:
        kind = _kind(reference, meaning)
        yield Recognised(one.text, one.where, kind, meaning.ingredient, meaning.form, meaning.hazard, meaning.trace)
        for carried in carried_by(reference, meaning.form):
            form = carried.expression.id
            yield Recognised(one.text, one.where, "ingredient", carried.ingredient, form, None, meaning.trace)
    if found.match == "exact" and not found.meanings:
        yield Recognised(one.text, one.where, "other", None)


def _kind(reference: Reference, meaning: Meaning) -> str:
    ingredient = reference.ingredients.get(meaning.ingredient or "")
    return "hazard" if ingredient is not None and ingredient.kind == "hazard" else "ingredient"


def _unrecognised(one: _Named) -> Iterable[Unrecognised]:
    found = one.resolution
    if found.negated and not found.possible and not found.not_understood:
        return
    if found.match != "exact" or found.not_understood or found.possible:
        yield Unrecognised(one.text, one.where, found.nearest)


def _empty_labels(labels: tuple[ReadLabel, ...]) -> Iterable[Unrecognised]:
    """List products that state nothing: not screened must not look like nothing found."""
    for label in labels:
        if not label.facts and not (label.product.other_ingredients or "").strip():
            yield Unrecognised(label.product.name or label.product.id, label.place, ())


def _statement(one: _Named) -> Statement | None:
    negated = [meaning for meaning in one.resolution.meanings if meaning.negated]
    ids = dict.fromkeys(meaning.hazard or meaning.ingredient or meaning.matched_name for meaning in negated)
    return Statement(one.text, one.where, tuple(ids)) if ids else None


def _implied_conditions(reference: Reference, animal: Animal) -> list[TakenAs]:
    implied = []
    if animal.species == "cat":
        implied.append(("species: cat", "species-cat"))
    if animal.age_years is not None and animal.age_years < _GROWN_UP_AGE_YEARS:
        implied.append(("age under one year", GROWTH))
    rows = ((text, reference.conditions.get(id_)) for text, id_ in implied)
    return [
        TakenAs(text, "animal", row.kind, row.id, row.name, "animal", row.note) for text, row in rows if row is not None
    ]


def _ids(found: Iterable[Recognised], kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.id for one in found if one.kind == kind and one.id is not None))
