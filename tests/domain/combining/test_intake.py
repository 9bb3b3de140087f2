"""What parts of products bring: it adds up, and twice as much brings twice as much."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.combining.intake import Intake, read_contents
from service.domain.errors import InvalidInput
from service.domain.products import Product
from service.domain.targets import settle_target
from tests.domain.combining.cases import DOG, HCL, MSM, OIL, REFERENCE, product, request, target

TARGETS = (target(HCL, 500, 1000), target(OIL, 500, 1000))
RANGES = tuple(settle_target(REFERENCE, DOG, one, "low", "targets/0") for one in TARGETS)


def _given(*supplements: Product) -> Intake:
    return read_contents(REFERENCE, request(TARGETS, (), other_supplements=supplements), RANGES).given


def test_the_smallest_part_of_a_product() -> None:
    tablet = product("p", 12, mg={HCL: 500, "EPA": 180, "DHA": 120, "Vitamin D3": "4 mcg"}, divisible="quarters")
    tablet = replace(tablet, unit_energy_kcal=D(8))
    (content,) = read_contents(REFERENCE, request(TARGETS, [tablet]), RANGES).products
    assert (content.step, content.cost) == (D("0.25"), D("0.03"))
    assert [round(end, 9) for pair in content.intake.targets for end in pair] == [D(125), D(125), D(75), D(75)]
    assert content.intake.substances["vitamin-d", "cholecalciferol"] == D("0.001")
    # EPA and DHA are parts of one sum.
    assert content.intake.substances["epa-dha", "EPA + DHA"] == D(75)
    assert content.intake.energy_kcal == D(2)


def test_a_product_without_a_price_has_no_cost() -> None:
    contents = read_contents(REFERENCE, request(TARGETS, [product("p", price=None)]), RANGES)
    assert contents.products[0].cost is None


def test_how_much_is_given_of_another_supplement() -> None:
    two = product("s", mg={MSM: 300}, serving_units=D(2))
    assert _given(two).substances["msm", "MSM"] == D(300)
    assert _given(replace(two, units_per_day=D(3))).substances["msm", "MSM"] == D(450)
    assert _given(replace(two, serving_units=None)).substances["msm", "MSM"] == D(300)
    assert _given().substances == {}


def test_other_supplements_add_up() -> None:
    one = product("s", mg={HCL: 200, "Caffeine": 10}, units_per_day=D(2), unit_energy_kcal=D(3))
    other = product("t", mg={"Glucosamine": 100, "Caffeine": 5}, units_per_day=D(1), unit_energy_kcal=D(4))
    both, first, second = _given(one, other), _given(one), _given(other)
    for place in range(2):
        for end in range(2):
            assert both.targets[place][end] == first.targets[place][end] + second.targets[place][end]
    for key in both.substances:
        assert both.substances[key] == first.substances.get(key, D(0)) + second.substances.get(key, D(0))
    assert both.hazards["caffeine"] == D(25)
    assert both.named_hazards == first.named_hazards | second.named_hazards == {"caffeine"}
    assert both.energy_kcal == D(10)


def test_an_amount_that_cannot_be_read_is_named_where_it_stands() -> None:
    wrong = product("q", mg={MSM: "5OO mg"})
    with pytest.raises(InvalidInput) as caught:
        read_contents(REFERENCE, request(TARGETS, [product("p"), wrong]), RANGES)
    assert [issue.where for issue in caught.value.issues] == ["products/1/facts/0/amount"]
