"""Foods on the label that the animal is said to be allergic to."""

from __future__ import annotations

import pytest

from service.domain.screening import ScreenAnswer
from service.domain.screening_allergy_names import allergy_to, foods_said
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product


def _allergies(answer: ScreenAnswer) -> set[tuple[str, str, str]]:
    found = (finding for finding in of_kind(answer, "condition") if finding.topic == "allergy")
    return {(finding.subjects[0], finding.subjects[1], finding.level) for finding in found}


@pytest.mark.parametrize(
    ("text", "condition", "expected"),
    [
        ("salmon meal", "fish allergy", {("fish", "fish-allergy", "avoid")}),
        ("fish gelatin", "allergy to fish", {("gelatin", "fish-allergy", "avoid")}),
        ("may contain traces of fish", "fish allergy", {("fish", "fish-allergy", "veterinarian")}),
        ("shark cartilage", "fish allergy", {("collagen-cartilage", "fish-allergy", "avoid")}),
        ("marine gelatin", "fish allergy", {("gelatin", "fish-allergy", "avoid")}),
        ("bovine gelatin", "beef allergy", {("gelatin", "food-allergy", "avoid")}),
        ("shrimp powder", "allergic to prawns", {("shellfish-chitin", "shellfish-allergy", "avoid")}),
        ("krill oil", "shellfish allergy", {("shellfish-chitin", "shellfish-allergy", "avoid")}),
        ("chicken liver", "chicken allergy", {("liver-flavor", "food-allergy", "avoid")}),
        ("beef", "allergic to beef", {("meat", "food-allergy", "avoid")}),
        ("egg powder", "allergic to eggs", {("egg", "food-allergy", "avoid")}),
        ("cod", "allergic to cod", {("fish", "fish-allergy", "avoid")}),
        # Not the food that was named, not on the label, or denied.
        ("beef", "chicken allergy", set()),
        ("egg powder", "food allergy", set()),
        ("contains no fish", "fish allergy", set()),
        ("MSM", "fish allergy", set()),
    ],
)
def test_foods_on_the_label(
    reference: Reference, text: str, condition: str, expected: set[tuple[str, str, str]]
) -> None:
    assert _allergies(ask(reference, text, conditions=(condition,))) == expected


def test_what_a_record_says_is_not_said_twice(reference: Reference) -> None:
    answer = ask(reference, "fish oil, green-lipped mussel", conditions=("fish allergy", "shellfish allergy"))
    assert _allergies(answer) == {
        ("fish-oil", "fish-allergy", "watch"),
        ("green-lipped-mussel", "shellfish-allergy", "avoid"),
    }


def test_other_ingredients_count_too(reference: Reference) -> None:
    answer = ask(
        reference, None, product("a", ("MSM", "100 mg"), other="chicken flavour"), conditions=("chicken allergy",)
    )
    assert [finding.level for finding in of_kind(answer, "condition")] == ["avoid"]
    assert answer.verdict == "stop"


def test_an_allergy_without_a_food_asks_for_it(reference: Reference) -> None:
    def codes(condition: str) -> set[str]:
        return {caution.code for caution in ask(reference, "beef", conditions=(condition,)).cautions}

    assert "allergen_not_named" in codes("food allergy")
    assert "allergen_not_named" not in codes("chicken allergy")
    assert "allergen_not_named" not in codes("fish allergy")


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("allergic to cod", "fish-allergy"),
        ("mussel intolerance", "shellfish-allergy"),
        ("allergic to turkey", "food-allergy"),
        ("alergia al pollo", "food-allergy"),
        ("allergic to penicillin", None),
        ("flea allergy", None),
        ("allergic", None),
        ("turkey", None),
    ],
)
def test_which_allergy_is_meant(reference: Reference, text: str, condition: str | None) -> None:
    assert allergy_to(reference, text) == condition


def test_the_words_for_the_food() -> None:
    assert foods_said("Allergic to prawns and eggs") == {"prawn", "egg"}
    assert foods_said("food allergy") == frozenset()


def test_of_two_words_both_have_to_stand_there(reference: Reference) -> None:
    assert _allergies(ask(reference, "coconut oil", conditions=("allergic to sunflower oil",))) == set()
    assert len(_allergies(ask(reference, "sunflower oil", conditions=("allergic to sunflower oil",)))) == 1


@pytest.mark.parametrize(
    ("text", "condition", "is_open"),
    [
        ("gelatin", "fish allergy", True),
        ("gelatin", "beef allergy", True),
        ("bovine gelatin", "fish allergy", False),
        ("gelatin", "allergic to oats", False),
        ("cellulose", "fish allergy", False),
    ],
)
def test_gelatin_of_no_stated_animal_is_not_assessed(
    reference: Reference, text: str, condition: str, is_open: bool
) -> None:
    answer = ask(reference, text, conditions=(condition,))
    assert ("source_not_stated" in {gap.reason for gap in answer.not_assessed}) is is_open
    assert (answer.verdict == "incomplete") is is_open
