"""From a choice to what is answered."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.combining.describing import brief, gap_of
from service.domain.combining.searching import Found
from service.domain.screening import screen
from service.domain.screening_answers import ScreenRequest
from tests.domain.combining.cases import CHONDROITIN, DOG, HCL, MSM, REFERENCE, ask, product, target


@pytest.mark.parametrize(
    ("cost", "bound", "gap"),
    [("4", "3", "0.25"), ("3", "2", "0.3334"), ("1", "0", "1"), ("1", "0.99999", "0.00001")],
)
def test_the_gap_is_never_rounded_down(cost: str, bound: str, gap: str) -> None:
    assert gap_of(Found((1,), D(cost), False, D(bound))) == D(gap)
    assert gap_of(Found((1,), D(cost), True, D(cost))) == 0


def test_findings_in_short() -> None:
    # A chew that tastes like food is a note; shell of a mollusc and an allergy to it is more.
    chew = product("p", mg={HCL: 500, "Green-lipped mussel": 50}, other="natural flavor")
    screened = screen(REFERENCE, ScreenRequest(DOG, products=(chew,), conditions=("shellfish allergy",)))
    assert {one.level for one in screened.findings} >= {"note", "avoid"}
    short = brief(screened)
    assert {one.level for one in short} <= {"watch", "veterinarian", "avoid"}
    assert [one.effect for one in short] == [one.effect for one in screened.findings if one.level != "note"]


def test_products_stand_in_the_order_of_the_request_with_what_is_unclear_about_them() -> None:
    targets = (target(HCL, 500, 1000), target(CHONDROITIN, 400, 800), target(MSM, 300, 600))
    products = [
        product("z", mg={HCL: 500}, serving_units=None),
        product("a", mg={CHONDROITIN: 400}, other=None),
        product("m", mg={MSM: 300}),
    ]
    answer = ask(targets, products)
    (one,) = answer.combinations
    assert [part.product_id for part in one.products] == ["z", "a", "m"]
    flags = {part.product_id: part.label_flags for part in one.products}
    assert "serving_not_stated" in flags["z"]
    assert "other_ingredients_not_given" in flags["a"]
    assert flags["m"] == ()
    assert "other_ingredients_not_given" in {caution.code for caution in answer.cautions}


def test_currencies_without_a_minor_unit() -> None:
    # 1000 for 3 in a currency without cents: 333.3333 a day, 10,000 for 30 days, 121,667 for 365.
    tablet = product("p", 1000, mg={HCL: 500}, unit_count=D(3), currency="JPY")
    (one,) = ask((target(HCL, 500, 1000),), [tablet]).combinations
    assert (one.cost_per_day, one.cost_per_30_days, one.cost_per_365_days) == (D("333.3333"), D(10000), D(121667))
