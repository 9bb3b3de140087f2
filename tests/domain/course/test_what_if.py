"""The course with one thing changed."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.common import Animal
from service.domain.course.answer import WhatIf
from service.domain.course.request import Change, PhaseWanted, PriceBreak, WeightOn
from service.domain.errors import InvalidInput
from service.domain.products import LabelFact
from tests.domain.course.making import pack, planned, units


def _by(answer_list: tuple[WhatIf, ...], change: str, which: object) -> WhatIf:
    return next(one for one in answer_list if one.change == change and which in (one.factor, one.aim))


def test_price_weight_and_aim_in_one_answer() -> None:
    answer = planned(loading=False, horizon_days=365)
    assert [(one.change, one.factor, one.aim) for one in answer.what_if] == [
        ("price", D("0.9"), None),
        ("price", D("1.1"), None),
        ("weight", D("0.9"), None),
        ("weight", D("1.1"), None),
        ("aim", None, "middle"),
        ("aim", None, "high"),
    ]
    # 365 x 0.12 = 43.80; a tenth dearer 48.18.
    dearer = _by(answer.what_if, "price", D("1.1"))
    assert (dearer.consumed_cost, dearer.consumed_difference) == (D("48.18"), D("4.38"))
    # At 37.4 kg 550 mg are wanted: one and a half tablets, 65.70.
    heavier = _by(answer.what_if, "weight", D("1.1"))
    assert (heavier.units_per_day, heavier.consumed_cost, heavier.consumed_difference) == (
        D("1.5"),
        D("65.70"),
        D("21.90"),
    )
    high = _by(answer.what_if, "aim", "high")
    assert (high.units_per_day, high.paid_cost) == (D(2), D("100.80"))  # 730 tablets are seven packs


def test_the_caller_may_choose() -> None:
    answer = planned(what_if=(Change(price_factor=D(2)),), horizon_days=90)
    assert [(one.change, one.paid_cost) for one in answer.what_if] == [("price", D("57.60"))]
    assert planned(what_if=()).what_if == ()


def test_amounts_that_are_given_do_not_move_with_the_weight() -> None:
    answer = planned(phases=(units("1", 30),))
    for one in answer.what_if:
        if one.change != "price":
            assert (one.paid_difference, one.consumed_difference) == (D(0), D(0))
            assert one.effect.startswith("No effect")


def test_aims_of_phases_follow_the_weight() -> None:
    answer = planned(phases=(PhaseWanted(aim="low", days=100),))
    assert _by(answer.what_if, "weight", D("1.1")).units_per_day == D("1.5")
    assert _by(answer.what_if, "aim", "high").effect.startswith("No effect")


def test_a_weight_beyond_the_accepted_ones_is_said() -> None:
    answer = planned(animal=Animal("dog", D(115), D(6)))
    heavier = _by(answer.what_if, "weight", D("1.1"))
    assert (heavier.paid_cost, heavier.paid_difference) == (None, None)
    assert heavier.effect == "Outside 0.1 to 120 kg, the range accepted."


def test_a_change_that_cannot_be_planned_says_why() -> None:
    # 4000 containers of one unit are the most; at half as much again there would be more.
    answer = planned(pack(unit_count=D(1)), loading=False, horizon_days=3000, what_if=(Change(weight_factor=D("1.5")),))
    (heavier,) = answer.what_if
    assert heavier.paid_cost is None
    assert "more than 4000 containers" in heavier.effect


def test_later_weights_and_price_breaks_move_too() -> None:
    told = pack(price_breaks=(PriceBreak(3, D(12)),))
    both = (Change(price_factor=D(2)), Change(weight_factor=D("1.5")))
    answer = planned(told, loading=False, horizon_days=840, weights=(WeightOn(D(51), day=421),), what_if=both)
    dearer, heavier = answer.what_if
    assert dearer.paid_cost == (answer.paid_cost or 0) * 2
    # 51 kg want 750 mg, 76.5 kg 1125 mg: two and a half tablets in the end.
    assert heavier.units_per_day == D("2.5")


@pytest.mark.parametrize("change", [Change(), Change(price_factor=D(2), aim="high")])
def test_one_thing_at_a_time(change: Change) -> None:
    with pytest.raises(InvalidInput, match="exactly one of") as caught:
        planned(what_if=(Change(aim="high"), change))
    assert caught.value.issues[0].where.startswith("what_if/1/")


def test_units_of_the_product_itself_do_not_move() -> None:
    answer = planned(pack(units_per_day=D(1)), horizon_days=30)
    assert {one.units_per_day for one in answer.what_if} == {1}
    assert all(one.effect.startswith("No effect") for one in answer.what_if if one.change != "price")


def test_a_price_that_is_not_known_stays_unknown() -> None:
    answer = planned(pack(price=None, currency=None, facts=(LabelFact("Glucosamine HCl", "500 mg"),)))
    assert {one.consumed_cost for one in answer.what_if} == {None}
