"""Energy in kcal."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("text", "per_kg", "per_unit", "per_serving"),
    [
        ("Calorie content: 3,450 kcal/kg, 14 kcal per chew", 3450, 14, None),
        ("ME (calculated): 3.2 Calories/g; 16 Cal. each", 3200, 16, None),
        ("Calories 10 per chew", None, 10, None),
        ("Calories: 10", None, None, 10),
        ("1,5 kcal/g", 1500, None, None),
        # 1 kcal is 4.184 kJ exactly (thermochemical; source own-arithmetic): 418.4 kJ are 100 kcal.
        ("418.4 kJ per tablet", None, 100, None),
        # 20 kcal in two chews are 10 in one.
        ("20 kcal per 2 chews", None, 10, None),
        # 350 kcal in 100 g are 3,500 in a kilogram.
        ("350 kcal per 100 g", 3500, None, None),
        # Joules beside calories only say the same again.
        ("10 kcal / 41.84 kJ per chew", None, 10, None),
    ],
)  # fmt: skip
def test_figures(
    reference: Reference, text: str, per_kg: float | None, per_unit: float | None, per_serving: float | None
) -> None:
    found = read_label(reference, text).energy
    assert found is not None
    figures = [
        None if one is None else float(one) for one in (found.kcal_per_kg, found.kcal_per_unit, found.kcal_per_serving)
    ]
    assert figures == [None if one is None else pytest.approx(one) for one in (per_kg, per_unit, per_serving)]


def test_both_figures_imply_the_mass_of_a_unit(reference: Reference) -> None:
    # 14 kcal at 3,500 kcal/kg are 4 g.
    found = read_label(reference, "3,500 kcal/kg, 14 kcal per chew").energy
    assert found is not None
    assert found.implied_unit_mass_g == 4


def test_the_mass_of_a_unit_gives_its_energy(reference: Reference) -> None:
    # 3,600 kcal/kg and a chew of 4 g are 14.4 kcal a chew.
    answer = read_label(reference, "3,600 kcal/kg\nEach chew weighs 4 g")
    assert answer.energy is not None
    assert float(answer.energy.kcal_per_unit or 0) == pytest.approx(14.4)
    assert "computed_from_unit_mass" in answer.energy.flags


@pytest.mark.parametrize("text", ["MSM 500 mg", "90 tablets", "energy", "high energy formula"])
def test_what_gives_no_energy(reference: Reference, text: str) -> None:
    assert read_label(reference, text).energy is None


@pytest.mark.parametrize(
    ("text", "per_kg", "agrees"),
    [
        ("Metabolizable energy (calculated) 3450 kcal/kg (3.45 kcal/g) or 97 kcal/oz", 3450, True),
        # 90 kcal in an ounce of 28.35 g are 3,175 in a kilogram, 8 % less than printed.
        ("3,450 kcal/kg, 90 kcal/oz, 14 kcal/chew", 3450, False), ("97 kcal/oz; 3,450 kcal/kg", None, True),
        ("97 kcal/oz, 3,450 kcal / kg", 3450, True),
    ],
)  # fmt: skip
def test_what_is_printed_per_kilogram_holds(reference: Reference, text: str, per_kg: int | None, agrees: bool) -> None:
    found = read_label(reference, text).energy
    assert found is not None
    assert per_kg is None or found.kcal_per_kg == per_kg
    assert ("label_inconsistent" not in found.flags) is agrees
