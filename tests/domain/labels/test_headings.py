"""Headings: what the lines below are, and what their amounts are for."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.laws import vanished_characters
from tests.domain.labels.reading import only_fact, plain


@pytest.mark.parametrize(
    ("heading", "kind", "count", "unit"),
    [
        ("Active ingredients per 2 chews:", "unit", 2, "chew"),
        ("Active ingredients (per 2 chews):", "unit", 2, "chew"),
        ("Guaranteed analysis per tablet:", "unit", 1, "tablet"),
        ("Each chew (4 g) contains:", "unit", 1, "chew"),
        ("1 Tablette enth\u00e4lt:", "unit", 1, "tablet"),
        ("Chaque comprim\u00e9 contient :", "unit", 1, "tablet"),
        ("Cada comprimido contiene:", "unit", 1, "tablet"),
        ("Par comprim\u00e9 :", "unit", 1, "tablet"),
        ("Por comprimido:", "unit", 1, "tablet"),
        ("Each 1,000 mg capsule provides:", "unit", 1, "capsule"),
        ("Zus\u00e4tze je kg:", "product_mass", 1, "kilogram"),
        ("Additifs nutritionnels par kg :", "product_mass", 1, "kilogram"),
        ("Aditivos por kg:", "product_mass", 1, "kilogram"),
        ("Nutritional additives per kg:", "product_mass", 1, "kilogram"),
        ("Amount per serving", "serving", 1, "serving"),
        ("Active ingredients:", "serving", 1, "serving"),
    ],
)
def test_what_amounts_below_a_heading_are_for(
    reference: Reference, heading: str, kind: str, count: int, unit: str
) -> None:
    fact = only_fact(reference, f"{heading}\nMSM 500 mg")
    assert fact.per is not None
    assert (fact.per.kind, fact.per.count, fact.per.unit) == (kind, Decimal(count), unit)


def test_the_size_of_a_unit_stands_in_the_bracket(reference: Reference) -> None:
    answer = read_label(reference, "Each chew (4 g) contains:\nVitamin E 5000 mg/kg")
    assert answer.container is not None
    assert answer.container.unit_mass_g == 4
    # 5,000 mg in 1,000 g are 20 mg in 4 g.
    assert answer.facts[0].mg_per_unit == 20


def test_additives_without_a_weight_are_per_kilogram_and_say_so(reference: Reference) -> None:
    # Regulation (EC) 767/2009 has amounts of additives per kilogram (source chem-s38).
    answer = read_label(reference, "Additives:\nVitamin E 500 mg")
    assert answer.facts[0].per is not None
    assert (answer.facts[0].per.kind, answer.facts[0].per.unit) == ("product_mass", "kilogram")
    assert "per_kilogram_assumed" in answer.flags


def test_a_serving_told_only_by_a_heading_is_flagged(reference: Reference) -> None:
    answer = read_label(reference, "Amount per 2 chews\nMSM 500 mg")
    assert answer.serving is not None
    assert plain((answer.serving.units, answer.serving.unit)) == (2, "chew")
    assert "serving_from_heading" in answer.serving.flags
    assert answer.facts[0].mg_per_unit == 250


@pytest.mark.parametrize(
    "text",
    [
        "Directions: 1 chew daily", "Ingredients: MSM", "Contains: xylitol", "Active ingredients: MSM 500 mg",
        "Analytical constituents: moisture 8 %", "Zus\u00e4tze je kg: Vitamin E 500 mg", "Feeding guide: weight",
        "Technological additives: antioxidants", "Other ingredients: cellulose", "Warning: not for cats",
    ],
)  # fmt: skip
def test_the_words_of_a_heading_do_not_vanish(reference: Reference, text: str) -> None:
    assert vanished_characters(text, read_label(reference, text)) == []


@pytest.mark.parametrize(
    "text",
    [
        "Each chew 500 mg MSM", "Each chew: 500 mg MSM", "Each chew:\nMSM 500 mg", "Per chew MSM 500 mg",
        "Amount per chew  % DV  MSM 500 mg", "Supplement Facts  Amount per chew  MSM 500 mg",
    ],
)  # fmt: skip
def test_headings_without_verb_or_colon(reference: Reference, text: str) -> None:
    fact = only_fact(reference, text)
    assert fact.per is not None
    assert plain((fact.name, fact.mg_per_unit, fact.per.unit)) == ("MSM", 500, "chew")


def test_a_panel_in_one_line(reference: Reference) -> None:
    text = (
        "Supplement Facts  Serving Size 2 Capsules  Servings Per Container 60  Amount Per Serving  %DV  MSM 500 mg *  "
        "* Daily Value not established.  Other ingredients: gelatin, xylitol  Directions: 2 capsules daily  $19.99"
    )
    answer = read_label(reference, text)
    assert plain([(fact.name, fact.mg_per_unit) for fact in answer.facts]) == [("MSM", 250)]
    assert plain((answer.product.unit_count, answer.product.price)) == (120, Decimal("19.99"))
    assert [one.text for one in answer.other_ingredients] == ["gelatin", "xylitol"]
    assert plain([one.units_low for one in answer.directions]) == [2]
    assert answer.unread == ()
