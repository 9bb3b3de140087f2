"""Ingredient lists, allergens and what is said to be absent."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import at


@pytest.mark.parametrize(
    "heading",
    [
        "Ingredients",
        "Other ingredients",
        "INACTIVE INGREDIENTS",
        "Zusammensetzung",
        "Ingr\u00e9dients",
        "Composici\u00f3n",
    ],
)
def test_a_list_is_read_item_by_item(reference: Reference, heading: str) -> None:
    text = f"{heading}: cellulose, magnesium stearate, zorblax root"
    answer = read_label(reference, text)
    assert [(one.ingredient, one.match) for one in answer.other_ingredients] == [
        ("cellulose", "exact"), ("magnesium-stearate", "exact"), (None, "none"),
    ]  # fmt: skip
    assert [at(text, one.span) for one in answer.other_ingredients] == [
        "cellulose",
        "magnesium stearate",
        "zorblax root",
    ]


def test_a_list_goes_on_over_lines(reference: Reference) -> None:
    answer = read_label(reference, "Ingredients: cellulose,\nsilica, beef\nliver powder.\nKeep dry")
    assert [one.text for one in answer.other_ingredients] == ["cellulose", "silica", "beef liver powder"]


@pytest.mark.parametrize(
    ("text", "hazard"),
    [
        ("Ingredients: cellulose, xylitol", "xylitol"),
        ("Sweetener (E967), glycerin", "xylitol"),
        ("Zutaten: Cellulose, Xylit", "xylitol"),
        ("Cocoa powder, glycerin", "cocoa"),
        ("Ingr\u00e9dients : cellulose, ail", "garlic"),
    ],
)
def test_a_hazard_on_a_list_is_named(reference: Reference, text: str, hazard: str) -> None:
    assert any(hazard in one.hazard for one in read_label(reference, text).hazards)


@pytest.mark.parametrize(
    "text",
    [
        "Free from xylitol and chocolate",
        "No xylitol",
        "Contains no xylitol",
        "Ohne Xylit",
        "Sans xylitol",
        "Sin xilitol",
        "Ingredients: cellulose. Free from: xylitol, chocolate",
    ],
)
def test_what_is_absent_is_no_hazard_and_stays_absent(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert answer.hazards == ()
    told = " ".join(one.text for one in answer.statements if one.kind == "negation").casefold()
    denied = " ".join(one.text for one in answer.other_ingredients if one.negated).casefold()
    assert "x" in told + denied
    assert read_label(reference, answer.product.other_ingredients or "none").hazards == ()


@pytest.mark.parametrize(
    ("text", "allergens", "may"),
    [
        ("Contains: fish (anchovy), soy", {"fish", "soy"}, False),
        ("Allergens: crustacean shellfish", {"crustacean shellfish"}, False),
        ("May contain traces of soy and milk", {"soy", "milk"}, True),
        ("Kann Spuren von Soja enthalten", {"soy"}, True),
        ("Peut contenir du lait", {"milk"}, True),
        ("Puede contener soja", {"soy"}, True),
    ],
)
def test_allergens_that_the_label_states(reference: Reference, text: str, allergens: set[str], may: bool) -> None:
    found = [one for one in read_label(reference, text).allergens if one.stated]
    assert {one.allergen for one in found} == allergens
    assert {one.may_contain for one in found} == {may}


def test_an_ingredient_brings_its_allergen(reference: Reference) -> None:
    (one,) = read_label(reference, "Green lipped mussel 500 mg").allergens
    assert (one.allergen, one.stated) == ("mollusc shellfish", False)
    assert read_label(reference, "Glucosamine HCl (vegetarian, from corn fermentation)").allergens == ()


@pytest.mark.parametrize(
    "text",
    ["Hergestellt in einem Betrieb, der auch Soja verarbeitet", "Kann Soja enthalten",
     "Manufactured on equipment that processes soy", "Peut contenir des traces de soja"],
)  # fmt: skip
def test_traces_in_other_words(reference: Reference, text: str) -> None:
    (one,) = read_label(reference, text).allergens
    assert (one.allergen, one.may_contain) == ("soy", True)


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        ("Made in a plant that handles milk and eggs", ["may contain milk and eggs"]),
        ("Made in a facility that also processes xylitol, fish.", ["may contain xylitol", "may contain fish"]),
        ("Hergestellt in einem Betrieb, der auch Milch verarbeitet.", ["may contain Milch"]),
        ("Peut contenir des traces de lait, d'œufs", ["may contain lait", "may contain d'oeufs"]),
        ("May contain traces", []),
        ("May contain milk (whey), xylitol", ["may contain milk (whey)", "may contain xylitol"]),
    ],
)
def test_what_may_be_inside_is_listed_without_the_words_around(
    reference: Reference, text: str, listed: list[str]
) -> None:
    answer = read_label(reference, text)
    assert [one.text for one in answer.other_ingredients] == listed
    assert all(one.trace for one in answer.other_ingredients)


def test_a_hazard_that_may_be_inside_is_told_once(reference: Reference) -> None:
    (told,) = read_label(reference, "May contain traces of xylitol").hazards
    assert (told.hazard, told.where, told.trace) == ("xylitol", "other_ingredients", True)


def test_what_stands_behind_an_allergen_is_listed(reference: Reference) -> None:
    answer = read_label(reference, "Contains: shellfish (crab, shrimp), raisins")
    assert [one.text for one in answer.other_ingredients] == ["shellfish", "crab", "shrimp", "raisins"]
    assert "grape-raisin" in [one.hazard for one in answer.hazards]
