"""Why nothing fits, each reason by itself, in words with numbers and units."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.combining.answer import NOTHING_FITS, Block, CombineAnswer
from service.domain.combining.combining import combine
from service.domain.combining.request import HIGH_READING
from tests.domain.combining.cases import CHONDROITIN, HCL, MSM, REFERENCE, ask, product, request, target

GLUCOSAMINE = (target(HCL, 500, 1000),)
BOTH = (target(HCL, 500, 1000), target(CHONDROITIN, 400, 800))
Told = tuple[str, str | None, D | None, D | None, str | None]


def _blocks(answer: CombineAnswer) -> list[Told]:
    assert (answer.status, answer.gap, answer.combinations) == (NOTHING_FITS, None, ())
    return [(one.kind, one.ingredient, one.needed, one.reachable, one.unit) for one in answer.blocked_by]


def _kinds(answer: CombineAnswer) -> list[str]:
    return [block[0] for block in _blocks(answer)]


def _one(answer: CombineAnswer, kind: str) -> Block:
    (found,) = [one for one in answer.blocked_by if one.kind == kind]
    return found


def test_no_product_may_be_used() -> None:
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 500}, other="xylitol"), product("q", mg={MSM: 500})])
    assert _blocks(answer) == [("products", None, None, None, None)]
    assert len(answer.left_out) == 2
    assert answer.search_complete


def test_no_product_holds_a_target() -> None:
    answer = ask(BOTH, [product("p", mg={HCL: 500}), product("q", mg={CHONDROITIN: 400}, other="xylitol")])
    assert _blocks(answer) == [("target", "chondroitin-sulfate", D(400), D(0), "mg")]
    assert answer.blocked_by[0].detail == (
        "No product that may be used holds any chondroitin-sulfate that its label credits; see `left_out`."
    )


def test_too_little_of_one_target() -> None:
    # Twenty tablets of 15 mg are all that is counted.
    answer = ask(BOTH, [product("p", mg={HCL: 500}), product("q", mg={CHONDROITIN: 15})])
    assert _blocks(answer) == [
        ("units_per_day", None, D(20), D(27), "units"),
        ("target", "chondroitin-sulfate", D(400), D(300), "mg"),
    ]
    assert [one.detail for one in answer.blocked_by] == [
        "It takes 27 units a day of q; more than 20 are not kept up.",
        "At most 300 mg of chondroitin-sulfate a day are reached while everything else holds; the aim is 400 mg.",
    ]


def test_too_few_products() -> None:
    answer = ask(BOTH, [product("p", mg={HCL: 500}), product("q", mg={CHONDROITIN: 400})], most_products=1)
    assert ("most_products", None, D(1), D(2), "products") in _blocks(answer)
    assert _one(answer, "most_products").detail == "It takes at least 2 products; most_products is 1."
    # With one product only, either target could be reached if the other did not have to be.
    assert [(one.ingredient, one.reachable) for one in answer.blocked_by if one.kind == "target"] == [
        ("glucosamine", D(0)),
        ("chondroitin-sulfate", D(0)),
    ]


def test_an_upper_limit() -> None:
    # Three tablets would do; each brings 15 ug of vitamin D, and 36.6 ug are the most.
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 200, "Vitamin D3": "15 mcg"})])
    block = _one(answer, "limit")
    assert (block.ingredient, block.limit_id, block.limit_origin) == ("vitamin-d", "vitamin-d-dog-nrc", "memory")
    assert (block.needed, block.reachable, block.unit) == (D("0.0366086"), D("0.045"), "mg")
    assert block.detail == (
        "At least 0.045 mg of vitamin-d a day come along while everything else holds; the recalled maximum "
        "(vitamin-d-dog-nrc) is 0.0366086 mg."
    )
    assert set(block.source_ids) <= set(answer.source_ids)
    assert {caution.code for caution in answer.cautions} >= {"from_memory"}
    # Without that limit 400 mg are what two tablets hold.
    assert [(one.ingredient, one.reachable) for one in answer.blocked_by if one.kind == "target"] == [
        ("glucosamine", D(400))
    ]


def test_an_upper_limit_with_what_is_given_already() -> None:
    drops = product("drops", mg={"Vitamin D3": "10 mcg"}, units_per_day=D(1))
    tablet = product("p", mg={HCL: 250, "Vitamin D3": "15 mcg"})
    assert ask(GLUCOSAMINE, [tablet]).combinations
    answer = ask(GLUCOSAMINE, [tablet], other_supplements=(drops,))
    assert _one(answer, "limit").reachable == D("0.04")
    assert "0.01 mg of it given already" in _one(answer, "limit").detail


def test_harm_from_a_hazard() -> None:
    # Ten tablets would do, with 2000 mg of caffeine: more than 51 mg/kg (tier caffeine-dog-signs-severe-1) and more
    # than 40 mg/kg of caffeine and theobromine together.
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 50, "Caffeine": 200})])
    assert [block[:4] for block in _blocks(answer)] == [
        ("harm", "caffeine", D(51 * 34), D(2000)),
        ("harm", "methylxanthines", D(40 * 34), D(2000)),
        ("target", "glucosamine", D(500), D(300)),
    ]
    assert [one.limit_id for one in answer.blocked_by][:2] == [
        "caffeine-dog-signs-severe-1",
        "methylxanthines-dog-signs-severe-1",
    ]
    assert answer.blocked_by[0].detail == (
        "At least 2000 mg of caffeine a day come along while everything else holds; the lowest amount of Caffeine from "
        "which harm is published (caffeine-dog-signs-severe-1) is 1734 mg."
    )
    assert answer.search_complete


def test_the_energy() -> None:
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 100}, unit="chew", unit_energy_kcal=D(30))])
    assert ("energy", None, D("98.5615"), D(150), "kcal") in _blocks(answer)
    assert _one(answer, "energy").detail == (
        "At least 150 kcal a day come along while everything else holds; a tenth of the resting energy need is "
        "98.5615 kcal."
    )


def test_the_high_end_of_a_range_and_parts_that_cannot_be_given() -> None:
    # One tablet is too little, two too much; one and two thirds would be right.
    answer = ask((target(HCL, 500, 550),), [product("p", mg={HCL: 300})])
    assert _blocks(answer) == [
        ("target", "glucosamine", D(500), D(300), "mg"),
        ("range", "glucosamine", D(550), D(600), "mg"),
        ("divisibility", None, None, None, None),
    ]
    assert _one(answer, "range").detail == (
        "At least 600 mg of glucosamine a day come along while everything else holds; the high end of its range is "
        "550 mg."
    )
    assert _one(answer, "divisibility").detail.startswith("Only parts of units that cannot be given would fit")
    assert ask((target(HCL, 500, 550),), [product("p", mg={HCL: 300}, divisible="quarters")]).combinations


def test_the_high_end_of_another_target() -> None:
    # To reach chondroitin, 1500 mg of glucosamine would come along.
    answer = ask(BOTH, [product("p", mg={HCL: 750, CHONDROITIN: 200})])
    assert ("range", "glucosamine", D(1000), D(1500), "mg") in _blocks(answer)
    assert ("target", "chondroitin-sulfate", D(400), D(200), "mg") in _blocks(answer)


def test_the_high_reading() -> None:
    answer = ask(GLUCOSAMINE, [product("p", mg={"Glucosamine": 500})], high_end_on=HIGH_READING)
    assert "on the high reading of the labels is 1000 mg" in _one(answer, "range").detail


def test_what_the_screen_stops() -> None:
    garlic = product("garlic", mg={HCL: 500, "Garlic powder": 5})
    methionine = product("methionine", mg={CHONDROITIN: 400, "Methionine": 5})
    answer = ask(BOTH, [garlic, methionine])
    assert "screen" in _kinds(answer)
    assert len(answer.rejected_sets) == 1


def test_several_rules_at_once() -> None:
    # Neither target can be reached, so that no single rule is to blame: what can be reached of both.
    answer = ask(BOTH, [product("p", mg={HCL: 20}), product("q", mg={CHONDROITIN: 10})], most_products=2)
    assert _blocks(answer) == [
        ("units_per_day", None, D(20), D(40), "units"),
    ]
    rich = [
        product("p", mg={HCL: 20}, unit_energy_kcal=D(4)),
        product("q", mg={CHONDROITIN: 10}, unit_energy_kcal=D(2)),
    ]
    answer = ask(BOTH, rich)
    assert {block[0] for block in _blocks(answer)} == {"target"}
    assert all("where all targets are reached as far as possible" in one.detail for one in answer.blocked_by)
    reached = {one.ingredient: one.reachable for one in answer.blocked_by}
    # 98.56 kcal: 15 of p (60 kcal) bring 0.6 of the one aim, 19 of q (38 kcal) 0.475 of the other. One more of q would
    # cost one of p: 0.56 and 0.5 are less.
    assert reached == {"glucosamine": D(300), "chondroitin-sulfate": D(190)}


def _clock(times: Sequence[float]) -> Callable[[], float]:
    left = list(times)
    return lambda: left.pop(0) if len(left) > 1 else left[0]


@pytest.mark.parametrize("looked", [0, 1, 2])
def test_reasons_that_there_was_no_time_for(looked: int) -> None:
    wanted = request(BOTH, [product("p", mg={HCL: 500}), product("q", mg={CHONDROITIN: 15})])
    # A reading of the clock to begin, two for the search, which asks twice before it believes that nothing fits, two
    # around the reasons, then at least one for each of them.
    answer = combine(REFERENCE, wanted, _clock([0.0] * (5 + looked) + [100.0]))
    assert answer.status == NOTHING_FITS
    assert not answer.search_complete
    complete = combine(REFERENCE, wanted, time.monotonic)
    assert complete.search_complete
    assert set(answer.blocked_by) <= set(complete.blocked_by)
    assert len(answer.blocked_by) <= looked


def test_the_reasons_get_half_of_the_time_where_the_search_took_all_of_it() -> None:
    wanted = replace(
        request(BOTH, [product("p", mg={HCL: 500}), product("q", mg={CHONDROITIN: 15})]), time_limit_seconds=D(4)
    )
    # The search ends at 3.9 of 4 seconds; the reasons may still take 2.
    answer = combine(REFERENCE, wanted, _clock([0.0, 0.0, 0.0, 3.9, 3.9, 5.8]))
    assert answer.search_complete
    assert answer.blocked_by
