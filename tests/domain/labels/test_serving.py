"""Servings, servings in a pack, and the mass of a unit."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import plain


@pytest.mark.parametrize(
    ("text", "units", "unit", "mass_g", "volume_ml", "per_day"),
    [
        ("Serving size: 2 soft chews (10 g)", 2, "chew", 10, None, None),
        ("Serving Size 1 level scoop (3.5 g)", 1, "scoop", 3.5, None, None),
        ("SERVING SIZE: 1 TABLET", 1, "tablet", None, None, None),
        ("Serving size \u00bd tsp (2.5 mL)", 0.5, "teaspoon", None, 2.5, None),
        ("Portionsgr\u00f6\u00dfe: 1 Messl\u00f6ffel (5 g)", 1, "scoop", 5, None, None),
        ("1 scoop = 5 g", 1, "scoop", 5, None, None),
        ("1 sachet = 2 g = 1 day's serving", 1, "sachet", 2, None, 1),
        ("Serving size: 5 g", None, None, 5, None, None),
        ("Serving size: 1 Tbsp. (12 g)", 1, "tablespoon", 12, 15, None),
    ],
)  # fmt: skip
def test_one_serving(
    reference: Reference, text: str, units: float | None, unit: str | None, mass_g: float | None,
    volume_ml: float | None, per_day: float | None,
) -> None:  # fmt: skip
    serving = read_label(reference, text).serving
    assert serving is not None
    assert (serving.units, serving.unit, serving.mass_g) == (units, unit, mass_g)
    assert (serving.volume_ml, serving.per_day) == (volume_ml, per_day)


def test_a_spoon_without_grams_is_flagged(reference: Reference) -> None:
    answer = read_label(reference, "Serving Size 1 tsp")
    assert {"household_measure", "mass_unknown"} <= set(answer.flags)


def test_a_printed_size_goes_before_a_heading(reference: Reference) -> None:
    answer = read_label(reference, "Amount per 2 chews\nMSM 500 mg\nServing size: 3 chews")
    assert answer.serving is not None
    assert answer.serving.units == 3


def test_two_servings_that_differ_are_flagged(reference: Reference) -> None:
    answer = read_label(reference, "Serving size: 2 chews\nServing size: 3 chews")
    assert answer.serving is not None
    assert answer.serving.units == 2
    assert "several_servings" in answer.flags


@pytest.mark.parametrize(
    "text",
    [
        "Servings per container: 45", "SERVINGS PER CONTAINER 45", "45 servings per bottle",
        "Portionen pro Packung: 45",
        "Portions par contenant : 45", "Porciones por envase: 45",
    ],
)  # fmt: skip
def test_servings_in_a_pack(reference: Reference, text: str) -> None:
    container = read_label(reference, text).container
    assert container is not None
    assert container.servings == 45


@pytest.mark.parametrize(
    ("text", "mass_g", "approximate"),
    [
        ("Each treat weighs approx. 6 g", 6, True), ("Each chew weighs 4 g", 4, False),
        ("Average tablet weight: 1.5 g", 1.5, False), ("Eine Tablette wiegt 2 g", 2, False),
        ("Un comprim\u00e9 p\u00e8se 1,5 g", 1.5, False),
    ],
)  # fmt: skip
def test_the_mass_of_a_unit(reference: Reference, text: str, mass_g: float, approximate: bool) -> None:
    container = read_label(reference, text).container
    assert container is not None
    assert plain((container.unit_mass_g, container.approximate)) == (mass_g, approximate)


@pytest.mark.parametrize(
    ("text", "units", "mass_g"),
    [
        ("1 level scoop = 25 g\nPer 50 g serving (2 scoops):\nMSM 10 g", 2, 50),
        ("Per serving (2 scoops): MSM 10 g\n1 scoop = 25 g", 2, 50),
        ("Per 5 g (1 scoop): MSM 400 mg", 1, 5),
        ("Dose journali\u00e8re : 30 g (1 dosette)\nMSM 500 mg", 1, 30),
    ],
)
def test_the_mass_of_a_unit_is_not_that_of_the_serving(
    reference: Reference, text: str, units: int, mass_g: int
) -> None:
    answer = read_label(reference, text)
    assert answer.serving is not None
    assert plain((answer.serving.units, answer.serving.mass_g)) == (units, mass_g)
    assert answer.facts[0].mg_per_serving is not None


@pytest.mark.parametrize(
    ("text", "mass_g", "volume_ml"),
    [
        # An ounce of a facts panel is 28 g and a fluid ounce 30 ml (21 CFR 101.9(b)(5)(viii)); a printed metric wins.
        ("Serving size 1 oz", 28, None), ("Serving size: 1 fl. oz.", None, 30),
        ("Serving size: 1 fl oz (31 mL)", None, 31), ("Serving size 1 oz (29 g)", 29, None),
    ],
)  # fmt: skip
def test_ounces_of_a_facts_panel(reference: Reference, text: str, mass_g: int | None, volume_ml: int | None) -> None:
    found = read_label(reference, text).serving
    assert found is not None
    assert plain((found.mass_g, found.volume_ml)) == (mass_g, volume_ml)


def test_units_of_a_serving_in_the_pack(reference: Reference) -> None:
    answer = read_label(reference, "Contains 45 servings of 2 chews")
    assert answer.product.unit_count == 90


@pytest.mark.parametrize(
    ("text", "units", "unit", "mass_g"),
    [
        ("Serving size: two chews", 2, "chew", None), ("Serv. size 1 scoop (5 g)", 1, "scoop", 5),
        ("Serv. Size: 2 tabs", 2, "tablet", None), ("Serving Size: One (1) chew", 1, "chew", None),
        ("2 chews per serving", 2, "chew", None), ("30 servings of 2 chews", 2, "chew", None),
        ("Portion: zwei Tabletten", 2, "tablet", None),
        ("Servings per container 60 Serving size 1 chew", 1, "chew", None),
    ],
)  # fmt: skip
def test_shortened_and_spelt_servings(
    reference: Reference, text: str, units: int, unit: str, mass_g: int | None
) -> None:
    answer = read_label(reference, text)
    assert answer.serving is not None
    assert plain((answer.serving.units, answer.serving.unit, answer.serving.mass_g)) == (units, unit, mass_g)
    assert answer.unread == ()
    assert answer.product.unit_count in (None, 60)


@pytest.mark.parametrize(("text", "servings"), [("Serv/Cont. 60", 60), ("Servings/Container: 60", 60)])
def test_shortened_servings_in_a_pack(reference: Reference, text: str, servings: int) -> None:
    found = read_label(reference, text).container
    assert found is not None
    assert found.servings == servings


def test_a_serving_and_how_many_there_are(reference: Reference) -> None:
    answer = read_label(reference, "Two (2) chews per serving, 45 servings")
    assert answer.product.unit_count == 90
    assert answer.unread == ()


def test_the_count_of_the_pack_is_not_that_of_a_serving(reference: Reference) -> None:
    answer = read_label(reference, "Serv. Size: 2 tabs\nMSM 500 mg\n60 tabs $10")
    assert plain((answer.product.unit_count, answer.facts[0].mg_per_unit)) == (60, 250)


def test_a_serving_for_so_much_of_the_animal_is_a_direction(reference: Reference) -> None:
    answer = read_label(reference, "Serving Size: 1 chew per 25 lbs\nMSM 100 mg")
    assert answer.container is None
    assert answer.serving is not None
    assert plain((answer.serving.units, answer.serving.unit)) == (1, "chew")
    # A pound is 0.45359237 kg (source chem-s63).
    (one,) = answer.directions
    assert float(one.per_body_weight_kg or 0) == pytest.approx(25 * 0.45359237)
