"""What one unit of a product holds of one ingredient, and whether it holds more than could be counted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from service.domain.compare_answer import TargetRange
from service.domain.normalising import ReadFact
from service.domain.products import Product
from service.domain.resolving import Meaning, Resolution, resolver_for
from service.domain.targets import mg_in_unit
from service.reference.release import Reference

_AT_LEAST = "min"


@dataclass(frozen=True, slots=True)
class Label:
    """A product with its facts, read; ids of what is in its blends and on its list of ingredients.

    ``forms`` are pairs of an ingredient and the id of a form that any of its texts names.
    """

    product: Product
    facts: tuple[ReadFact, ...]
    in_blends: frozenset[str]
    in_list: frozenset[str]
    forms: frozenset[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Held:
    """mg of one ingredient in a unit; ``None`` where the label gives none. ``at_least``: more is in it."""

    low_mg: Decimal | None
    high_mg: Decimal | None
    at_least: bool


def label_of(reference: Reference, product: Product, facts: tuple[ReadFact, ...], where: str) -> Label:
    """Gather what a label names without an amount: members of blends and items of its list of ingredients.

    Parameters
    ----------
    reference
        The release to answer from.
    product, facts
        The product and its facts, read.
    where
        Path of the product in the input, for errors.

    Returns
    -------
    Label
        Traces and denials are left out.

    Raises
    ------
    InvalidInput
        If the list of ingredients is too long to be read.
    """
    listed = product.other_ingredients or ""
    place = f"{where}/other_ingredients"
    items = resolver_for(reference).resolve_list(listed, place) if listed.strip() else ()
    members = [meaning for fact in facts for member in fact.reading.members for meaning in _present(member)]
    listed_ones = [meaning for item in items for meaning in _present(item.resolution)]
    lines = {(fact.reading.ingredient, fact.reading.form.id) for fact in facts if fact.reading.form is not None}
    named = lines | {(meaning.ingredient, meaning.form) for meaning in (*members, *listed_ones)}
    return Label(
        product,
        facts,
        in_blends=_ids(members),
        in_list=_ids(listed_ones),
        forms=frozenset((id_, form) for id_, form in named if id_ is not None and form is not None),
    )


def _present(resolution: Resolution) -> list[Meaning]:
    return [meaning for meaning in resolution.meanings if not meaning.negated and not meaning.trace]


def _ids(meanings: Iterable[Meaning]) -> frozenset[str]:
    return frozenset(meaning.ingredient for meaning in meanings if meaning.ingredient is not None)


def is_of_other_material(reference: Reference, label: Label, ingredient: str, form: str) -> bool:
    """Say whether a label names an ingredient only in forms that another form tells nothing about.

    Parameters
    ----------
    reference
        The release to answer from.
    label
        The label.
    ingredient
        Id of the ingredient.
    form
        Id of the form that guidance speaks of.

    Returns
    -------
    bool
        ``True`` for turmeric powder beside amounts of a turmeric extract: they share no moiety.
    """
    moieties = {reference.forms[other].moiety for id_, other in label.forms if id_ == ingredient}
    return bool(moieties) and reference.forms[form].moiety not in moieties


def ingredients_of(reference: Reference, label: Label) -> tuple[str, ...]:
    """List the ingredients that a note speaks of: every line with a name that is known, and actives named elsewhere.

    Parameters
    ----------
    reference
        The release to answer from.
    label
        The label.

    Returns
    -------
    tuple of str
        Ids, in printed order. Fish oil on the list of a product that states its EPA and DHA is no second thing.
    """
    lines = [fact.reading.ingredient for fact in label.facts if not fact.reading.members]
    stated = [id_ for id_ in lines if id_ is not None]
    beside = [
        id_
        for id_ in sorted(label.in_blends | label.in_list)
        if reference.ingredients[id_].kind == "active"
        and not (set(reference.ingredients[id_].screened_as_ids) & {*stated})
    ]
    return tuple(dict.fromkeys((*stated, *beside)))


def held_in_unit(reference: Reference, label: Label, ingredient: str, form: str | None) -> Held:
    """Count what one unit holds of an ingredient.

    Parameters
    ----------
    reference
        The release to answer from.
    label
        The label.
    ingredient
        Id of the ingredient.
    form
        Id of the form to count in; ``None``: the moiety, or the mass of the material where it has none.

    Returns
    -------
    Held
        Low and high reading.
    """
    own = [fact for fact in label.facts if fact.reading.ingredient == ingredient and not fact.reading.members]
    weighed = [fact.mass for fact in own if fact.mass.mg_low is not None or fact.mass.moiety_low_mg is not None]
    zero = Decimal(0)
    low, high = mg_in_unit(reference, label.facts, TargetRange(ingredient, form, "", zero, zero, zero, "caller", ()))
    if not high and form is None:
        low = sum((mass.mg_low or zero for mass in weighed), zero)
        high = sum((mass.mg_high or zero for mass in weighed), zero)
    # A list of ingredients often repeats what the panel states; a blend holds something beside it.
    listed_only = ingredient in label.in_list and not own
    unweighed = len(weighed) < len(own) or any(fact.bound == _AT_LEAST for fact in own)
    at_least = ingredient in label.in_blends or listed_only or unweighed
    return Held(low, high, at_least) if high else Held(None, None, at_least)
