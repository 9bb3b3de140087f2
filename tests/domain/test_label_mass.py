"""From a printed amount to mg in one unit of the product; arithmetic in comments."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.label_mass import MassReading
from service.domain.normalising import read_facts
from service.domain.products import LabelFact, Product
from service.reference.release import Reference


def _mass(
    reference: Reference,
    name: str,
    amount: str,
    unit: str = "tablet",
    serving: str | None = "1",
    unit_mass_g: str | None = None,
    serving_mass_g: str | None = None,
) -> MassReading:
    product = Product(
        id="p",
        unit=unit,
        serving_units=D(serving) if serving else None,
        unit_mass_g=D(unit_mass_g) if unit_mass_g else None,
        serving_mass_g=D(serving_mass_g) if serving_mass_g else None,
        facts=(LabelFact(name, amount),),
    )
    return read_facts(reference, product)[0].mass


@pytest.mark.parametrize(
    ("amount", "unit", "serving", "mg"),
    [
        # 1000 mg in a serving of two tablets: 500 in one.
        ("1000 mg", "tablet", "2", "500"),
        ("1000 mg per serving", "tablet", "2", "500"),
        # The amount itself says that it is for one, or for two.
        ("1000 mg per tablet", "tablet", "2", "1000"),
        ("1000 mg/tablet", "unit", "2", "1000"),
        ("1000 mg per chew", "soft chew", "3", "1000"),
        ("1000 mg per 4 tablets", "tablet", "2", "250"),
        # Half a tablet a serving: 1000 in the half, 2000 in the whole.
        ("1000 mg", "tablet", "0.5", "2000"),
        # A serving of 5 ml.
        ("1000 mg", "ml", "5", "200"),
        # Not stated: taken for one unit.
        ("1000 mg", "tablet", None, "1000"),
    ],
)
def test_per_serving_and_per_unit(reference: Reference, amount: str, unit: str, serving: str | None, mg: str) -> None:
    found = _mass(reference, "MSM", amount, unit, serving)
    assert (found.mg_low, found.mg_high) == (D(mg), D(mg))
    assert found.moiety_low_mg == found.moiety_high_mg == D(mg)


@pytest.mark.parametrize(
    ("amount", "unit", "masses", "mg"),
    [
        # 8,000 mg/kg of a 6 g treat.
        ("8000 mg/kg", "treat", {"unit_mass_g": "6"}, "48"),
        ("8000 mg per kg", "treat", {"unit_mass_g": "6"}, "48"),
        ("0.8 %", "treat", {"unit_mass_g": "6"}, "48"),
        # A serving of two chews weighs 10 g, one weighs 5.
        ("8000 mg/kg", "chew", {"serving": "2", "serving_mass_g": "10"}, "40"),
        # The serving says nothing about a share: it is not divided twice.
        ("8000 mg/kg", "chew", {"serving": "2", "unit_mass_g": "5"}, "40"),
        ("100 mg/ml", "ml", {"serving": "5"}, "100"),
        ("500 mg/5 ml", "ml", {"serving": "5"}, "100"),
    ],
)
def test_shares_need_the_mass_of_a_unit(
    reference: Reference, amount: str, unit: str, masses: dict[str, str], mg: str
) -> None:
    found = _mass(reference, "MSM", amount, unit, **masses)
    assert (found.mg_low, found.mg_high) == (D(mg), D(mg))


@pytest.mark.parametrize(
    ("amount", "flag"),
    [
        ("8000 mg/kg", "no_serving_mass"),
        ("16 %", "no_serving_mass"),
        ("100 mg/ml", "no_serving_mass"),
        ("5 ml", "no_mass_in_this_unit"),
        ("2400 GDU", "no_mass_in_this_unit"),
        ("500 IU", "no_iu_factor"),
        ("50 IU/kg", "no_serving_mass"),
        ("1 capsule", "no_mass_in_this_unit"),
    ],
)
def test_where_the_label_gives_no_mass_none_is_made_up(reference: Reference, amount: str, flag: str) -> None:
    found = _mass(reference, "MSM", amount)
    assert (found.mg_low, found.mg_high, found.moiety_low_mg, found.moiety_high_mg) == (None, None, None, None)
    assert found.flags == (flag,)


@pytest.mark.parametrize(
    ("name", "amount", "serving", "low", "high"),
    [
        # 1 IU of D3 weighs 0.025 mcg.
        ("Vitamin D3", "400 IU", "1", "0.01", "0.01"),
        ("Vitamin D3", "400 IU", "2", "0.005", "0.005"),
        # Natural: 0.67 mg of tocopherol in an IU, whatever the ester.
        ("Vitamin E (d-alpha tocopherol)", "30 IU", "1", "20.13", "20.14"),
        ("Vitamin E (d-alpha-tocopheryl acetate)", "30 IU", "1", "20.09", "20.11"),
        # Synthetic: 0.45 mg by activity, 0.911 by mass.
        ("Vitamin E (dl-alpha-tocopheryl acetate)", "30 IU", "1", "13.5", "27.34"),
        # Not told: from the lowest to the highest of all.
        ("Vitamin E", "30 IU", "1", "13.5", "27.36"),
    ],
)
def test_international_units(reference: Reference, name: str, amount: str, serving: str, low: str, high: str) -> None:
    found = _mass(reference, name, amount, serving=serving)
    assert found.moiety_low_mg is not None
    assert found.moiety_high_mg is not None
    assert D(low) <= found.moiety_low_mg <= found.moiety_high_mg <= D(high)


def test_international_units_per_kilogram(reference: Reference) -> None:
    # 2,000 IU/kg of a 10 g chew: 20 IU, half a microgram.
    found = _mass(reference, "Vitamin D3", "2000 IU/kg", "chew", unit_mass_g="10")
    assert found.mg_low == found.mg_high == D("0.0005")


def test_an_open_form_has_a_low_and_a_high_reading(reference: Reference) -> None:
    # 500 mg of "glucosamine": 295.9 if it is the potassium complex, 500 if it is the base.
    found = _mass(reference, "Glucosamine", "1000 mg", serving="2")
    assert found.mg_low == found.mg_high == D(500)
    assert found.moiety_low_mg is not None
    assert round(found.moiety_low_mg, 1) == D("295.9")
    assert found.moiety_high_mg == D(500)


def test_omega_3_as_one_figure_credits_nothing_and_holds_all(reference: Reference) -> None:
    found = _mass(reference, "Omega-3", "500 mg")
    assert (found.moiety_low_mg, found.moiety_high_mg) == (D(0), D(500))


def test_a_stated_content_needs_no_share(reference: Reference) -> None:
    # 120 mg of chelate with 18 mg of zinc in a serving of two.
    found = _mass(reference, "zinc chelate", "120 mg (Zn: 18 mg)", serving="2")
    assert (found.mg_low, found.moiety_low_mg, found.moiety_high_mg) == (D(60), D(9), D(9))


def test_a_range_keeps_both_ends(reference: Reference) -> None:
    found = _mass(reference, "MSM", "400-500 mg", serving="2")
    assert (found.mg_low, found.mg_high) == (D(200), D(250))
