"""Short ways to ask for a screen in tests."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from service.domain.common import Animal
from service.domain.products import LabelFact, Product
from service.domain.screening import Finding, ScreenAnswer, ScreenRequest, screen
from service.reference.release import Reference


def product(
    id_: str,
    *facts: tuple[str, str],
    other: str | None = "cellulose",
    unit: str = "tablet",
    units_per_day: str | None = "1",
    serving_units: str | None = "1",
) -> Product:
    """Make a product; facts are (name, amount per serving)."""
    return Product(
        id=id_,
        unit=unit,
        serving_units=Decimal(serving_units) if serving_units else None,
        units_per_day=Decimal(units_per_day) if units_per_day else None,
        facts=tuple(LabelFact(name, amount) for name, amount in facts),
        other_ingredients=other,
    )


def ask(
    reference: Reference,
    text: str | None = None,
    *products: Product,
    species: str = "dog",
    kg: str | None = "10",
    age_years: str | None = None,
    medications: tuple[str, ...] = (),
    conditions: tuple[str, ...] = (),
    supplements: tuple[Product, ...] = (),
    traits: tuple[str, ...] = (),
) -> ScreenAnswer:
    """Screen a text and products for a dog of 10 kg unless told otherwise."""
    animal = Animal(species, Decimal(kg) if kg else None, Decimal(age_years) if age_years else None)
    return screen(reference, ScreenRequest(animal, text, products, supplements, medications, conditions, traits))


def hazards(answer: ScreenAnswer) -> dict[str, str]:
    """Levels of the exact hazard findings by hazard id."""
    return {f.subjects[0]: f.level for f in answer.findings if f.kind == "hazard" and f.match == "exact"}


def of_kind(answer: ScreenAnswer, kind: str) -> list[Finding]:
    """Findings of one kind, in order."""
    return [finding for finding in answer.findings if finding.kind == kind]


def with_row(reference: Reference, table: str, row: Any) -> Reference:  # noqa: ANN401 - rows of any table
    """Copy a release with one more row."""
    tables = {**reference.tables, table: (*reference.tables[table], row)}
    return replace(reference, tables=MappingProxyType(tables))
