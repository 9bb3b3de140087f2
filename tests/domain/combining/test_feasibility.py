"""The check from the labels: every rule broken once, and what keeps to all of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.combining.feasibility import faults
from service.domain.combining.request import HIGH_READING, CombineRequest
from service.domain.combining.screens import Screens
from service.domain.products import STEP_OF
from service.domain.targets import settle_target
from tests.domain.combining.cases import HCL, MSM, REFERENCE, product, request, target

TABLET = product("tablet", mg={HCL: 200}, divisible="halves")
POWDER = product("powder", mg={MSM: 300}, unit="g")
WANTED = request([target(HCL, 500, 1000), target(MSM, 400, 800)], [TABLET, POWDER])


def _faults(wanted: CombineRequest, units: Mapping[str, str]) -> tuple[str, ...]:
    ranges = tuple(
        settle_target(REFERENCE, wanted.animal, one, wanted.aim, f"targets/{index}")
        for index, one in enumerate(wanted.targets)
    )
    counted = {id_: D(count) for id_, count in units.items()}
    screens = Screens(REFERENCE, wanted)
    choice = {
        place: int(max(counted[one.id] / STEP_OF[one.divisible], D(1)))
        for place, one in enumerate(wanted.products)
        if one.id in counted
    }
    screened = screens.of(choice) if choice else screens.before
    return faults(REFERENCE, wanted, ranges, counted, screens.before, screened)


@pytest.mark.parametrize("units", [{"tablet": "2.5", "powder": "2"}, {"tablet": "5", "powder": "2"}])
def test_what_keeps_to_everything(units: dict[str, str]) -> None:
    assert _faults(WANTED, units) == ()


@pytest.mark.parametrize(
    ("units", "says"),
    [
        ({"tablet": "2", "powder": "2"}, "glucosamine: 400 mg do not reach 500 mg."),
        ({"tablet": "5.5", "powder": "2"}, "glucosamine: 1100 mg pass 1000 mg."),
        ({"tablet": "3"}, "msm: 0 mg do not reach 400 mg."),
        ({"tablet": "2.75", "powder": "2"}, "tablet: 2.75 units cannot be given of what divides into halves."),
        ({"tablet": "3", "powder": "-1"}, "powder: -1 units cannot be given of what divides into whole."),
        ({"tablet": "3", "other": "1"}, "other is no product of the request."),
        ({}, "0 products are not 1 to 3."),
    ],
)
def test_what_is_broken(units: dict[str, str], says: str) -> None:
    assert says in _faults(WANTED, units)


def test_the_number_of_products() -> None:
    assert _faults(replace(WANTED, most_products=1), {"tablet": "3", "powder": "2"}) == ("2 products are not 1 to 1.",)


def test_the_number_of_units() -> None:
    weak = product("weak", mg={HCL: 20})
    wanted = request([target(HCL, 410, 1000)], [weak])
    assert _faults(wanted, {"weak": "21"}) == ("weak: 21 units a day are too many.",)
    # Grams are measured, not counted.
    assert _faults(request([target(HCL, 410, 1000)], [replace(weak, unit="g")]), {"weak": "21"}) == ()


def test_a_cost_that_is_not_known() -> None:
    free = replace(TABLET, price=None, currency=None)
    assert "tablet: its cost is not known." in _faults(replace(WANTED, products=(free, POWDER)), {"tablet": "3"})


def test_which_reading_the_high_end_is_held_against() -> None:
    # 400 mg of "glucosamine" hold 285 to 481 mg as hydrochloride.
    wanted = request([target(HCL, 500, 900)], [product("open", mg={"Glucosamine": 400})])
    assert _faults(wanted, {"open": "2"}) == ()
    (fault,) = _faults(replace(wanted, high_end_on=HIGH_READING), {"open": "2"})
    assert fault.endswith("mg pass 900 mg.")


def test_energy_with_what_is_given_already() -> None:
    # 34 kg: 70 x 34^0.75 = 985.6 kcal at rest, of which a tenth.
    rich = replace(TABLET, unit_energy_kcal=D(30))
    wanted = request([target(HCL, 500, 1000)], [rich])
    assert _faults(wanted, {"tablet": "3"}) == ()
    treat = product("treat", unit_energy_kcal=D(10), units_per_day=D(1))
    (fault,) = _faults(replace(wanted, other_supplements=(treat,)), {"tablet": "3"})
    assert fault == "100 kcal a day are more than 98.5615 kcal."
    # What is too much already is no fault of a product that brings none.
    feast = replace(treat, units_per_day=D(50))
    assert _faults(replace(wanted, products=(TABLET,), other_supplements=(feast,)), {"tablet": "3"}) == ()


def test_upper_limits_and_what_must_not_be_given() -> None:
    # 36.6 ug of vitamin D are the most for this dog.
    bright = product("bright", mg={HCL: 500, "Vitamin D3": "20 mcg"})
    wanted = request([target(HCL, 500, 1000)], [bright])
    assert _faults(wanted, {"bright": "1"}) == ()
    assert _faults(wanted, {"bright": "2"}) == ("vitamin-d: more than its upper limit.",)
    sweet = product("sweet", mg={HCL: 500}, other="xylitol")
    (fault,) = _faults(request([target(HCL, 500, 1000)], [sweet]), {"sweet": "1"})
    assert fault.startswith("Xylitol")


def test_other_supplements_count_towards_targets_only_where_they_are_to() -> None:
    already = replace(TABLET, id="s", units_per_day=D(2))
    wanted = request([target(HCL, 500, 1000)], [TABLET], other_supplements=(already,))
    assert _faults(wanted, {"tablet": "0.5"}) == ("glucosamine: 100 mg do not reach 500 mg.",)
    counted = replace(wanted, count_other_supplements=True)
    assert _faults(counted, {"tablet": "0.5"}) == ()
    assert _faults(counted, {"tablet": "3.5"}) == ("glucosamine: 1100 mg pass 1000 mg.",)
