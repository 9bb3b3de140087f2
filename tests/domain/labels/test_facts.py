"""From a line to a fact: milligrams per serving and per unit, forms, bounds, second figures."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import at, only_fact, plain

# Molar masses (source chem-s19 and the forms table): 179.17 of 215.63 g/mol of the hydrochloride is glucosamine.
BASE_OF_HCL = Decimal("0.8309")


def test_per_serving_and_per_unit(reference: Reference) -> None:
    (fact,) = read_label(reference, "Serving size: 2 chews\nGlucosamine HCl 1,000 mg").facts
    assert plain((fact.mg, fact.mg_per_serving, fact.mg_per_unit)) == (1000, 1000, 500)
    assert float(fact.moiety_mg or 0) == pytest.approx(float(1000 * BASE_OF_HCL), rel=1e-3)
    assert (fact.form, fact.basis, fact.moiety) == ("glucosamine-hydrochloride", "salt", "glucosamine")


@pytest.mark.parametrize(
    ("text", "mg", "per_unit"),
    [
        ("Serving size: 2 chews\nMSM 500 mg", 500, 250),
        ("Serving size: 2 chews\nMSM 500 mg per chew", 500, 500),
        ("Serving size: 2 chews\nMSM 500 mg per 4 chews", 500, 125),
        ("Serving size: 1 tsp (5 ml)\nMSM 500 mg per tsp", 500, 100),
        ("MSM 0.5 g", 500, 500),
        ("MSM 500,000 mcg", 500, 500),
    ],
)
def test_what_the_amount_is_for(reference: Reference, text: str, mg: int, per_unit: int) -> None:
    (fact,) = read_label(reference, text).facts
    assert plain((fact.mg, fact.mg_per_unit)) == (mg, per_unit)


def test_a_share_of_the_product_needs_the_mass_of_a_unit(reference: Reference) -> None:
    bare = only_fact(reference, "Glucosamine HCl min 8000 mg/kg")
    assert plain((bare.mg, bare.mg_per_kg, bare.mg_per_unit, bare.bound)) == (None, 8000, None, "min")
    assert "no_serving_mass" in bare.flags
    # 8,000 mg in 1,000 g are 48 mg in 6 g.
    (weighed,) = read_label(reference, "Glucosamine HCl min 8000 mg/kg\nEach treat weighs 6 g").facts
    assert weighed.mg_per_unit == 48


def test_an_amount_for_a_day_or_a_body_weight_is_none_of_a_unit(reference: Reference) -> None:
    for text, flag in (("MSM 1,000 mg per day", "per_day"), ("MSM 20 mg per kg body weight", "per_body_weight")):
        answer = read_label(reference, f"Serving size: 2 chews\n{text}")
        assert answer.facts[0].mg_per_unit is None
        assert flag in answer.facts[0].flags
        # What is sent on must not turn it into an amount of a serving.
        assert [fact.amount for fact in answer.product.facts] == [None], text


def test_an_open_form_keeps_both_readings(reference: Reference) -> None:
    fact = only_fact(reference, "Glucosamine 500 mg")
    assert plain((fact.mg, fact.form, fact.moiety_mg)) == (500, "glucosamine-unspecified", None)
    assert "form_not_stated" in fact.flags
    assert fact.moiety_low_mg is not None
    assert fact.moiety_high_mg is not None
    assert fact.moiety_low_mg < fact.moiety_high_mg <= 500


def test_an_open_separator_keeps_both_readings(reference: Reference) -> None:
    fact = only_fact(reference, "Vitamin E 1.000 IU")
    assert plain((fact.value, fact.value_low, fact.value_high)) == (None, 1, 1000)
    assert fact.mg is None
    assert "separator_ambiguous" in fact.flags


def test_a_refused_number_is_no_amount_and_says_why(reference: Reference) -> None:
    fact = only_fact(reference, "Glucosamine HCl 5OO mg")
    assert (fact.ingredient, fact.amount, fact.value, fact.mg) == ("glucosamine", None, None, None)
    assert fact.why_not is not None
    assert "letter" in fact.why_not


def test_units_that_a_substance_does_not_have(reference: Reference) -> None:
    fact = only_fact(reference, "Glucosamine 500 IU")
    assert plain((fact.value, fact.unit, fact.mg)) == (500, "international-unit", None)
    assert "no_iu_factor" in fact.flags


@pytest.mark.parametrize(
    ("text", "mg"),
    [
        # 1 IU of vitamin D is 0.025 micrograms (source chem-s01).
        ("Vitamin D3 400 IU", "0.01"), ("Vitamin D3 10 mcg", "0.01"), ("Vitamin D3 400 I.E.", "0.01"),
        ("Vitamin D3 400 UI", "0.01"),
    ],
)  # fmt: skip
def test_international_units(reference: Reference, text: str, mg: str) -> None:
    assert only_fact(reference, text).mg == Decimal(mg)


@pytest.mark.parametrize(
    ("text", "kind", "mg", "flag"),
    [
        ("Vitamin D3 400 IU (10 mcg)", "restated", "0.01", "restated_amount"),
        ("Vitamin D3 400 IU (20 mcg)", "restated", "0.02", "label_inconsistent"),
        ("Glucosamine 415 mg (from 500 mg glucosamine HCl)", "source", "500", None),
        ("Turmeric 10:1 extract 50 mg (equivalent to 500 mg dried root)", "equivalent", "500", None),
    ],
)  # fmt: skip
def test_second_figures(reference: Reference, text: str, kind: str, mg: str, flag: str | None) -> None:
    fact = only_fact(reference, text)
    assert [(one.kind, one.mg) for one in fact.second_figures] == [(kind, Decimal(mg))]
    assert flag is None or flag in fact.flags


@pytest.mark.parametrize(
    ("text", "basis"),
    [
        ("Glucosamine HCl 500 mg", "salt"), ("Manganese (as manganese sulfate) 5 mg", "element"),
        ("Chondroitin sulfate 400 mg", "as_labelled"), ("Yucca extract 25 mg", "extract"), ("MSM 500 mg", "base"),
    ],
)  # fmt: skip
def test_what_the_number_counts(reference: Reference, text: str, basis: str) -> None:
    assert only_fact(reference, text).basis == basis


def test_spans_point_to_name_and_amount(reference: Reference) -> None:
    text = "Serving size: 1 chew\nMSM (methylsulfonylmethane)\u2020 1\u202f500 mg per chew 25 %"
    (fact,) = read_label(reference, text).facts
    assert at(text, fact.amount_span) == "1\u202f500 mg"
    assert (at(text, fact.name_span) or "").startswith("MSM")
    assert fact.footnotes == ("\u2020",)
    assert fact.daily_value_percent == 25


def test_an_amount_that_no_unit_holds_is_flagged(reference: Reference) -> None:
    assert "amount_implausible" in only_fact(reference, "MSM 500,000 mg").flags


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("Chondroitin sulfate (bovine), 90 % purity, 400 mg", 360, 400),
        ("Chondroitin sulfate 400 mg, purity 90%", 360, 400),
        ("Chondroitin sulfate 90 % pure 400 mg", 360, 400),
    ],
)
def test_a_printed_purity_wherever_it_stands(reference: Reference, text: str, low: int, high: int) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.mg, fact.moiety_low_mg, fact.moiety_high_mg)) == (400, low, high)
    assert "purity_basis_ambiguous" in fact.flags
    assert fact.constituents == ()


@pytest.mark.parametrize(
    ("text", "form"),
    [
        ("D-glucosamine sulphate 2 KCl 500 mg", "glucosamine-sulfate-2kcl"),
        ("Glucosamine sulfate 2 NaCl 500 mg", "glucosamine-sulfate-2nacl"),
        ("Glucosamine sulfate (2 KCl) 500 mg", "glucosamine-sulfate-2kcl"),
    ],
)
def test_the_number_of_a_stabiliser_is_no_amount(reference: Reference, text: str, form: str) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.form, fact.mg, fact.constituents)) == (form, 500, ())


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("Crude protein min 20% / max 25%", 20, 25),
        ("Crude Protein min/max 20%/25%", 20, 25),
        ("Calcium (min/max) 1%/1.4%", 1, "1.4"),
    ],
)
def test_two_bounds_between_strokes(reference: Reference, text: str, low: object, high: object) -> None:
    fact = only_fact(reference, text)
    assert (f"{fact.value_low}", f"{fact.value_high}") == (str(low), str(high))
    assert "min_and_max" in fact.flags


def test_a_share_in_the_bracket_of_a_list_is_one_of_the_product(reference: Reference) -> None:
    fact = only_fact(reference, "Zusammensetzung: Hefe, Gr\u00fcnlippmuschelpulver (15 %), Reis")
    assert plain((fact.ingredient, fact.mg_per_kg)) == ("green-lipped-mussel", 150_000)


@pytest.mark.parametrize(
    ("text", "mg"),
    [("MSM 5x10\u00b2 mg", 500), ("MSM 5\u00d710\u00b2 mg", 500), ("MSM 5 x 10^2 mg", 500), ("MSM 5e2 mg", 500)],
)
def test_powers_of_ten_of_any_print(reference: Reference, text: str, mg: int) -> None:
    fact = only_fact(reference, text)
    assert plain((fact.ingredient, fact.mg)) == ("msm", mg)
    assert "scientific_notation" in fact.flags


@pytest.mark.parametrize("text", ["SAM-e 200 mg", "SAMe 200 mg", "Ca: 300 mg", "MSM 1000 mg (500 mg x 2)"])
def test_names_and_amounts_that_were_torn_apart_once(reference: Reference, text: str) -> None:
    fact = only_fact(reference, text)
    assert fact.ingredient in ("s-adenosylmethionine", "calcium", "msm")
    assert fact.constituents == ()


@pytest.mark.parametrize(
    "text",
    [
        "MSM 150 mg par comprim\u00e9 de 2 g",
        "MSM 150 mg per tablet (2 g)",
        "MSM 150 mg per 2 g tablet",
        "MSM 150 mg / tablet of 2 g",
    ],
)
def test_the_size_of_what_an_amount_is_for(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    (fact,) = answer.facts
    assert plain((fact.name, fact.mg_per_unit, answer.product.unit_mass_g)) == ("MSM", 150, 2)
    assert "label_inconsistent" not in fact.flags


def test_a_second_figure_behind_the_unit_is_no_size(reference: Reference) -> None:
    fact = only_fact(reference, "Vitamin D3 0.025 mg per chew (25 mcg)")
    assert "restated_amount" in fact.flags


def test_amounts_above_what_amounts_are_for_are_flagged(reference: Reference) -> None:
    before, behind = read_label(reference, "MSM 200 mg\nPer 2 capsules:\nYucca 100 mg").facts
    assert "basis_stated_later" in before.flags
    assert "basis_stated_later" not in behind.flags
