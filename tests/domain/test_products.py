"""The parts a unit can be given in."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.products import STEP_OF, LabelFact, Product


def test_every_word_of_the_contract_has_a_step() -> None:
    assert set(STEP_OF) == {"whole", "halves", "quarters", "opens", "millilitre_tenths", "scoop_halves"}


@pytest.mark.parametrize("step", STEP_OF.values())
def test_whole_units_can_always_be_given(step: D) -> None:
    assert D(1) % step == 0


def test_a_product_says_nothing_unless_told() -> None:
    product = Product("p")
    assert (product.price, product.unit_count, product.serving_units, product.unit_mass_g) == (None, None, None, None)
    assert (product.divisible, product.facts, product.other_ingredients) == ("whole", (), None)
    assert LabelFact("MSM", None).amount is None
