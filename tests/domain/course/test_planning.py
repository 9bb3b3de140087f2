"""Whole courses, worked by hand beside each rule, and what must hold of any."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.common import Animal
from service.domain.course.answer import Course
from service.domain.course.request import Pack, PhaseWanted, PriceBreak, WeightOn
from service.domain.errors import InvalidInput, NoGuidance, UnknownIngredient
from service.domain.products import LabelFact
from tests.domain.course.making import DOG, pack, planned, units


def test_loading_then_maintenance_from_guidance() -> None:
    # Source trade (regimen d014): twice the amount for four to six weeks, then once. 34 kg: 1000 and 500 mg, tablets
    # of 500 mg at 14.40 for 120: 42 days x 2 x 0.12 = 10.08 and 48 x 0.12 = 5.76.
    answer = planned(horizon_days=90)
    assert [(phase.phase, phase.days, phase.units_per_day, phase.cost) for phase in answer.phases] == [
        ("loading", 42, D(2), D("10.08")),
        ("maintenance", 48, D(1), D("5.76")),
    ]
    assert (answer.consumed_units, answer.consumed_cost) == (D(132), D("15.84"))
    # 120 tablets last 42 days and 36 more: the second container is opened on day 79.
    assert [(one.day, one.containers, one.cost) for one in answer.purchases] == [
        (1, D(1), D("14.40")),
        (79, D(1), D("14.40")),
    ]
    assert (answer.paid_cost, answer.left_over_units, answer.left_over_cost) == (D("28.80"), D(108), D("12.96"))


def test_the_worked_example_of_ninety_days() -> None:
    # Worked example W56 of the trade (source trade): 1000 mg a day doubled for six weeks, then single to day 90:
    # 42 x 2000 + 48 x 1000 = 132000 mg.
    phases = (
        PhaseWanted(mg_per_day=D(2000), ingredient="glucosamine", weeks=6),
        PhaseWanted(mg_per_day=D(1000), ingredient="glucosamine"),
    )
    answer = planned(phases=phases, horizon_days=90)
    assert sum((phase.mg_per_day or 0) * phase.days for phase in answer.phases) == 132_000


def test_loading_may_be_left_out_or_shortened() -> None:
    assert [phase.phase for phase in planned(loading=False).phases] == ["maintenance"]
    assert [phase.days for phase in planned(loading_days=28).phases] == [28, 337]
    assert [phase.days for phase in planned(horizon_days=30).phases] == [30]


def test_with_a_start_every_day_has_its_date() -> None:
    answer = planned(start_date=date(2028, 1, 15), horizon_years=D(1))
    assert [(phase.from_date, phase.to_date) for phase in answer.phases] == [
        (date(2028, 1, 15), date(2028, 2, 25)),
        (date(2028, 2, 26), date(2029, 1, 14)),
    ]
    assert answer.end_date == date(2029, 1, 14)
    assert answer.horizon_days == 366
    assert answer.purchases[1].date == date(2028, 4, 2)
    assert answer.next_reassessment == date(2028, 3, 25)


def test_without_a_start_a_year_has_365_days() -> None:
    answer = planned(horizon_years=D(3))
    assert answer.horizon_days == 1095
    assert answer.phases[0].from_date is None
    assert [year.days for year in answer.years] == [365, 365, 365]


def test_the_rest_of_a_divided_unit_is_kept_or_thrown_away() -> None:
    # One and a half a day for 20 days: 30 units; thrown away each day, 40 leave the pack and 10 are lost.
    kept = planned(phases=(units("1.5", 20),))
    assert (kept.consumed_units, kept.wasted_units, kept.consumed_cost) == (D(30), D(0), D("3.60"))
    thrown = planned(phases=(units("1.5", 20),), remainder="discarded")
    assert (thrown.consumed_units, thrown.wasted_units, thrown.consumed_cost) == (D(40), D(10), D("4.80"))


def test_what_dividing_gives_beyond_the_aim() -> None:
    # 600 mg wanted of halves of 500 mg tablets: one and a half are 750, 150 more than wanted.
    answer = planned(phases=(PhaseWanted(mg_per_day=D(600), ingredient="glucosamine", days=10),))
    phase = answer.phases[0]
    assert (phase.units_per_day, phase.mg_per_day, phase.surplus_mg_per_day) == (D("1.5"), D(750), D(150))


def test_a_unit_that_does_not_divide_so_is_told() -> None:
    answer = planned(pack(divisible="whole"), phases=(units("1.5", 10),))
    assert answer.phases[0].flags == ("units_not_divisible",)
    assert "units_not_divisible" in [caution.code for caution in answer.cautions]
    assert answer.consumed_units == 15


def test_a_pause_costs_nothing() -> None:
    answer = planned(phases=(units("1", 10), units("0", 20, name="pause"), units("1", 10)))
    assert [(phase.phase, phase.cost) for phase in answer.phases] == [
        ("given", D("1.20")),
        ("pause", D(0)),
        ("given", D("1.20")),
    ]


def test_prices_move_once_a_year() -> None:
    # One a day for two years of 365 days, 0.12 each, a tenth dearer in the second: 43.80 and 48.18, as only what is
    # used is paid.
    answer = planned(
        phases=(PhaseWanted(units_per_day=D(1), years=D(2)),),
        price_change_per_year=D("0.1"),
        whole_containers=False,
    )
    assert [year.paid_cost for year in answer.years] == [D("43.80"), D("48.18")]
    assert answer.paid_cost == answer.consumed_cost == D("91.98")
    assert answer.left_over_units == 0
    # 365 of 120 are 3.04167 containers.
    assert [one.containers for one in answer.purchases] == [D("3.04167"), D("3.04167")]
    assert "prices_assumed" in [caution.code for caution in answer.cautions]


def test_stored_containers_keep_the_price_they_were_bought_at() -> None:
    # 120 each on days 1, 121, 241, 361 at 14.40 and on 481, 601, 721 at 15.84. 480 units at 0.12 and 250 at 0.132.
    answer = planned(phases=(PhaseWanted(units_per_day=D(1), years=D(2)),), price_change_per_year=D("0.1"))
    assert [one.price_per_container for one in answer.purchases] == [D("14.40")] * 4 + [D("15.84")] * 3
    assert (answer.paid_cost, answer.consumed_cost) == (D("105.12"), D("90.60"))
    # Of 840 units 730 are used; 110 at 0.132 are 14.52.
    assert (answer.left_over_units, answer.left_over_cost) == (D(110), D("14.52"))


def test_a_container_that_grows_old_after_opening() -> None:
    # One a day of 120, to be used within 30 days: 90 of each are thrown away, four containers in 120 days.
    answer = planned(pack(opened_shelf_life_days=30), phases=(units("1", 120),))
    assert [one.day for one in answer.purchases] == [1, 31, 61, 91]
    assert (answer.discarded_units, answer.left_over_units) == (D(270), D(90))
    assert (answer.paid_cost, answer.consumed_cost) == (D("57.60"), D("14.40"))
    # 270 x 0.12 and 90 x 0.12.
    assert (answer.discarded_cost, answer.left_over_cost) == (D("32.40"), D("10.80"))


def test_several_at_once_are_cheaper() -> None:
    # 840 units in 840 days are seven containers: three at 12.00 on day 1, and four on day 361.
    answer = planned(pack(price_breaks=(PriceBreak(3, D(12)),)), phases=(units("1", 840),))
    assert [(one.day, one.containers, one.cost) for one in answer.purchases] == [
        (1, D(3), D("36.00")),
        (361, D(4), D("48.00")),
    ]
    assert answer.paid_cost == answer.consumed_cost == D("84.00")


def test_an_aim_of_the_guidance_in_each_phase() -> None:
    # From eight the low end of the guidance (500 mg), from ten the high one (1000 mg).
    small = PhaseWanted(aim="low", from_age_years=D(8), name="small amount")
    larger = PhaseWanted(aim="high", from_age_years=D(10), name="larger amount")
    answer = planned(animal=Animal("dog", D(34), D(8)), phases=(small, larger), until_age_years=D(12))
    assert [(phase.phase, phase.days, phase.units_per_day) for phase in answer.phases] == [
        ("small amount", 730, D(1)),
        ("larger amount", 730, D(2)),
    ]
    # 730 x 0.12 and 730 x 0.24.
    assert [phase.cost for phase in answer.phases] == [D("87.60"), D("175.20")]


def test_a_product_that_says_how_many_a_day_is_given_so() -> None:
    answer = planned(pack(units_per_day=D(2)), horizon_days=30)
    assert [(phase.phase, phase.units_per_day, phase.origin) for phase in answer.phases] == [("given", D(2), "caller")]
    assert answer.phases[0].wanted_low_mg == 500
    assert answer.phases[0].meets_target is True
    assert planned(pack(units_per_day=D(3)), horizon_days=30).phases[0].meets_target is False


def test_a_label_without_published_amounts_needs_to_be_told() -> None:
    bare = pack(facts=(LabelFact("Cellulose", "500 mg"),))
    with pytest.raises(InvalidInput, match="say what is given a day") as caught:
        planned(bare)
    assert caught.value.issues[0].where == "phases"
    answer = planned(bare, phases=(units("1", 10),))
    assert (answer.ingredient, answer.evidence, answer.phases[0].mg_per_day) == (None, None, None)
    assert answer.reassessments == ()


def test_a_puppy_gets_no_amount_where_none_is_published() -> None:
    puppy = Animal("dog", D(8), D("0.5"))
    turmeric = pack(facts=(LabelFact("Turmeric", "500 mg"),))
    with pytest.raises(NoGuidance, match="for adults only"):
        planned(turmeric, animal=puppy)


def test_an_unknown_ingredient_names_the_nearest() -> None:
    with pytest.raises(UnknownIngredient) as caught:
        planned(ingredient="glucosamin")
    assert "glucosamine" in caught.value.nearest


def test_a_product_without_the_ingredient_stays_in_the_list() -> None:
    other = pack("p2", where="products/1", facts=(LabelFact("MSM", "500 mg"),))
    answer = planned(pack(where="products/0"), other)
    assert [course.product_id for course in answer.alternatives] == ["p1", "p2"]
    empty = answer.alternatives[1]
    assert (empty.phases, empty.paid_cost) == ((), None)
    assert "The label credits no amount of glucosamine." in empty.why_not
    assert answer.saving is None


def test_what_must_not_be_given_is_said_and_comes_last() -> None:
    sweet = pack("cheap", where="products/0", price=D(1), other_ingredients="xylitol")
    answer = planned(sweet, pack("plain", where="products/1"))
    assert answer.verdict == "stop"
    assert [course.product_id for course in answer.alternatives] == ["plain", "cheap"]
    assert answer.alternatives[1].why_not[0].startswith("The screen found something that must not be given")
    assert answer.saving is None
    warning = next(caution for caution in answer.cautions if caution.code == "must_not_be_given")
    assert warning.level == "warning"
    assert "ylitol" in warning.text
    assert any("ylitol" in text for text in answer.warnings)


def test_without_a_price_days_and_units_are_still_known() -> None:
    answer = planned(pack(price=None, currency=None), horizon_days=90)
    assert (answer.consumed_units, answer.left_over_units) == (D(132), D(108))
    assert (answer.paid_cost, answer.consumed_cost, answer.phases[0].cost, answer.purchases[0].cost) == (None,) * 4
    assert all(one.paid_cost is None for one in answer.what_if)


def test_without_a_count_nothing_is_bought() -> None:
    answer = planned(pack(unit_count=None), horizon_days=90)
    assert (answer.purchases, answer.paid_cost, answer.left_over_units, answer.containers) == ((), None, None, None)
    assert answer.consumed_units == 132


def test_every_day_can_be_listed() -> None:
    answer = planned(pack(price=D("10"), unit_count=D(30)), phases=(units("1", 30),), show_days=True)
    assert sum(day.cost or 0 for day in answer.days) == answer.consumed_cost == 10
    assert {day.cost for day in answer.days} == {D("0.33"), D("0.34")}
    assert [day.day for day in answer.days] == list(range(1, 31))


def test_a_form_left_open_is_judged_on_its_low_reading() -> None:
    answer = planned(pack(facts=(LabelFact("Glucosamine", "500 mg"),)), horizon_days=90)
    phase = answer.phases[1]
    assert phase.mg_per_day is not None
    assert phase.mg_high_per_day is not None
    assert phase.mg_per_day < phase.mg_high_per_day
    assert "judged_on_low_reading" in [caution.code for caution in answer.cautions]


_PACKS = st.builds(
    lambda count, price, divisible, life, breaks: pack(
        unit_count=D(count),
        price=price,
        divisible=divisible,
        opened_shelf_life_days=life,
        price_breaks=tuple(PriceBreak(number, price * D("0.9") ** number) for number in sorted(breaks)),
    ),
    st.integers(1, 200),
    st.decimals("0.01", 300, places=2),
    st.sampled_from(["whole", "halves", "quarters"]),
    st.none() | st.integers(1, 90),
    st.sets(st.integers(2, 6), max_size=2),
)
_PHASES = st.lists(
    st.builds(units, st.sampled_from(["0", "0.25", "0.5", "1", "2.5"]), st.integers(1, 300)), min_size=1, max_size=4
)


@settings(max_examples=80, deadline=None)
@given(
    _PACKS,
    _PHASES,
    st.booleans(),
    st.sampled_from(["kept", "discarded"]),
    st.sampled_from(["0", "0.03", "-0.1"]),
    st.none() | st.dates(date(2024, 1, 1), date(2032, 1, 1)),
)
def test_sums_agree_to_the_minor_unit(
    told: Pack, phases: list[PhaseWanted], whole: bool, remainder: str, change: str, start: date | None
) -> None:
    answer = planned(
        told,
        phases=tuple(phases),
        whole_containers=whole,
        remainder=remainder,
        price_change_per_year=D(change),
        start_date=start,
        show_days=True,
        what_if=(),
    )
    assert answer.consumed_cost == sum(day.cost or 0 for day in answer.days)
    assert answer.consumed_cost == sum(phase.cost or 0 for phase in answer.phases)
    assert answer.consumed_cost == sum(year.consumed_cost or 0 for year in answer.years)
    assert answer.paid_cost == sum(one.cost or 0 for one in answer.purchases)
    assert answer.paid_cost == sum(year.paid_cost or 0 for year in answer.years)
    assert answer.consumed_units == sum(day.units for day in answer.days)
    _check_conservation(answer)
    if not whole:
        assert answer.paid_cost == answer.consumed_cost


def _check_conservation(course: Course) -> None:
    """Nothing appears and nothing vanishes, in units and in money."""
    bought = sum(one.units for one in course.purchases)
    rest = (course.left_over_units or 0) + (course.discarded_units or 0)
    assert bought == (course.consumed_units or 0) + rest
    kept = (course.left_over_cost or 0) + (course.discarded_cost or 0)
    assert course.paid_cost == (course.consumed_cost or 0) + kept
    assert (course.discarded_cost or 0) >= 0
    assert (course.left_over_cost or 0) >= 0
    if not course.left_over_units:
        assert not course.left_over_cost


@settings(max_examples=40, deadline=None)
@given(st.decimals("1", "100", places=2), st.integers(1, 6))
def test_prices_scale_costs(price: D, factor: int) -> None:
    base = planned(pack(price=price), horizon_days=200, what_if=())
    scaled = planned(pack(price=price * factor), horizon_days=200, what_if=())
    assert scaled.paid_cost == (base.paid_cost or 0) * factor


def test_the_currency_decides_the_minor_unit() -> None:
    # 1440 yen for 120: twelve a tablet. 1.440 dinar: 0.012 a tablet.
    yen = planned(pack(price=D(1441), currency="JPY"), phases=(units("1", 7),))
    assert str(yen.consumed_cost) == "84"  # 84.06
    dinar = planned(pack(price=D("1.441"), currency="KWD"), phases=(units("1", 7),))
    assert str(dinar.consumed_cost) == "0.084"


def test_a_puppy_is_warned_of() -> None:
    codes = [caution.code for caution in planned(animal=Animal("dog", D(10), D("0.5"))).cautions]
    assert "young_animal" in codes
    assert "age_not_given" in [caution.code for caution in planned(animal=Animal("dog", D(10))).cautions]


def test_the_screen_sees_the_lightest_day() -> None:
    # 3 x 1000 mg EPA a day are below the published maximum of a dog of 34 kg and far above that of one of 5 kg
    # (370 mg/kg^0.75, source nrc2006: 5210 and 1237 mg).
    oil = pack(facts=(LabelFact("EPA", "1000 mg"),), units_per_day=D(3))
    assert planned(oil).verdict == "nothing_found"
    falling = planned(oil, weights=(WeightOn(D(5), day=10),))
    assert falling.verdict == "ask_veterinarian"
    assert falling.warnings
    assert [(phase.weight_kg, phase.meets_target) for phase in falling.phases] == [(D(34), True), (D(5), False)]


def test_medicines_and_conditions_reach_the_screen() -> None:
    herb = pack(facts=(LabelFact("Glucosamine HCl", "500 mg"), LabelFact("Devil's claw", "150 mg")))
    assert planned(herb, medications=("carprofen",)).verdict == "ask_veterinarian"


def test_an_amount_that_the_label_hides_is_unknown_not_zero() -> None:
    hidden = pack(facts=(LabelFact("Glucosamine HCl", None),), units_per_day=D(2))
    phase = planned(hidden, horizon_days=30).phases[0]
    assert (phase.mg_per_day, phase.meets_target) == (None, None)


def test_what_grows_too_old_in_a_pause_is_no_stock() -> None:
    # 120 tablets opened on day 1, good for 45 days; 15 days of three use 45, then 221 days of nothing: 75 are lost.
    answer = planned(pack(opened_shelf_life_days=45), phases=(units("3", 15), units("0", 221)))
    assert (answer.discarded_units, answer.left_over_units) == (D(75), D(0))


def test_an_open_form_is_judged_alike_however_the_units_came() -> None:
    open_form = pack(facts=(LabelFact("Glucosamine", "500 mg"),))
    derived = planned(open_form, loading=False, aim="high", horizon_days=30).phases[0]
    told = planned(replace(open_form, product=replace(open_form.product, units_per_day=derived.units_per_day)))
    assert (told.phases[0].meets_target, "high_reading_above_range" in told.phases[0].flags) == (
        derived.meets_target,
        "high_reading_above_range" in derived.flags,
    )


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"form": "msm"}, "form"),
        ({"phases": (PhaseWanted(aim="low", form="msm", days=5),)}, "phases/0/form"),
        (
            {"phases": (PhaseWanted(aim="low", ingredient="msm", guidance_phase="loading", days=5),)},
            "phases/0/guidance_phase",
        ),
    ],
)
def test_a_fault_is_said_where_it_was_written(changes: dict[str, object], where: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        planned(**changes)  # type: ignore[arg-type]
    assert [issue.where for issue in caught.value.issues] == [where]


def test_the_form_of_the_course_holds_for_its_phases() -> None:
    told = PhaseWanted(mg_per_day=D(500), ingredient="glucosamine", days=10)
    assert planned(form="glucosamine-sulfate-2kcl", phases=(told,)).phases[0].form == "glucosamine-sulfate-2kcl"


def test_no_guidance_for_a_cat_is_said_as_such() -> None:
    with pytest.raises(NoGuidance):
        planned(animal=Animal("cat", D(4), D(9)))


def test_the_first_product_need_not_name_anything() -> None:
    bare = pack("bare", where="products/0", facts=())
    answer = planned(bare, pack("p2", where="products/1"))
    assert answer.ingredient == "glucosamine"
    assert [course.product_id for course in answer.alternatives] == ["p2", "bare"]


def test_means_of_a_month_and_a_year() -> None:
    # 43.80 for a year of one a day where only what is used is paid: 3.60 for 30 days.
    answer = planned(phases=(PhaseWanted(units_per_day=D(1), years=D(2)),), whole_containers=False)
    assert (answer.paid_cost_per_30_days, answer.paid_cost_per_365_days) == (D("3.60"), D("43.80"))


def test_one_currency_at_a_time() -> None:
    with pytest.raises(InvalidInput, match="several currencies") as caught:
        planned(pack(where="products/0"), pack("p2", where="products/1", currency="EUR"))
    assert caught.value.issues[0].where == "products"


def test_the_dog_of_the_default_gets_what_the_guidance_says() -> None:
    assert DOG.weight_kg == 34
    assert planned().ingredient == "glucosamine"
