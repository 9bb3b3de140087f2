"""Allergens that a label states, tells as a source, brings or names. All labels are invented."""

from __future__ import annotations

import pytest

from service.domain.labels.allergens import allergen_of
from service.domain.labels.assembling import read_label
from service.reference.release import Reference


def test_a_source_in_brackets_names_its_allergen(reference: Reference) -> None:
    # The chitin of shellfish that gives glucosamine comes from crustaceans.
    (one,) = read_label(reference, "Glucosamine HCl (shellfish) 500 mg").allergens
    assert (one.allergen, one.stated) == ("crustacean shellfish", True)


@pytest.mark.parametrize(
    ("ingredient", "groups", "allergen"),
    [
        ("krill-oil", (), "crustacean shellfish"), ("fish-oil", ("fish-source",), "fish"), ("glucosamine", (), None),
        (None, (), None),
    ],
)  # fmt: skip
def test_what_an_ingredient_brings(ingredient: str | None, groups: tuple[str, ...], allergen: str | None) -> None:
    assert allergen_of(ingredient, groups) == allergen


@pytest.mark.parametrize(
    ("text", "allergens"),
    [
        ("Ingredients: soy lecithin, whey, wheat germ", {"soy", "milk", "wheat"}),
        ("Ingredients: milk thistle, cocoa butter", set()), ("Ingredients: no soy, cellulose", set()),
        ("Glucosamine (non-shellfish) 500 mg", set()), ("Glucosamine HCl (shellfish-free) 500 mg", set()),
        ("Eggshell membrane 500 mg", {"egg"}), ("Soy lecithin 50 mg", {"soy"}), ("Milk thistle 50 mg", set()),
    ],
)  # fmt: skip
def test_allergens_that_ingredients_name(reference: Reference, text: str, allergens: set[str]) -> None:
    assert {one.allergen for one in read_label(reference, text).allergens} == allergens
