"""Answers on invented products for the tests of what the workbench shows: a dog of 34 kg, tablets of 500 mg."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

from service.domain.common import Animal
from service.domain.compare_answer import CompareAnswer
from service.domain.comparing import CompareRequest, compare
from service.domain.course.answer import PlanAnswer
from service.domain.course.planning import plan
from service.domain.course.request import Pack, PlanRequest
from service.domain.products import LabelFact, Product
from service.domain.targets import Target
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
DOG = Animal("dog", D(34), D(11))
TABLET = Product(
    id="p1",
    name="Tablet",
    unit="tablet",
    unit_count=D(120),
    price=D("14.40"),
    currency="USD",
    serving_units=D(2),
    divisible="halves",
    facts=(LabelFact("Glucosamine HCl", "1000 mg"), LabelFact("MSM", "400 mg")),
    other_ingredients="cellulose",
)
SMALL = replace(TABLET, id="p2", name="Small pack", unit_count=D(30), price=D(6))
OPEN_FORM = replace(TABLET, id="p3", name="Open form", facts=(LabelFact("Glucosamine", "1000 mg"),))
SWEET = replace(TABLET, id="p4", name="Sweet", other_ingredients="xylitol")
BARE = replace(TABLET, id="p5", name="Bare", price=None, currency=None)
OTHER = replace(TABLET, id="p6", name="Other", facts=(LabelFact("MSM", "400 mg"),))


def compared(*products: Product) -> CompareAnswer:
    """Compare products by glucosamine."""
    return compare(REFERENCE, CompareRequest(DOG, (Target("glucosamine"),), products))


def planned(*products: Product) -> PlanAnswer:
    """Plan a year of each product."""
    packs = tuple(Pack(product, f"products/{index}") for index, product in enumerate(products))
    return plan(REFERENCE, PlanRequest(DOG, packs))
