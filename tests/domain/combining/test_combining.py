"""The cheapest combination from labels to answer, for a dog of 34 kg unless told otherwise. Everything is invented."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal as D
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.combining import combining
from service.domain.combining.answer import (
    BEST_FOUND,
    NOT_SETTLED,
    NOTHING_FITS,
    NOTHING_NEEDED,
    OPTIMAL,
    Combination,
    CombineAnswer,
)
from service.domain.combining.combining import combine
from service.domain.combining.request import HIGH_READING
from service.domain.common import Animal
from service.domain.errors import InvalidInput, NoGuidance, UnknownIngredient
from service.domain.products import Product
from service.domain.targets import Target
from tests.domain.combining.cases import (
    CHONDROITIN,
    DOG,
    HCL,
    MSM,
    OIL,
    REFERENCE,
    ask,
    product,
    request,
    shown,
    target,
)

BOTH = (target(HCL, 500, 1000), target(CHONDROITIN, 400, 800))
GLUCOSAMINE = (target(HCL, 500, 1000),)


def _codes(answer: CombineAnswer) -> set[str]:
    return {caution.code for caution in answer.cautions}


def _only(answer: CombineAnswer) -> Combination:
    (one,) = answer.combinations
    return one


def test_a_worked_example() -> None:
    # Per tablet: a 0.10, b 0.20, both in one c 0.35, half as strong d 0.12.
    # a + b: 0.30. c alone: 0.35. Two of d with b: 0.24 + 0.20 = 0.44. (c with anything only adds to c.)
    answer = ask(
        BOTH,
        [
            product("a", 10, mg={HCL: 500}),
            product("b", 20, mg={CHONDROITIN: 400}),
            product("c", 35, mg={HCL: 500, CHONDROITIN: 400}),
            product("d", 12, mg={HCL: 250, MSM: 300}),
        ],
    )
    assert shown(answer) == [
        ("0.3", {"a": "1", "b": "1"}),
        ("0.35", {"c": "1"}),
        ("0.44", {"b": "1", "d": "2"}),
    ]
    assert (answer.status, answer.gap, answer.search_complete) == (OPTIMAL, D(0), True)
    assert [one.rank for one in answer.combinations] == [1, 2, 3]
    assert [one.more_than_cheapest_per_day for one in answer.combinations] == [D(0), D("0.05"), D("0.14")]
    first = answer.combinations[0]
    assert (first.cost_per_30_days, first.cost_per_365_days, first.currency) == (D(9), D("109.50"), "EUR")
    assert [part.cost_per_day for part in first.products] == [D("0.1"), D("0.2")]
    assert [part.container_lasts_days for part in first.products] == [D(100), D(100)]
    assert [(one.ingredient, one.achieved_mg, one.share_of_low) for one in first.targets] == [
        ("glucosamine", D(500), D(1)),
        ("chondroitin-sulfate", D(400), D(1)),
    ]
    assert (first.verdict, first.units_per_day, first.energy_kcal_per_day) == ("nothing_found", D(2), None)
    assert (answer.left_out, answer.rejected_sets, answer.blocked_by) == ((), (), ())


def test_money_is_exact_and_rounded_only_at_the_end() -> None:
    # 1.00 for 3: a third a day for each; together two thirds, 0.6667, though twice 0.3333 would be 0.6666.
    thirds = [
        product("a", 1, mg={HCL: 500}, unit_count=D(3)),
        product("b", 1, mg={CHONDROITIN: 400}, unit_count=D(3)),
    ]
    one = _only(ask(BOTH, thirds))
    assert [part.cost_per_day for part in one.products] == [D("0.3333"), D("0.3333")]
    assert (one.cost_per_day, one.cost_per_30_days, one.cost_per_365_days) == (D("0.6667"), D(20), D("243.33"))


@pytest.mark.parametrize(
    ("divisible", "units"),
    [("whole", "3"), ("halves", "2.5"), ("quarters", "2.25"), ("opens", "2.5"), ("scoop_halves", "2.5")],
)
def test_units_divide_as_far_as_they_can(divisible: str, units: str) -> None:
    # 240 mg a tablet: 2.083 of them hold 500.
    one = _only(ask(GLUCOSAMINE, [product("p", mg={HCL: 240}, divisible=divisible)]))
    assert one.units_per_day == D(units)


def test_a_liquid_is_measured_by_tenths() -> None:
    liquid = product("p", mg={HCL: "120 mg/ml"}, unit="ml", divisible="millilitre_tenths")
    assert _only(ask(GLUCOSAMINE, [liquid])).units_per_day == D("4.2")


def test_guidance_gives_the_amounts_where_the_caller_does_not() -> None:
    answer = ask((Target("glucosamine"), Target("msm")), [product("p", mg={HCL: 500, MSM: 1700})])
    assert [(one.low_mg, one.high_mg) for one in answer.targets] == [(D(500), D(1000)), (D(1700), D(3400))]
    assert shown(answer) == [("0.1", {"p": "1"})]
    assert "common_practice" in _codes(answer)
    assert set(answer.targets[0].source_ids) <= set(answer.source_ids)


@pytest.mark.parametrize(
    ("aim", "units", "status"),
    [("low", "5", OPTIMAL), ("middle", "8", OPTIMAL), ("high", "9", OPTIMAL)],
)
def test_the_end_of_the_range_that_is_aimed_at(aim: str, units: str, status: str) -> None:
    # 500 to 1000 in steps of 100: 750 needs eight; of the high end nine tenths are enough.
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 100})], aim=aim)
    assert (answer.status, _only(answer).units_per_day) == (status, D(units))


def test_the_number_of_products() -> None:
    parts = [product("a", 1, mg={HCL: 500}), product("b", 1, mg={CHONDROITIN: 400})]
    dear = product("c", 90, mg={HCL: 500, CHONDROITIN: 400})
    assert shown(ask(BOTH, [*parts, dear], most_products=1)) == [("0.9", {"c": "1"})]
    assert len(ask(BOTH, [*parts, dear], most_products=2).combinations) == 2


def test_an_open_form_reaches_the_aim_on_its_low_reading() -> None:
    # 500 mg of "glucosamine" may be 356.1 mg as hydrochloride, or 601.7: two are needed, and pass 1000 on the high one.
    plain = product("plain", mg={"Glucosamine": 500})
    answer = ask(GLUCOSAMINE, [plain])
    one = _only(answer)
    assert one.units_per_day == D(2)
    (result,) = one.targets
    assert result.in_range
    assert result.achieved_high_mg > 1000 > result.achieved_mg > 500
    assert {"judged_on_low_reading", "high_reading_above_range"} <= _codes(answer)
    strict = ask(GLUCOSAMINE, [plain], high_end_on=HIGH_READING)
    assert strict.status == NOTHING_FITS
    halves = ask(GLUCOSAMINE, [replace(plain, divisible="halves")], high_end_on=HIGH_READING)
    assert _only(halves).units_per_day == D("1.5")
    assert "high_reading_above_range" not in _codes(halves)


def test_a_vitamin_that_is_no_target_keeps_a_cheap_product_out() -> None:
    # 36.6 ug of vitamin D are the most for this dog (limit vitamin-d-dog-nrc): one of the bright ones, not two.
    bright = product("bright", 1, mg={HCL: 250, "Vitamin D3": "20 mcg"})
    plain = product("plain", 30, mg={HCL: 250})
    answer = ask(GLUCOSAMINE, [bright, plain])
    assert shown(answer) == [("0.31", {"bright": "1", "plain": "1"}), ("0.6", {"plain": "2"})]
    total = next(one for one in answer.combinations[0].totals if one.ingredient == "vitamin-d")
    assert total.limit_id == "vitamin-d-dog-nrc"
    assert total.high_mg_per_day == D("0.02")
    assert total.share_of_limit is not None
    assert D("0.5") < total.share_of_limit < 1
    # That limit was recalled, not seen.
    assert total.limit_origin == "memory"
    assert "from_memory" in _codes(answer)


def test_what_is_given_already_counts_towards_upper_limits() -> None:
    bright = product("bright", 1, mg={HCL: 500, "Vitamin D3": "20 mcg"})
    plain = product("plain", 30, mg={HCL: 500})
    drops = product("drops", mg={"Vitamin D3": "20 mcg"}, units_per_day=D(1))
    assert shown(ask(GLUCOSAMINE, [bright, plain]))[0] == ("0.01", {"bright": "1"})
    answer = ask(GLUCOSAMINE, [bright, plain], other_supplements=(drops,))
    assert shown(answer) == [("0.3", {"plain": "1"})]
    (left,) = answer.left_out
    assert [reason.code for reason in left.reasons] == ["too_much_in_smallest_part"]
    assert left.reasons[0].detail == (
        "Its smallest part brings 0.02 mg of vitamin-d, and 0.02 mg a day are given already: the recalled maximum "
        "(vitamin-d-dog-nrc) is 0.0366086 mg a day."
    )
    # What was over the limit before leaves the products that add nothing to it.
    flood = ask(GLUCOSAMINE, [bright, plain], other_supplements=(replace(drops, units_per_day=D(9)),))
    assert shown(flood) == [("0.3", {"plain": "1"})]
    assert "already_over_limit" in _codes(flood)


def test_what_is_given_already_counts_towards_targets_only_if_told() -> None:
    tablet = product("tablet", mg={HCL: 250})
    already = product("s", mg={HCL: 250}, units_per_day=D(1))
    apart = ask(GLUCOSAMINE, [tablet], other_supplements=(already,))
    assert _only(apart).units_per_day == D(2)
    assert "given_not_counted" in _codes(apart)
    assert [one.achieved_mg for one in _only(apart).targets] == [D(500)]
    # The screen sees both: the same twice.
    assert "duplicate" in {finding.kind for finding in _only(apart).findings}
    together = ask(GLUCOSAMINE, [tablet], other_supplements=(already,), count_other_supplements=True)
    assert _only(together).units_per_day == D(1)
    assert [one.achieved_mg for one in _only(together).targets] == [D(500)]
    assert "given_not_counted" not in _codes(together)


def test_where_enough_is_given_already_nothing_is_needed() -> None:
    already = product("s", mg={HCL: 500}, units_per_day=D(1))
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 500})], other_supplements=(already,), count_other_supplements=True)
    assert (answer.status, answer.gap, answer.combinations, answer.blocked_by) == (NOTHING_NEEDED, None, (), ())
    assert answer.search_complete


def test_no_product_with_a_finding_of_level_avoid() -> None:
    sweet = product("sweet", 1, mg={HCL: 500}, other="xylitol")
    plain = product("plain", 30, mg={HCL: 500})
    answer = ask(GLUCOSAMINE, [sweet, plain])
    assert shown(answer) == [("0.3", {"plain": "1"})]
    (left,) = answer.left_out
    assert (left.product_id, [reason.code for reason in left.reasons]) == ("sweet", ["avoid_finding"])
    assert left.reasons[0].detail.startswith("Xylitol")
    assert left.source_ids
    assert set(left.source_ids) <= set(answer.source_ids)


def test_no_product_that_does_not_go_with_a_medicine_or_a_condition() -> None:
    willow = product("willow", 1, mg={HCL: 500, "Willow bark": 50})
    plain = product("plain", 30, mg={HCL: 500})
    answer = ask(GLUCOSAMINE, [willow, plain], medications=("carprofen",))
    assert [left.product_id for left in answer.left_out] == ["willow"]
    assert [one.name for one in answer.taken_as] == ["carprofen"]
    shellfish = product("mussel", 1, mg={HCL: 500, "Green-lipped mussel": 50})
    answer = ask(GLUCOSAMINE, [shellfish, plain], conditions=("shellfish allergy",))
    assert [left.product_id for left in answer.left_out] == ["mussel"]


def test_what_was_not_understood_is_told() -> None:
    answer = ask(GLUCOSAMINE, [product("p", mg={HCL: 500})], medications=("zzinvented",))
    assert [(one.text, one.where) for one in answer.unrecognised] == [("zzinvented", "medications")]
    assert _only(answer).verdict == "incomplete"
    assert "screen_each_combination" in _codes(answer)


def test_products_that_do_not_go_together_are_never_a_set() -> None:
    # Garlic and methionine together harm red cells (interaction ix124).
    garlic = product("garlic", 1, mg={HCL: 500, "Garlic powder": 5})
    methionine = product("methionine", 1, mg={CHONDROITIN: 400, "Methionine": 5})
    plain = product("plain", 30, mg={CHONDROITIN: 400})
    answer = ask(BOTH, [garlic, methionine, plain])
    assert shown(answer) == [("0.31", {"garlic": "1", "plain": "1"})]
    (rejected,) = answer.rejected_sets
    assert [(one.product_id, one.units_per_day) for one in rejected.products] == [
        ("garlic", D(1)),
        ("methionine", D(1)),
    ]
    assert rejected.detail.startswith("Red-cell damage")
    assert set(rejected.source_ids) <= set(answer.source_ids)


def test_as_much_as_may_be_given_of_what_is_too_much_from_some_amount_on() -> None:
    # Three of the first would bring a milligram of calcium per kg, too much for this condition: two, and another one.
    cheap = product("cheap", 1, mg={HCL: 200, "Calcium pantothenate": 150})
    plain = product("plain", 30, mg={HCL: 200})
    answer = ask(GLUCOSAMINE, [cheap, plain], conditions=("hypercalcaemia",))
    assert shown(answer) == [("0.32", {"cheap": "2", "plain": "1"}), ("0.9", {"plain": "3"})]
    (rejected,) = answer.rejected_sets
    assert [(one.product_id, one.units_per_day) for one in rejected.products] == [("cheap", D(3))]


def test_energy_counts_over_the_whole_set() -> None:
    # At rest 985.6 kcal, of which a tenth: four chews of 30 kcal are too many, three are not.
    chew = product("chew", 1, mg={HCL: 130}, unit="chew", unit_energy_kcal=D(30))
    plain = product("plain", 90, mg={HCL: 130})
    answer = ask(GLUCOSAMINE, [chew, plain])
    assert shown(answer)[0] == ("0.93", {"chew": "3", "plain": "1"})
    assert answer.combinations[0].energy_kcal_per_day == D(90)


def test_no_more_than_twenty_units_of_what_is_counted() -> None:
    weak = product("weak", 1, mg={HCL: 24})
    assert ask(GLUCOSAMINE, [weak]).status == NOTHING_FITS
    grams = replace(weak, unit="g")
    assert _only(ask(GLUCOSAMINE, [grams])).units_per_day == D(21)


def test_a_product_without_a_price_is_left_out_and_says_so() -> None:
    free = product("free", mg={HCL: 500}, price=None, currency=None)
    idle = product("idle", mg={MSM: 500})
    answer = ask(GLUCOSAMINE, [free, idle, product("p", mg={HCL: 500})])
    assert [(left.product_id, [one.code for one in left.reasons]) for left in answer.left_out] == [
        ("free", ["cost_unknown"]),
        ("idle", ["holds_no_target"]),
    ]


def _facts(answer: CombineAnswer) -> list[tuple[D, tuple[tuple[str, D], ...]]]:
    return [
        (one.cost_per_day, tuple(sorted((part.product_id, part.units_per_day) for part in one.products)))
        for one in answer.combinations
    ]


drawn = st.lists(
    st.tuples(
        st.sampled_from([0, 100, 240, 300, 500]),
        st.sampled_from([0, 100, 200, 400]),
        st.integers(1, 40),
        st.sampled_from(["whole", "halves", "quarters"]),
    ),
    min_size=1,
    max_size=7,
)


def _drawn(labels: list[tuple[int, int, int, str]], factor: int = 1) -> list[Product]:
    return [
        product(
            f"p{place}",
            price * factor,
            mg={name: mg for name, mg in ((HCL, hcl), (CHONDROITIN, chondroitin)) if mg},
            divisible=divisible,
        )
        for place, (hcl, chondroitin, price, divisible) in enumerate(labels)
    ]


@settings(max_examples=25, deadline=None)
@given(drawn, st.randoms())
def test_the_order_of_the_products_does_not_matter(labels: list[tuple[int, int, int, str]], chance: Any) -> None:  # noqa: ANN401
    products = _drawn(labels)
    turned = list(products)
    chance.shuffle(turned)
    one, other = ask(BOTH, products), ask(BOTH, turned)
    assert _facts(one) == _facts(other)
    assert one.status == other.status
    assert {left.product_id for left in one.left_out} == {left.product_id for left in other.left_out}


@settings(max_examples=25, deadline=None)
@given(drawn)
def test_one_more_product_never_makes_it_dearer(labels: list[tuple[int, int, int, str]]) -> None:
    products = _drawn(labels)
    all_of_them, fewer = ask(BOTH, products), ask(BOTH, products[:-1] or products)
    if fewer.combinations:
        assert all_of_them.combinations[0].cost_per_day <= fewer.combinations[0].cost_per_day


@settings(max_examples=25, deadline=None)
@given(drawn, st.integers(2, 1000))
def test_cost_scales_with_prices(labels: list[tuple[int, int, int, str]], factor: int) -> None:
    one, many = ask(BOTH, _drawn(labels)), ask(BOTH, _drawn(labels, factor))
    assert [(cost * factor, units) for cost, units in _facts(one)] == _facts(many)


@settings(max_examples=25, deadline=None)
@given(drawn, st.integers(1, 4))
def test_what_every_answer_keeps_to(labels: list[tuple[int, int, int, str]], most_products: int) -> None:
    answer = ask(BOTH, _drawn(labels), most_products=most_products)
    sets = [{part.product_id for part in one.products} for one in answer.combinations]
    for cheaper, dearer in pairwise(answer.combinations):
        assert cheaper.cost_per_day <= dearer.cost_per_day
    assert not any(
        one <= other for one in sets for other in sets if one is not other and sets.index(one) < sets.index(other)
    )
    for one in answer.combinations:
        assert len(one.products) <= most_products
        assert all(part.units_per_day > 0 for part in one.products)
        assert all(result.in_range for result in one.targets)
        assert one.verdict != "stop"
    # Whatever product there is, it is used somewhere, may be used, or is left out with a reason.
    assert all(left.reasons for left in answer.left_out)


HOSTILE: list[tuple[str, list[Product], list[tuple[str, dict[str, str]]]]] = [
    ("a millionth of a milligram", [product("p", mg={HCL: "0.000001"})], []),
    ("a kilogram in a tablet", [product("p", mg={HCL: 1000000})], []),
    ("no facts at all", [product("p")], []),
    (
        "identical but for their names",
        [product(id_, mg={HCL: 500}) for id_ in "dbca"],
        [("0.1", {"a": "1"}), ("0.1", {"b": "1"}), ("0.1", {"c": "1"})],
    ),
    (
        "prices far apart",
        [product("a", "0.000001", mg={HCL: 250}, unit_count=D(1000000)), product("b", 10000000, mg={HCL: 500})],
        [("0", {"a": "2"}), ("100000", {"b": "1"})],
    ),
    (
        "what is cheapest is far too weak",
        [product("a", "0.000001", mg={HCL: 24}), product("b", 10000000, mg={HCL: 500})],
        [("100000.0000001", {"b": "1"})],
    ),
    ("a hidden amount", [product("p", mg={"Joint blend (glucosamine, MSM)": 500})], []),
]


@pytest.mark.parametrize(("products", "expected"), [case[1:] for case in HOSTILE], ids=[case[0] for case in HOSTILE])
def test_hostile_products(products: list[Product], expected: list[tuple[str, dict[str, str]]]) -> None:
    answer = ask(GLUCOSAMINE, products)
    assert [units for _, units in shown(answer)] == [units for _, units in expected]
    assert answer.status == (OPTIMAL if expected else NOTHING_FITS)
    assert answer.search_complete
    assert bool(answer.blocked_by) is (not expected)


@pytest.mark.parametrize(
    ("changes", "where", "says"),
    [
        ({"products": (product("a"), product("b", currency="USD"))}, "products", "several currencies (EUR, USD)"),
        ({"products": (product("a"), product("a"))}, "products/1/id", "used twice"),
        ({"products": (product("a"), product("b", mg={MSM: "5OO mg"}))}, "products/1/facts/0/amount", "letter O"),
        (
            {"other_supplements": (product("a"), product("b", mg={MSM: "5OO mg"}))},
            "other_supplements/1/facts/0/amount",
            "letter O",
        ),
        ({"products": (product("a", mg={MSM: "0 mg"}),)}, "products/0/facts/0/amount", "greater than zero"),
        ({"targets": (*GLUCOSAMINE, *GLUCOSAMINE)}, "targets/1/ingredient", "target already"),
        ({"targets": (Target("msm", "msm", D(2), D(1)),)}, "targets/0/high_mg", "below low_mg"),
        ({"animal": Animal("dog")}, "animal/weight", "needed"),
    ],
)
def test_requests_that_are_refused(changes: dict[str, Any], where: str, says: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        combine(REFERENCE, replace(request(GLUCOSAMINE, [product("p")]), **changes), time.monotonic)
    (issue,) = caught.value.issues
    assert issue.where == where
    assert says in issue.detail


def test_unknown_names_and_missing_guidance() -> None:
    with pytest.raises(UnknownIngredient) as unknown:
        ask((Target("glucosamin"),), [product("p")])
    assert "glucosamine" in unknown.value.nearest
    with pytest.raises(NoGuidance) as none:
        ask((Target("msm"),), [product("p")], animal=Animal("cat", D(4)))
    assert none.value.known.ingredient == "msm"


def _clock(*seconds: float) -> Callable[[], float]:
    """Show these times in turn, the last one for ever."""
    left = list(seconds)
    return lambda: left.pop(0) if len(left) > 1 else left[0]


PAIR = [product("a", mg={HCL: 500}), product("b", 20, mg={HCL: 500})]


def test_without_time_nothing_is_settled() -> None:
    answer = combine(REFERENCE, request(GLUCOSAMINE, PAIR), _clock(0.0, 100.0))
    assert (answer.status, answer.gap, answer.search_complete) == (NOT_SETTLED, None, False)
    assert (answer.combinations, answer.blocked_by) == ((), ())
    assert "time_ran_out" in _codes(answer)


def test_what_was_proven_before_time_ran_out_stays_proven() -> None:
    answer = combine(REFERENCE, request(GLUCOSAMINE, PAIR), _clock(0.0, 0.0, 100.0))
    assert (answer.status, answer.search_complete) == (OPTIMAL, False)
    assert shown(answer) == [("0.1", {"a": "1"})]


def test_a_set_that_is_not_proven_to_be_the_cheapest(monkeypatch: pytest.MonkeyPatch) -> None:
    from service.domain.combining import searching
    from service.domain.combining.solver import CUT_SHORT, PROVEN, minimise

    def _stopped_early(*asked: Any) -> Any:  # noqa: ANN401 - as it is called
        outcome = minimise(*asked)
        return replace(outcome, status=CUT_SHORT, bound=outcome.bound * 0.75) if outcome.status == PROVEN else outcome

    monkeypatch.setattr(searching, "minimise", _stopped_early)
    answer = ask(GLUCOSAMINE, PAIR)
    assert (answer.status, answer.search_complete) == (BEST_FOUND, False)
    # Three quarters of its cost are proven: a cheaper one could save a quarter at most.
    assert answer.gap is not None
    assert abs(answer.gap - D("0.25")) < D("0.001")
    assert all(one.status == BEST_FOUND for one in answer.combinations)
    assert "time_ran_out" in _codes(answer)


def test_a_set_that_fails_the_check_from_the_labels_is_never_answered(monkeypatch: pytest.MonkeyPatch) -> None:
    def _a_is_wrong(*asked: Any) -> tuple[str, ...]:  # noqa: ANN401 - as it is called
        return ("wrong",) if "a" in asked[3] else ()

    monkeypatch.setattr(combining, "faults", _a_is_wrong)
    answer = ask(GLUCOSAMINE, PAIR)
    assert [set(units) for _, units in shown(answer)] == [{"b"}]
    assert (answer.status, answer.gap, answer.search_complete) == (BEST_FOUND, D(1), False)


def test_a_dog_on_three_actives_and_oil() -> None:
    # Guidance for 30 kg; every target is reached, every cost is the sum of its parts.
    targets = tuple(Target(id_) for id_ in ("glucosamine", "chondroitin-sulfate", "msm", "epa-dha"))
    products = [
        product("joint", 40, mg={HCL: 500, CHONDROITIN: 400, MSM: 300}, divisible="halves"),
        product("msm", 12, mg={MSM: 1000}, unit="g"),
        product("oil", 25, mg={OIL: 600}, unit="ml", divisible="millilitre_tenths"),
        product("oil capsule", 10, mg={"EPA": 180, "DHA": 120}),
    ]
    answer = ask(targets, products, animal=replace(DOG, weight_kg=D(30)))
    assert answer.status == OPTIMAL
    for one in answer.combinations:
        assert all(result.in_range for result in one.targets)
        assert abs(sum(part.cost_per_day for part in one.products) - one.cost_per_day) <= D("0.0003")
    oil = next(one for one in answer.combinations[0].totals if one.ingredient == "epa-dha")
    assert oil.limit_id == "epa-dha-dog-nrc"
    assert oil.share_of_limit is not None
    assert oil.share_of_limit <= 1
