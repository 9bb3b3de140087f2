"""Weights to come: by day or by date, each day once."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

import pytest

from service.domain.common import Animal
from service.domain.course.days import DayCount
from service.domain.course.request import PlanRequest, WeightOn
from service.domain.course.weights import WeightFrom, weights_over
from service.domain.errors import InvalidInput
from tests.domain.course.making import DOG, pack, planned

START = DayCount(date(2027, 1, 1))


def _over(*weights: WeightOn, count: DayCount = START) -> tuple[WeightFrom, ...]:
    return weights_over(PlanRequest(DOG, (pack(),), weights=weights), count)


def test_in_order_of_days() -> None:
    found = _over(WeightOn(D(30), on=date(2027, 3, 1)), WeightOn(D(32), day=31))
    assert found == (WeightFrom(0, D(34)), WeightFrom(30, D(32)), WeightFrom(59, D(30)))


@pytest.mark.parametrize(
    ("weights", "where", "detail"),
    [
        ((WeightOn(D(30), 5), WeightOn(D(31), 5)), "weights/1", "second weight"),
        ((WeightOn(D(33), 1),), "weights/0", "for the first day"),
        ((WeightOn(D(30)),), "weights/0/day", "exactly one"),
        ((WeightOn(D(30), 5, date(2027, 2, 1)),), "weights/0/day", "exactly one"),
        ((WeightOn(D(30), on=date(2026, 12, 31)),), "weights/0/date", "before the start"),
        ((WeightOn(D(300), 5),), "weights/0", "outside 0.1 to 120 kg"),
    ],
)
def test_what_cannot_be_is_refused(weights: tuple[WeightOn, ...], where: str, detail: str) -> None:
    with pytest.raises(InvalidInput, match=detail) as caught:
        _over(*weights)
    assert [issue.where for issue in caught.value.issues] == [where]


def test_a_date_needs_a_start() -> None:
    with pytest.raises(InvalidInput, match="needs a start_date"):
        _over(WeightOn(D(30), on=date(2027, 2, 1)), count=DayCount())


def test_the_animal_must_be_weighed() -> None:
    with pytest.raises(InvalidInput, match="is needed") as caught:
        weights_over(PlanRequest(Animal("dog"), (pack(),)), START)
    assert caught.value.issues[0].where == "animal/weight"


def test_amounts_from_guidance_follow_the_weight() -> None:
    # 500 mg at 34 kg is 14.7 mg/kg: at 51 kg 750 mg, one and a half tablets of 500 mg.
    answer = planned(loading=False, horizon_days=100, weights=(WeightOn(D(51), day=51),))
    assert [(phase.from_day, phase.to_day, phase.weight_kg, phase.units_per_day) for phase in answer.phases] == [
        (1, 50, D(34), D(1)),
        (51, 100, D(51), D("1.5")),
    ]


def test_amounts_of_the_caller_do_not() -> None:
    answer = planned(pack(units_per_day=D(1)), horizon_days=100, weights=(WeightOn(D(51), day=51),))
    assert [(phase.weight_kg, phase.units) for phase in answer.phases] == [(D(34), D(50)), (D(51), D(50))]
