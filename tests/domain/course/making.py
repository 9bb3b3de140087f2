"""Invented packs and requests for the tests of courses. Unless told otherwise a dog of 34 kg gets 500 mg a day."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

from service.domain.common import Animal
from service.domain.course.answer import PlanAnswer
from service.domain.course.planning import plan
from service.domain.course.request import Pack, PhaseWanted, PlanRequest
from service.domain.products import LabelFact, Product
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
DOG = Animal("dog", D(34), D(6))


def pack(id_: str = "p1", *, where: str = "product", **changes: object) -> Pack:
    """Make 120 tablets of 500 mg for 14.40 that divide into halves."""
    named = ("price_breaks", "opened_shelf_life_days")
    own = {name: changes.pop(name) for name in named if name in changes}
    product = Product(
        id=id_,
        unit="tablet",
        unit_count=D(120),
        price=D("14.40"),
        currency="USD",
        serving_units=D(1),
        divisible="halves",
        facts=(LabelFact("Glucosamine HCl", "500 mg"),),
        other_ingredients="cellulose",
    )
    return Pack(replace(product, **changes), where, **own)  # type: ignore[arg-type]


def units(per_day: str, days: int, **more: object) -> PhaseWanted:
    """Make a phase of so many units a day."""
    return PhaseWanted(units_per_day=D(per_day), days=days, **more)  # type: ignore[arg-type]


def planned(*packs: Pack, animal: Animal = DOG, **changes: object) -> PlanAnswer:
    """Plan a course; one invented pack unless others are given."""
    return plan(REFERENCE, PlanRequest(animal, packs or (pack(),), **changes))  # type: ignore[arg-type]
