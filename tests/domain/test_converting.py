"""Bounds, targets and international units of a conversion, and its agreement with the reading of labels."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.converting import convert
from service.domain.errors import InvalidInput, UnknownForm
from service.domain.normalising import normalise
from service.domain.products import LabelFact, Product
from service.reference.release import Reference

HYDROCHLORIDE = "glucosamine-hydrochloride"


@pytest.mark.parametrize(
    ("amount", "flag"),
    [
        ("<500 mg", "less_than"),
        ("less than 500 mg", "less_than"),
        ("max 500 mg", "at_most"),
        ("up to 500 mg", "at_most"),
    ],
)
def test_an_upper_bound_reaches_down_to_nothing(reference: Reference, amount: str, flag: str) -> None:
    found = convert(reference, HYDROCHLORIDE, amount)
    assert found.amount_mg is None
    assert found.amount_low_mg == 0
    assert found.amount_high_mg == 500
    assert found.converted_mg is None
    assert found.converted_low_mg == 0
    assert float(found.converted_high_mg) == pytest.approx(415.46, abs=0.01)
    assert flag in found.flags


@pytest.mark.parametrize("amount", ["min 5 g", "at least 500 mg", "> 400 IU"])
def test_a_lower_bound_alone_is_refused(reference: Reference, amount: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        convert(reference, HYDROCHLORIDE, amount)
    assert caught.value.issues[0].where == "amount"
    assert "at least" in caught.value.issues[0].detail


def test_about_keeps_its_number_and_is_flagged(reference: Reference) -> None:
    found = convert(reference, HYDROCHLORIDE, "ca. 500 mg")
    assert found.amount_mg == 500
    assert "approximate" in found.flags


@pytest.mark.parametrize("to", ["glucosamine", "Glucosamine", None])
def test_the_moiety_can_be_asked_for_by_name(reference: Reference, to: str | None) -> None:
    found = convert(reference, HYDROCHLORIDE, "500 mg", to)
    assert found.to == "glucosamine"
    assert found == convert(reference, HYDROCHLORIDE, "500 mg")


def test_the_ingredient_stands_for_the_moiety(reference: Reference) -> None:
    assert convert(reference, "alpha-tocopheryl-acetate", "100 mg", "vitamin-e").to == "alpha-tocopherol"
    with pytest.raises(UnknownForm, match="vitamin-e"):
        convert(reference, HYDROCHLORIDE, "500 mg", "vitamin-e")


def test_the_factor_of_a_unit_is_told_with_its_source(reference: Reference) -> None:
    found = convert(reference, "cholecalciferol", "400 IU")
    assert "40000 IU per mg" in found.how
    assert "chem-s07" in found.how
    assert "chem-s07" in found.source_ids
    assert "IU" not in convert(reference, "cholecalciferol", "0.01 mg").how


def test_both_bases_of_vitamin_e_are_told(reference: Reference) -> None:
    found = convert(reference, "alpha-tocopheryl-acetate", "100 IU")
    for part in ("1 IU per mg (synthetic)", "1.36 IU per mg (natural)", "0.45 mg", "chem-s11", "chem-s08"):
        assert part in found.how
    assert {"chem-s11", "chem-s08"} <= set(found.source_ids)
    assert {"natural_or_synthetic_not_stated", "two_vitamin_e_bases"} <= set(found.flags)
    assert found.converted_low_mg == Decimal("45.0000")


@pytest.mark.parametrize(
    ("name", "form"),
    [
        ("Vitamin E", "vitamin-e-unspecified"),
        ("Vitamin E (as alpha-tocopheryl acetate)", "alpha-tocopheryl-acetate"),
        ("Vitamin D3", "cholecalciferol"),
        ("Vitamin D", "vitamin-d-unspecified"),
        ("Vitamin A (as retinyl palmitate)", "retinyl-palmitate"),
    ],
)
def test_a_label_and_a_conversion_agree_on_a_unit(reference: Reference, name: str, form: str) -> None:
    label = normalise(reference, Product("p", facts=(LabelFact(name, "100 IU"),))).facts[0]
    found = convert(reference, form, "100 IU")
    assert label.form == form
    assert (label.mg_low_per_unit, label.mg_high_per_unit) == (found.amount_low_mg, found.amount_high_mg)
    assert label.moiety_low_mg_per_unit == found.converted_low_mg
    assert label.moiety_high_mg_per_unit == found.converted_high_mg


def test_no_value_that_no_single_form_can_have(reference: Reference) -> None:
    whole = convert(reference, "vitamin-e-unspecified", "100 IU")
    single = [convert(reference, id_, "100 IU") for id_ in reference.forms["vitamin-e-unspecified"].candidate_form_ids]
    assert whole.amount_low_mg == min(one.amount_low_mg for one in single)
    assert whole.amount_high_mg == max(one.amount_high_mg for one in single)
    assert whole.converted_low_mg == min(one.converted_low_mg for one in single)
    assert whole.converted_high_mg == max(one.converted_high_mg for one in single)


@pytest.mark.parametrize(
    ("name", "low_mg", "high_mg"),
    [
        ("Vitamin E (as d-alpha tocopheryl acetate)", 66.99, 66.99),
        ("Vitamin E (as dl-alpha tocopheryl acetate)", 45, 91.11),
    ],
)
def test_the_label_says_natural_or_synthetic(reference: Reference, name: str, low_mg: float, high_mg: float) -> None:
    """0.67 mg per IU natural, 0.45 mg synthetic by activity (chem-s08, read)."""
    fact = normalise(reference, Product("p", facts=(LabelFact(name, "100 IU"),))).facts[0]
    assert float(fact.moiety_low_mg_per_unit or 0) == pytest.approx(low_mg, abs=0.01)
    assert float(fact.moiety_high_mg_per_unit or 0) == pytest.approx(high_mg, abs=0.01)
    assert "natural_or_synthetic_not_stated" not in fact.flags
