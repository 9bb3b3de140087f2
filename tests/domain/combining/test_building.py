"""Which products may be used, and the rules over them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.combining.building import Case, build, most_units, reached_without
from service.domain.combining.intake import read_contents
from service.domain.combining.programme import ENERGY, HARM, LIMIT, RANGE, TARGET
from service.domain.combining.request import CombineRequest
from service.domain.combining.screens import Screens
from service.domain.combining.upper_limits import upper_limits
from service.domain.targets import settle_target
from tests.domain.combining.cases import CHONDROITIN, DOG, HCL, MSM, REFERENCE, product, request, target

TARGETS = (target(HCL, 500, 1000), target(CHONDROITIN, 400, 800))
RANGES = tuple(settle_target(REFERENCE, DOG, one, "low", "targets/0") for one in TARGETS)


def _case(wanted: CombineRequest) -> Case:
    contents = read_contents(REFERENCE, wanted, RANGES)
    limits = upper_limits(REFERENCE, contents, wanted.animal)
    return build(REFERENCE, wanted, contents, RANGES, limits, Screens(REFERENCE, wanted))


def _left(case: Case) -> dict[str, list[str]]:
    return {one.product_id: [reason.code for reason in one.reasons] for one in case.left_out}


def test_products_that_may_be_used_keep_their_places() -> None:
    case = _case(request(TARGETS, [product("a"), product("b", mg={HCL: 500}), product("c", mg={CHONDROITIN: 200})]))
    assert (case.places, case.programme.names) == ((1, 2), ("b", "c"))
    assert case.content(1).product.id == "c"
    assert _left(case) == {"a": ["holds_no_target"]}


def test_every_reason_against_a_product_is_told() -> None:
    bad = product("bad", mg={MSM: 500, "Vitamin D3": "90 mcg"}, price=None, currency=None, other="xylitol")
    assert _left(_case(request(TARGETS, [bad]))) == {
        "bad": ["avoid_finding", "cost_unknown", "holds_no_target", "too_much_in_smallest_part"]
    }


def test_rules_over_targets_limits_and_energy() -> None:
    tablet = product("p", mg={HCL: 300, CHONDROITIN: 200, "Vitamin D3": "5 mcg", "Caffeine": 5}, unit_energy_kcal=D(9))
    case = _case(request(TARGETS, [tablet]))
    kinds = [row.kind for row in case.programme.rows]
    assert kinds.count(TARGET) == kinds.count(RANGE) == 2
    assert kinds.count(ENERGY) == 1
    # Vitamin D, and the highest recorded amounts of the two joint supplements; the hazards of vitamin D and caffeine,
    # which counts in its sum with theobromine too.
    assert {row.ingredient for row in case.programme.rows if row.kind == LIMIT} == {
        "vitamin-d",
        "glucosamine",
        "chondroitin-sulfate",
    }
    assert {row.ingredient for row in case.programme.rows if row.kind == HARM} == {
        "vitamin-d",
        "caffeine",
        "methylxanthines",
    }
    # Three tablets hold 900 mg, four 1200.
    assert case.base.caps == (20,)
    assert case.programme.caps == (3,)


def test_what_no_product_holds_has_no_rule_but_stays_a_target() -> None:
    case = _case(request(TARGETS, [product("p", mg={HCL: 300})]))
    rows = {(row.kind, row.ingredient) for row in case.programme.rows}
    assert (TARGET, "chondroitin-sulfate") in rows
    assert (RANGE, "chondroitin-sulfate") not in rows
    assert not any(row.kind == ENERGY for row in case.programme.rows)


@pytest.mark.parametrize(("unit", "most"), [("tablet", 20), ("ml", 1000), ("Gram", 1000)])
def test_how_many_units_may_be_given(unit: str, most: int) -> None:
    (content,) = read_contents(REFERENCE, request(TARGETS, [product("p", unit=unit)]), RANGES).products
    assert most_units(content) == D(most)


def test_what_is_given_already_lowers_what_is_left() -> None:
    already = product("s", mg={HCL: 300, "Vitamin D3": "10 mcg"}, units_per_day=D(1))
    tablet = product("p", mg={HCL: 100, "Vitamin D3": "1 mcg"})
    wanted = request(TARGETS, [tablet], other_supplements=(already,))
    apart = {(row.kind, row.ingredient): row for row in _case(wanted).programme.rows}
    counted = {
        (row.kind, row.ingredient): row for row in _case(replace(wanted, count_other_supplements=True)).programme.rows
    }
    assert apart[TARGET, "glucosamine"].least == D(500)
    assert round(counted[TARGET, "glucosamine"].least or D(0), 9) == D(200)
    assert counted[TARGET, "glucosamine"].bound == D(500)
    assert round(counted[RANGE, "glucosamine"].most or D(0), 9) == D(700)
    for rows in (apart, counted):
        vitamin = rows[LIMIT, "vitamin-d"]
        assert vitamin.most == vitamin.bound - D("0.01")


def test_whether_anything_is_needed() -> None:
    enough = product("s", mg={HCL: 500, CHONDROITIN: 400}, units_per_day=D(1))
    wanted = request(TARGETS, (), other_supplements=(enough,))
    contents = read_contents(REFERENCE, wanted, RANGES)
    assert not reached_without(wanted, contents, RANGES)
    counted = replace(wanted, count_other_supplements=True)
    assert reached_without(counted, contents, RANGES)
    less = replace(counted, other_supplements=(product("s", mg={HCL: 500, CHONDROITIN: 399}),))
    assert not reached_without(less, read_contents(REFERENCE, less, RANGES), RANGES)
