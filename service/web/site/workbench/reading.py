"""From what was typed on the workbench to what the domain takes; what cannot be read comes back as errors of fields."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from marshmallow import ValidationError

from service.domain.common import Animal
from service.domain.errors import InvalidInput
from service.domain.labels.answer import LabelAnswer
from service.domain.labels.assembling import read_label
from service.domain.products import LabelFact, Product
from service.domain.resolving import resolver_for
from service.pages.wording import sentence_case
from service.pages.workbench.state import ProductTexts, State
from service.reference.release import Reference
from service.schemas.animal import AnimalSchema
from service.schemas.plan import PlanBodySchema
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestField
from service.web.animals import read_animal

_MOST_NAMES = 20
_MOST_TARGETS = 4
_SEPARATORS = re.compile(r"[,;\n]")
_NEEDS_A_SUBJECT = ("is ", "must ", "has ")
_LABELS = {
    "species": "Animal",
    "weight": "Body weight",
    "age_years": "Age",
    "aim": "Aim",
    "years": "Years",
    "price": "Price",
    "currency": "Currency",
    "unit_count": "Number of units",
    "divisible": "How it divides",
}
_ANIMAL, _PRODUCT, _PLAN = AnimalSchema().fields, ProductSchema().fields, PlanBodySchema().fields


@dataclass(frozen=True, slots=True)
class ReadLabel:
    """One product: its place among the fields (from 1), its label with the reading, and what the domain takes."""

    number: int
    name: str
    text: str
    label: LabelAnswer
    product: Product


@dataclass(frozen=True, slots=True)
class Reading:
    """Everything that could be read. ``errors`` holds a sentence per field, by the name of the field."""

    species: str
    animal: Animal | None
    labels: tuple[ReadLabel, ...]
    ingredients: tuple[str, ...]
    medications: tuple[str, ...]
    conditions: tuple[str, ...]
    aim: str
    years: Decimal
    errors: Mapping[str, str]


def read_state(reference: Reference, state: State) -> Reading:
    """Read everything that was typed.

    Parameters
    ----------
    reference
        The release to answer from.
    state
        As typed.

    Returns
    -------
    Reading
        With an error for each field at fault; all others are read all the same.
    """
    errors: dict[str, str] = {}
    species = state.species or "dog"
    animal = _animal(state, species, errors)
    aim = _value(_PLAN["aim"], "aim", state.aim, errors) or "low"
    years = _value(_PLAN["horizon_years"], "years", state.years, errors) or Decimal(1)
    labels = tuple(
        _label(reference, texts, number, errors)
        for number, texts in enumerate(state.products, start=1)
        if not texts.is_blank
    )
    return Reading(
        species=species if species in ("dog", "cat") else "dog",
        animal=animal,
        labels=labels,
        ingredients=_ingredients(reference, state.ingredients, errors),
        medications=_names(state.medications, "medications", errors),
        conditions=_names(state.conditions, "conditions", errors),
        aim=aim,
        years=years,
        errors=errors,
    )


def sentence(name: str, detail: str) -> str:
    """Make a sentence of what is wrong with a field."""
    subject = f"{_LABELS[name]} " if name in _LABELS and detail.startswith(_NEEDS_A_SUBJECT) else ""
    return f"{sentence_case(subject + detail).rstrip('.')}."


def _value(field: Any, name: str, text: str, errors: dict[str, str], key: str | None = None) -> Any:  # noqa: ANN401 - a field gives any type
    """Read one field; nothing typed is nothing given."""
    if not text or not isinstance(field, RequestField):
        return None
    try:
        return field.from_text(text)
    except ValidationError as error:
        errors[key or name] = sentence(name, str(error.messages[0]))
        return None


def _animal(state: State, species: str, errors: dict[str, str]) -> Animal | None:
    chosen = _value(_ANIMAL["species"], "species", species, errors)
    weight = _value(_ANIMAL["weight"], "weight", state.weight, errors)
    age_years = _value(_ANIMAL["age_years"], "age_years", state.age_years, errors)
    if not state.weight:
        errors["weight"] = "Give the body weight with its unit, for example 34 kg or 75 lb."
    if chosen is None or weight is None:
        return None
    try:
        return read_animal({"species": chosen, "weight": weight, "age_years": age_years})
    except InvalidInput as error:
        errors.update({issue.where: sentence(issue.where, issue.detail) for issue in error.issues})
        return None


def _names(text: str, name: str, errors: dict[str, str]) -> tuple[str, ...]:
    found = tuple(part.strip() for part in _SEPARATORS.split(text) if part.strip())
    if len(found) > _MOST_NAMES or any(len(part) > 100 for part in found):
        errors[name] = f"Give at most {_MOST_NAMES} names of at most 100 characters, separated by commas."
        return ()
    return found


def _ingredients(reference: Reference, text: str, errors: dict[str, str]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for name in _names(text, "ingredients", errors):
        id_ = name if name in reference.ingredients else _resolved(reference, name)
        if id_ is None:
            errors["ingredients"] = f"\u201c{name}\u201d is not known for sure; write it as the label does."
            return ()
        found[id_] = None
    if len(found) > _MOST_TARGETS:
        errors["ingredients"] = f"Name at most {_MOST_TARGETS} ingredients to compare by."
        return ()
    return tuple(found)


def _resolved(reference: Reference, name: str) -> str | None:
    found = resolver_for(reference).resolve(name)
    return found.ingredient if found.match == "exact" and not found.negated else None


def _label(reference: Reference, texts: ProductTexts, number: int, errors: dict[str, str]) -> ReadLabel:
    values = {
        name: _value(_PRODUCT[name], name, getattr(texts, name), errors, f"p{number}_{name}")
        for name in ("price", "currency", "unit_count", "divisible")
    }
    if (values["price"] is None) != (values["currency"] is None):
        missing = "currency" if values["currency"] is None else "price"
        if f"p{number}_{missing}" not in errors:
            errors[f"p{number}_{missing}"] = "Give price and currency together."
        values["price"] = values["currency"] = None
    label = read_label(reference, texts.label, None, values["price"], values["currency"])
    if not texts.label:
        errors[f"p{number}_label"] = "Paste what is printed on the label."
    name = texts.name or f"Product {number}"
    return ReadLabel(number, name, texts.label, label, _product(label, name, number, values))


def _product(label: LabelAnswer, name: str, number: int, values: Mapping[str, Any]) -> Product:
    read = label.product
    return Product(
        id=f"p{number}",
        name=name[:200],
        unit=read.unit,
        unit_count=values["unit_count"] or read.unit_count,
        price=read.price,
        currency=read.currency,
        serving_units=read.serving.units if read.serving else None,
        serving_mass_g=read.serving.mass_g if read.serving else None,
        unit_mass_g=read.unit_mass_g,
        unit_energy_kcal=read.unit_energy_kcal,
        divisible=values["divisible"] or "whole",
        facts=tuple(LabelFact(fact.name, fact.amount) for fact in read.facts),
        other_ingredients=read.other_ingredients,
        locale=read.locale,
    )


def field_of(where: str) -> str:
    """Name the field that a fault of the domain belongs to: ``products/0/facts/1/amount`` is the first label."""
    parts = where.split("/")
    if parts[0] in ("products", "product") and len(parts) > 1 and parts[1].isdigit():
        known = parts[2] if len(parts) > 2 and parts[2] in _PRODUCT_FIELDS else "label"
        return f"p{int(parts[1]) + 1}_{known}"
    return {"animal": parts[-1], "targets": "ingredients", "ingredient": "ingredients", "products": "p1_currency"}.get(
        parts[0], parts[0]
    )


_PRODUCT_FIELDS = ("price", "currency", "unit_count", "divisible")


def faults(errors: Iterable[InvalidInput]) -> dict[str, str]:
    """Give a sentence per field for what the domain refused."""
    return {
        field_of(issue.where): sentence(field_of(issue.where), issue.detail)
        for error in errors
        for issue in error.issues
    }
