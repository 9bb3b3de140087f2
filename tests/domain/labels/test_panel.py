"""Lines with amounts: which facts they give, which of them are parts of another."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import only_fact, plain


@pytest.mark.parametrize(
    "text",
    [
        "Fish oil 1,000 mg (EPA 180 mg, DHA 120 mg)", "Fish oil 1,000 mg providing EPA 180 mg and DHA 120 mg",
        "Fish oil 1,000 mg\nEPA 180 mg\nDHA 120 mg", "Fish oil 1,000 mg\nof which: EPA 180 mg, DHA 120 mg",
        "Fish oil 1,000 mg, of which EPA 180 mg, DHA 120 mg", "Fischöl 1.000 mg, davon EPA 180 mg, DHA 120 mg",
        "Huile de poisson 1 000 mg dont EPA 180 mg, DHA 120 mg", "Fish oil 1,000 mg\n  EPA 180 mg\n  DHA 120 mg",
    ],
)  # fmt: skip
def test_parts_are_nested_and_never_added(reference: Reference, text: str) -> None:
    fact = only_fact(reference, text)
    assert fact.mg == 1000
    assert [one.mg for one in fact.constituents] == [180, 120]
    assert "constituent_not_additive" in fact.flags
    assert all(one.mg_per_unit is None for one in fact.constituents)


@pytest.mark.parametrize(
    "text",
    [
        "Boswellia extract (65 % boswellic acids) 200 mg", "Boswellia extract 200 mg (65 % boswellic acids)",
        "Boswellia extract 200 mg standardised to 65 % boswellic acids",
        "Boswellia extract 200 mg 65 % boswellic acids",
        "Boswellia extract 65 % boswellic acids 200 mg",
    ],
)  # fmt: skip
def test_a_share_is_one_of_its_parent(reference: Reference, text: str) -> None:
    # 65 % of 200 mg are 130 mg.
    fact = only_fact(reference, text)
    assert plain((fact.mg, fact.basis)) == (200, "extract")
    assert plain([(one.share_of_parent, one.mg) for one in fact.constituents]) == [(Decimal("0.65"), 130)]


def test_parts_larger_than_the_whole_are_no_parts(reference: Reference) -> None:
    assert len(read_label(reference, "Fish oil 100 mg\nEPA 180 mg").facts) == 2


def test_bare_numbers_in_a_bracket_inherit_the_unit(reference: Reference) -> None:
    fact = only_fact(reference, "Omega 3 500 mg (EPA 300, DHA 200)")
    assert [one.mg for one in fact.constituents] == [300, 200]
    assert all("unit_inherited" in one.flags for one in fact.constituents)


@pytest.mark.parametrize(
    "text", ["Glucosamine HCl/chondroitin sulfate 500/400 mg", "Glucosamine HCl/chondroitin sulfate 500 mg/400 mg"]
)
def test_as_many_names_as_numbers_between_slashes(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert plain([(fact.ingredient, fact.mg) for fact in answer.facts]) == [
        ("glucosamine", 500),
        ("chondroitin-sulfate", 400),
    ]


def test_a_footnote_gives_its_amount_to_each(reference: Reference) -> None:
    answer = read_label(reference, "Glucosamine*, chondroitin*, MSM* (*1,000 mg each per day)")
    assert plain([(fact.ingredient, fact.mg) for fact in answer.facts]) == [
        ("glucosamine", 1000), ("chondroitin-sulfate", 1000), ("msm", 1000),
    ]  # fmt: skip
    assert "amount_in_footnote" in answer.flags


def test_what_stands_at_the_end_of_a_line_holds_for_all_of_it(reference: Reference) -> None:
    answer = read_label(reference, "Zinc 18 mg, copper 2 mg per capsule")
    assert [fact.per.unit if fact.per else None for fact in answer.facts] == ["capsule", "capsule"]


def test_a_bare_name_among_facts_is_an_ingredient_without_amount(reference: Reference) -> None:
    answer = read_label(reference, "MSM 500 mg, yucca")
    assert [fact.ingredient for fact in answer.facts] == ["msm"]
    assert [one.ingredient for one in answer.other_ingredients] == ["yucca"]


@pytest.mark.parametrize(
    "text", ["Moisture, max. 8 %", "Moisture, max 8 %", "Moisture (max.) 8 %", "Moisture max. 8 %"]
)
def test_a_bound_behind_the_name(reference: Reference, text: str) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.value, fact.unit, fact.bound)) == (8, "percent", "max")
    # No more than 80 g a kilogram, perhaps none: there is no exact amount.
    assert fact.mg_per_kg is None


@pytest.mark.parametrize(
    ("text", "unread"), [("Suite 200", "Suite 200"), ("x 90 g", "90 g"), ("Fax 01632 960000", "01632")]
)
def test_a_number_of_nothing_is_unread_and_no_fact(reference: Reference, text: str, unread: str) -> None:
    answer = read_label(reference, text)
    assert answer.facts == ()
    told = [one.text for one in answer.unread] + [one.text for one in answer.statements]
    assert answer.container is not None or any(unread in one for one in told)


@pytest.mark.parametrize(
    "text",
    ["50% more glucosamine than before", "Glucosamine absorption 90%", "Reduces stiffness by 40%", "99% digestible"],
)
def test_a_share_of_something_else_is_a_claim(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert answer.facts == ()
    assert [one.kind for one in answer.statements] == ["claim"]


def test_more_than_all_of_the_product_is_implausible(reference: Reference) -> None:
    assert "amount_implausible" in only_fact(reference, "MSM 120 %").flags
    assert "amount_implausible" not in only_fact(reference, "MSM 100 %").flags


@pytest.mark.parametrize(
    "text", ["glucosamine HCl | 450 | mg", "glucosamine HCl | 450 mg", "glucosamine HCl . . . . 450 mg"]
)
def test_rows_with_strokes_and_dots(reference: Reference, text: str) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.form, fact.mg)) == ("glucosamine-hydrochloride", 450)


@pytest.mark.parametrize(
    ("text", "ingredient", "mg"),
    [
        ("K 99 mg", "potassium", 99), ("Omega 3: 500 mg", "epa-dha", 500), ("(500 mg) MSM", "msm", 500),
        ("Vitamine E 5 000 mg", "vitamin-e", 5000), ("Zinc (15 mg as zinc oxide)", "zinc", 15),
        ("Zinc, chelated 10 mg", "zinc", 10), ("MSM, not less than, 200 mg", "msm", 200),
        ("Ca 1 g", "calcium", 1000), ("MSM 500 mg \u00b1 5 %", "msm", 500),
    ],
)  # fmt: skip
def test_names_and_amounts_in_odd_order(reference: Reference, text: str, ingredient: str, mg: int) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.ingredient, fact.mg)) == (ingredient, mg)


def test_a_vitamin_before_a_colon_is_no_heading(reference: Reference) -> None:
    fact = only_fact(reference, "Vitamine E: 10 UI")
    assert plain((fact.ingredient, fact.value, fact.unit)) == ("vitamin-e", 10, "international-unit")


def test_an_amount_in_a_list_is_flagged(reference: Reference) -> None:
    assert "amount_in_list" in read_label(reference, "Glucosamine (500) mg").flags
