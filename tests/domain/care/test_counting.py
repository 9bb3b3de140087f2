"""What a unit holds of an ingredient, and what of it cannot be counted."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.care.counting import Held, Label, held_in_unit, ingredients_of, is_of_other_material, label_of
from service.domain.errors import InvalidInput
from service.domain.normalising import read_facts
from service.domain.products import LabelFact
from tests.domain.care.making import REFERENCE, tablet

HCL = "glucosamine-hydrochloride"


def label(*facts: tuple[str, str | None], other: str | None = None) -> Label:
    product = tablet(facts=tuple(LabelFact(*fact) for fact in facts), other_ingredients=other)
    return label_of(REFERENCE, product, read_facts(REFERENCE, product), "products/0")


def held(found: Label, ingredient: str = "glucosamine", form: str | None = HCL) -> Held:
    return held_in_unit(REFERENCE, found, ingredient, form)


def test_an_amount_is_counted_in_the_form_that_is_asked_for() -> None:
    assert held(label(("Glucosamine HCl", "500 mg"))) == Held(D(500), D(500), at_least=False)
    # Of the moiety: 500 x 0.830924 (molar masses of base and hydrochloride).
    base = held(label(("Glucosamine HCl", "500 mg")), form=None)
    assert base.low_mg is not None
    assert round(base.low_mg, 1) == D("415.5")


def test_two_lines_of_one_ingredient_add_up() -> None:
    both = label(("Glucosamine HCl", "500 mg"), ("Glucosamine HCl", "250 mg"))
    assert held(both) == Held(D(750), D(750), at_least=False)


def test_a_member_of_a_blend_is_not_counted_and_not_forgotten() -> None:
    blend = label(("Joint blend: glucosamine HCl, MSM", "900 mg"))
    assert held(blend) == Held(None, None, at_least=True)
    beside = label(("Glucosamine HCl", "500 mg"), ("Joint blend: glucosamine HCl, MSM", "900 mg"))
    assert held(beside) == Held(D(500), D(500), at_least=True)


def test_a_list_that_repeats_the_panel_adds_nothing() -> None:
    assert held(label(("Glucosamine HCl", "500 mg"), other="glucosamine HCl, cellulose")) == Held(D(500), D(500), False)


def test_what_only_the_list_names_is_there_in_an_unknown_amount() -> None:
    named = label(("MSM", "200 mg"), other="glucosamine HCl, cellulose")
    assert held(named) == Held(None, None, at_least=True)
    assert ingredients_of(REFERENCE, named) == ("msm", "glucosamine")


def test_a_guaranteed_minimum_is_at_least_so_much() -> None:
    assert held(label(("Glucosamine HCl", "min. 500 mg"))) == Held(D(500), D(500), at_least=True)


def test_a_line_without_an_amount_is_at_least_nothing() -> None:
    assert held(label(("Glucosamine HCl", None))) == Held(None, None, at_least=True)


def test_traces_and_denials_are_not_given() -> None:
    assert ingredients_of(REFERENCE, label(("MSM", "200 mg"), other="contains no chondroitin, cellulose")) == ("msm",)


def test_fish_oil_on_the_list_is_no_second_thing_beside_its_fatty_acids() -> None:
    oil = label(("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"), other="fish oil, gelatin")
    assert ingredients_of(REFERENCE, oil) == ("epa-dha",)
    assert held(oil, "epa-dha", "epa-dha") == Held(D(500), D(500), at_least=False)


def test_what_has_no_moiety_is_counted_by_its_mass() -> None:
    assert REFERENCE.ingredients["chamomile"].moiety is None
    assert held(label(("Chamomile", "50 mg")), "chamomile", None) == Held(D(50), D(50), at_least=False)


def test_guidance_on_an_extract_says_nothing_of_a_powder() -> None:
    blend = label(("Joint blend: glucosamine HCl, turmeric", "900 mg"))
    extract = "turmeric-extract-turmerosaccharides"
    assert is_of_other_material(REFERENCE, blend, "turmeric", extract)
    assert not is_of_other_material(REFERENCE, blend, "glucosamine", HCL)
    assert not is_of_other_material(REFERENCE, label(("MSM", "1 mg")), "glucosamine", HCL)


def test_a_list_that_is_too_long_is_refused_at_its_place() -> None:
    with pytest.raises(InvalidInput) as error:
        label(("MSM", "1 mg"), other=", ".join(f"thing{number}" for number in range(400)))
    assert error.value.issues[0].where == "products/0/other_ingredients"
