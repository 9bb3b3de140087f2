"""What a care note is asked for one product."""

from __future__ import annotations

from decimal import Decimal as D

from service.pages.workbench.course import courses_of
from service.pages.workbench.note import note_document
from tests.pages.workbench.answers import BARE, DOG, TABLET, planned


def test_the_phases_of_the_course_the_last_one_open() -> None:
    course = courses_of(planned(TABLET))[0]
    document = note_document(DOG, TABLET, course, D(1), {"medications": ("carprofen",), "conditions": ()})
    assert document["animal"] == {"species": "dog", "weight_kg": D(34), "age_years": D(11)}
    assert document["medications"] == ["carprofen"]
    products = document["products"]
    assert isinstance(products, list)
    product = products[0]
    assert isinstance(product, dict)
    assert product["phases"] == [
        {"name": "loading", "units_per_day": D(2), "days": D(42)},
        {"name": "maintenance", "units_per_day": D(1)},
    ]
    assert "units_per_day" not in product
    assert product["facts"] == [
        {"name": "Glucosamine HCl", "amount": "1000 mg"},
        {"name": "MSM", "amount": "400 mg"},
    ]


def test_without_a_course_the_units_of_the_comparison() -> None:
    products = note_document(DOG, BARE, None, D(1), {})["products"]
    assert isinstance(products, list)
    product = products[0]
    assert isinstance(product, dict)
    assert product["units_per_day"] == 1
    assert "phases" not in product
    assert "price" not in product
