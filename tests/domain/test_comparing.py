"""Comparing products for one dog. Unless told otherwise it weighs 34 kg: 500 to 1000 mg of hydrochloride a day."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.common import Animal
from service.domain.compare_answer import CompareAnswer, CompareRow
from service.domain.comparing import CompareRequest, compare
from service.domain.errors import InvalidInput, NoGuidance, UnknownForm, UnknownIngredient
from service.domain.practicality import MOST_UNITS_PER_DAY
from service.domain.products import LabelFact, Product
from service.domain.targets import Target
from service.reference.release import Reference
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
DOG = Animal("dog", D(34), D(6))
GLUCOSAMINE = (Target("glucosamine"),)
HCL_500 = (Target("glucosamine", "glucosamine-hydrochloride", D(500), D(1000)),)


def product(id_: str, *facts: tuple[str, str], **changes: object) -> Product:
    """Make a product of 100 tablets for 10.00; facts are (name, amount per tablet)."""
    made = Product(
        id=id_,
        unit="tablet",
        unit_count=D(100),
        price=D(10),
        currency="EUR",
        serving_units=D(1),
        facts=tuple(LabelFact(name, amount) for name, amount in facts),
        other_ingredients="cellulose",
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def _compare(*products: Product, targets: tuple[Target, ...] = GLUCOSAMINE, **changes: object) -> CompareAnswer:
    request = CompareRequest(animal=DOG, targets=targets, products=products)
    return compare(REFERENCE, replace(request, **changes))  # type: ignore[arg-type]


def _row(one: Product, targets: tuple[Target, ...] = GLUCOSAMINE, **changes: object) -> CompareRow:
    return _compare(one, targets=targets, **changes).rows[0]


def _ids(answer: CompareAnswer) -> list[str]:
    return [row.product_id for row in answer.rows]


@pytest.mark.parametrize(
    ("facts", "changes", "units", "achieved"),
    [
        # One tablet holds the 500.
        ([("Glucosamine HCl", "500 mg")], {}, "1", "500"),
        # 500 mg in two tablets: 250 in one, two are needed.
        ([("Glucosamine HCl", "500 mg")], {"serving_units": D(2)}, "2", "500"),
        # "per tablet" beside the amount counts, whatever the serving.
        ([("Glucosamine HCl", "500 mg per tablet")], {"serving_units": D(2)}, "1", "500"),
        # 400 mg: two whole ones, or one and a half.
        ([("Glucosamine HCl", "400 mg")], {}, "2", "800"),
        ([("Glucosamine HCl", "400 mg")], {"divisible": "halves"}, "1.5", "600"),
        ([("Glucosamine HCl", "400 mg")], {"divisible": "quarters"}, "1.25", "500"),
        # A capsule that opens is given in halves: 900 mg, half of it is 450, too little.
        ([("Glucosamine HCl", "900 mg")], {"unit": "capsule", "divisible": "opens"}, "1", "900"),
        ([("Glucosamine HCl", "1000 mg")], {"unit": "capsule", "divisible": "opens"}, "0.5", "500"),
        # 120 mg/ml: 4.2 ml in steps of a tenth hold 504.
        ([("Glucosamine HCl", "120 mg/ml")], {"unit": "ml", "divisible": "millilitre_tenths"}, "4.2", "504"),
        (
            [("Glucosamine HCl", "600 mg")],
            {"unit": "ml", "serving_units": D(5), "divisible": "millilitre_tenths"},
            "4.2",
            "504",
        ),
        ([("Glucosamine HCl", "1200 mg")], {"unit": "scoop", "divisible": "scoop_halves"}, "0.5", "600"),
        # 500 mg of base are 601.7 mg of hydrochloride; 591.8 of a potassium complex hold as much as 421.5 of it.
        ([("Glucosamine base", "500 mg")], {}, "1", "601.741"),
        ([("Glucosamine sulfate 2KCl", "591.8 mg")], {}, "2", "842.9"),
        # An open form is judged on its low reading: 500 mg of "glucosamine" may be 356.1 mg of hydrochloride.
        ([("Glucosamine", "500 mg")], {}, "2", "712.2"),
        # "(as HCl)" may be the salt: 500 of it are 500; "(from 602 mg HCl)" is the base.
        ([("Glucosamine (as HCl)", "500 mg")], {}, "1", "500"),
        ([("Glucosamine (from 602 mg HCl)", "500 mg")], {}, "1", "601.741"),
        # 8,000 mg/kg of a 40 g bar: 320 mg.
        ([("Glucosamine HCl", "8000 mg/kg")], {"unit": "bar", "unit_mass_g": D(40)}, "2", "640"),
        # Two lines of one moiety add up.
        ([("Glucosamine HCl", "300 mg"), ("Glucosamine HCl (shellfish)", "200 mg")], {}, "1", "500"),
        # N-acetylglucosamine is another moiety.
        ([("Glucosamine HCl", "500 mg"), ("N-acetyl glucosamine", "500 mg")], {}, "1", "500"),
    ],
)
def test_units_a_day(facts: list[tuple[str, str]], changes: dict[str, object], units: str, achieved: str) -> None:
    row = _row(product("p", *facts, **changes))
    assert row.units_per_day == D(units)
    (result,) = row.targets
    assert abs(result.achieved_mg / D(achieved) - 1) < D("0.0005")
    assert (row.meets_target, result.in_range, row.why_not) == (True, True, ())
    # 10.00 for 100: 0.10 a unit.
    assert row.cost_per_day == D(units) / 10
    assert row.cost_per_30_days == D(units) * 3
    assert row.cost_per_365_days is not None
    assert abs(row.cost_per_365_days - D(units) * D("36.5")) <= D("0.005")
    assert row.container_lasts_days is not None
    assert abs(row.container_lasts_days * D(units) / 100 - 1) < D("0.0005")


@pytest.mark.parametrize(
    ("facts", "units"),
    [
        # 2070 mg are wanted. The whole and its parts are one amount.
        ([("EPA + DHA", "500 mg"), ("EPA", "300 mg"), ("DHA", "200 mg")], "5"),
        ([("EPA", "300 mg"), ("DHA", "200 mg")], "5"),
        ([("EPA + DHA", "500 mg")], "5"),
        ([("Omega-3", "900 mg"), ("EPA", "300 mg"), ("DHA", "200 mg")], "5"),
        ([("Omega-3", "900 mg"), ("EPA + DHA", "500 mg"), ("EPA", "300 mg"), ("DHA", "200 mg")], "5"),
        ([("Omega-3 (EPA 300 mg, DHA 200 mg)", "900 mg")], "5"),
        # 500 mg of ester hold at least 457.6 mg of acid.
        ([("EPA ethyl ester", "500 mg")], "5"),
        # The oil, and omega-3 as one figure, promise nothing.
        ([("Fish oil", "1000 mg"), ("EPA", "500 mg")], "5"),
    ],
)
def test_epa_and_dha_in_whole_and_in_parts(facts: list[tuple[str, str]], units: str) -> None:
    # At 30 kg the range of the guidance stands as printed.
    row = _row(product("p", *facts), (Target("epa-dha"),), animal=Animal("dog", D(30), D(6)))
    assert row.units_per_day == D(units)
    assert row.meets_target


@pytest.mark.parametrize(
    "facts", [[("Omega-3", "900 mg")], [("Fish oil", "1000 mg")], [("Joint blend (EPA, DHA)", "900 mg")]]
)
def test_what_states_no_amount_is_not_credited(facts: list[tuple[str, str]]) -> None:
    row = _row(product("p", *facts), (Target("epa-dha"),))
    assert (row.units_per_day, row.meets_target, row.cost_per_day) == (None, False, None)
    assert "The label credits no amount of epa-dha." in row.why_not


def test_a_guarantee_of_at_most_promises_nothing() -> None:
    row = _row(product("p", ("Glucosamine HCl (max)", "500 mg")))
    assert (row.units_per_day, row.meets_target) == (None, False)
    assert _row(product("p", ("Glucosamine HCl (min)", "500 mg"))).units_per_day == D(1)


def test_a_chew_so_weak_that_250_would_be_needed_comes_last_with_that_reason() -> None:
    weak = product("a-weak", ("Glucosamine HCl", "2 mg"), unit="chew", price=D("0.01"))
    dear = product("z-dear", ("Glucosamine HCl", "500 mg"), price=D(900))
    answer = _compare(weak, dear)
    assert _ids(answer) == ["z-dear", "a-weak"]
    last = answer.rows[-1]
    assert (last.units_per_day, last.rank) == (D(250), 2)
    assert last.why_not == ("250 units (chew) a day would be needed; it is too weak for this animal.",)
    assert not last.efficient


def test_millilitres_and_grams_are_measured_not_counted() -> None:
    liquid = product("p", ("Glucosamine HCl", "2 mg"), unit="ml", unit_count=D(1000))
    assert _row(liquid).why_not == ()
    assert _row(replace(liquid, unit="chew")).why_not != ()
    assert D(20) == MOST_UNITS_PER_DAY


@pytest.mark.parametrize(
    ("aim", "units", "achieved"),
    # 500, 750 and 1000 wanted of tablets with 300: 600, 900, and 900 as the nearest to a thousand.
    [("low", "2", "600"), ("middle", "3", "900"), ("high", "3", "900")],
)
def test_aims(aim: str, units: str, achieved: str) -> None:
    row = _row(product("p", ("Glucosamine HCl", "300 mg")), aim=aim)
    assert (row.units_per_day, row.targets[0].achieved_mg) == (D(units), D(achieved))
    assert (row.meets_target, row.why_not) == (True, ())
    assert ("nearest_amount" in row.label_flags) == (aim == "high")


def test_whole_tablets_that_are_too_strong() -> None:
    row = _row(product("p", ("Glucosamine HCl", "1500 mg")))
    assert (row.units_per_day, row.meets_target, row.targets[0].in_range) == (D(1), False, False)
    assert "nearest_amount" in row.label_flags
    assert row.why_not == (
        "No number of units that it divides into reaches the aim without passing the high end of a range.",
    )
    # Halved it fits: 750.
    assert _row(product("p", ("Glucosamine HCl", "1500 mg"), divisible="halves")).targets[0].achieved_mg == D(750)


def test_the_high_reading_is_held_against_the_high_end() -> None:
    # 1200 mg "glucosamine": 854.6 to 1444 mg of hydrochloride in one.
    row = _row(product("p", ("Glucosamine", "1200 mg")))
    assert "high_reading_above_range" in row.label_flags
    assert row.targets[0].achieved_mg < 1000 < row.targets[0].achieved_high_mg


def test_targets_of_the_caller_in_mg_of_a_form() -> None:
    # 1500 mg of the potassium complex a day: three of 500, and 1068.3 mg of hydrochloride do the same.
    target = (Target("glucosamine", "glucosamine-sulfate-2kcl", D(1500), D(3500)),)
    assert _row(product("p", ("Glucosamine sulfate 2KCl", "500 mg")), target).units_per_day == D(3)
    assert _row(product("p", ("Glucosamine HCl", "1069 mg")), target).units_per_day == D(1)
    answer = _compare(product("p", ("Glucosamine HCl", "1068 mg")), targets=target)
    assert answer.rows[0].units_per_day == D(2)
    (wanted,) = answer.targets
    assert (wanted.low_mg, wanted.high_mg, wanted.aim_mg, wanted.origin) == (D(1500), D(3500), D(1500), "caller")


def test_targets_from_guidance_say_so() -> None:
    (wanted,) = _compare(product("p", ("MSM", "1 mg"))).targets
    assert (wanted.low_mg, wanted.high_mg, wanted.form) == (D(500), D(1000), "glucosamine-hydrochloride")
    assert wanted.origin == "common_practice"
    assert wanted.source_ids
    (loading,) = _compare(product("p", ("MSM", "1 mg")), targets=(Target("glucosamine", phase="loading"),)).targets
    assert (loading.low_mg, loading.high_mg, loading.phase) == (D(1000), D(2000), "loading")


def test_two_targets_must_both_be_reached() -> None:
    targets = (*HCL_500, Target("msm", "msm", D(1000), D(2000)))
    # Glucosamine needs one, MSM needs two.
    row = _row(product("p", ("Glucosamine HCl", "500 mg"), ("MSM", "500 mg")), targets)
    assert (row.units_per_day, row.meets_target) == (D(2), True)
    assert [result.share_of_low for result in row.targets] == [D(2), D(1)]
    half = _row(product("p", ("Glucosamine HCl", "500 mg")), targets)
    assert not half.meets_target
    assert "The label credits no amount of msm." in half.why_not


def test_thirds_leave_no_tail() -> None:
    # 1000 mg in three tablets, exactly 1000 wanted and no more than 1000.
    target = (Target("glucosamine", "glucosamine-hydrochloride", D(1000), D(1000)),)
    row = _row(product("p", ("Glucosamine HCl", "1000 mg"), serving_units=D(3)), target)
    assert (row.units_per_day, row.meets_target, row.targets[0].in_range) == (D(3), True, True)
    assert row.targets[0].achieved_mg == D(1000)


@pytest.mark.parametrize(
    ("kcal", "over"),
    # Resting need 70 x 34^0.75 = 985.6 kcal; a tenth of it is 98.56.
    [("98.5", False), ("98.6", True), ("4", False)],
)
def test_energy_of_chews_against_a_tenth_of_resting_need(kcal: str, over: bool) -> None:
    answer = _compare(product("p", ("Glucosamine HCl", "500 mg"), unit="chew", unit_energy_kcal=D(kcal)))
    assert round(answer.resting_energy_kcal_per_day, 1) == D("985.6")
    row = answer.rows[0]
    assert row.energy_kcal_per_day == D(kcal)
    assert any("more than a tenth" in reason for reason in row.why_not) is over


def test_a_verdict_of_stop_puts_a_row_last() -> None:
    sweet = product("a", ("Glucosamine HCl", "500 mg"), price=D(1), other_ingredients="xylitol")
    weak = product("b", ("Glucosamine HCl", "2 mg"))
    fine = product("c", ("Glucosamine HCl", "500 mg"), price=D(99))
    answer = _compare(sweet, weak, fine)
    assert _ids(answer) == ["c", "b", "a"]
    assert [row.verdict for row in answer.rows] == ["nothing_found", "nothing_found", "stop"]
    assert "The screen found something that must not be given to this animal." in answer.rows[-1].why_not
    assert "screen_each_product" in [caution.code for caution in answer.cautions]


@pytest.mark.parametrize("changes", [{"price": None}, {"unit_count": None}])
def test_a_missing_price_or_count(changes: dict[str, None]) -> None:
    unknown = product("a", ("Glucosamine HCl", "500 mg"), **changes)
    answer = _compare(unknown, product("b", ("Glucosamine HCl", "2 mg"), unit_count=D(10)))
    row = next(row for row in answer.rows if row.product_id == "a")
    assert (row.cost_per_day, row.cost_per_30_days, row.cost_per_g, row.efficient) == (None, None, None, False)
    assert row.why_not == ("Price or number of units is missing, so its cost is unknown.",)
    assert (row.units_per_day, row.meets_target) == (D(1), True)


@pytest.mark.parametrize(
    ("rank_by", "order"),
    [
        # a: 1 a day at 0.30, 0.60 per g. b: 2 a day at 0.05, 0.20 per g. c: 5 a day at 0.01, 0.10 per g.
        ("cost_per_day", ["c", "b", "a"]),
        ("cost_per_g", ["c", "b", "a"]),
        ("units_per_day", ["a", "b", "c"]),
    ],
)
def test_ranking(rank_by: str, order: list[str]) -> None:
    answer = _compare(
        product("b", ("Glucosamine HCl", "250 mg"), price=D(5)),
        product("a", ("Glucosamine HCl", "500 mg"), price=D(30)),
        product("c", ("Glucosamine HCl", "100 mg"), price=D(1)),
        rank_by=rank_by,
    )
    assert _ids(answer) == order
    assert [row.rank for row in answer.rows] == [1, 2, 3]
    assert answer.rank_by == rank_by


def test_cost_per_day_and_per_gram_can_disagree() -> None:
    # 900 mg at 0.18: 0.20 per g, 0.18 a day. 500 mg at 0.125: 0.25 per g, 0.125 a day.
    cheap_gram = product("gram", ("Glucosamine HCl", "900 mg"), price=D(18))
    cheap_day = product("day", ("Glucosamine HCl", "500 mg"), price=D("12.5"))
    assert _ids(_compare(cheap_gram, cheap_day)) == ["day", "gram"]
    answer = _compare(cheap_gram, cheap_day, rank_by="cost_per_g")
    assert _ids(answer) == ["gram", "day"]
    assert [row.cost_per_g for row in answer.rows] == [D("0.2"), D("0.25")]


def test_money_at_the_digits_of_its_currency() -> None:
    # 100 / 3 yen a day: a month costs 1000 yen, no fractions of a yen.
    row = _row(product("p", ("Glucosamine HCl", "500 mg"), price=D(100), unit_count=D(3), currency="JPY"))
    assert (row.cost_per_day, row.cost_per_30_days, row.cost_per_365_days) == (D("33.3333"), D(1000), D(12167))
    row = _row(product("p", ("Glucosamine HCl", "500 mg"), price=D(100), unit_count=D(3), currency="KWD"))
    assert row.cost_per_365_days == D("12166.667")


@pytest.mark.parametrize(
    ("request_", "where", "says"),
    [
        ({"products": (product("a"), product("b", currency="USD"))}, "products", "several currencies (EUR, USD)"),
        ({"products": (product("a"), product("b", currency=None))}, "products", "several currencies"),
        ({"products": (product("a"), product("a"))}, "products/1/id", "used twice"),
        ({"products": (product("a", ("MSM", "5OO mg")),)}, "products/0/facts/0/amount", "letter O"),
        ({"targets": (Target("msm", "msm", D(2), D(1)),)}, "targets/0/high_mg", "below low_mg"),
        ({"targets": (Target("glucosamine", "msm", D(1), D(2)),)}, "targets/0/form", "no form of glucosamine"),
        ({"targets": (*GLUCOSAMINE, *GLUCOSAMINE)}, "targets/1/ingredient", "target already"),
        ({"animal": Animal("dog")}, "animal/weight", "needed"),
    ],
)
def test_requests_that_are_refused(request_: dict[str, object], where: str, says: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        compare(REFERENCE, replace(CompareRequest(DOG, GLUCOSAMINE, (product("p"),)), **request_))  # type: ignore[arg-type]
    (issue,) = caught.value.issues
    assert issue.where == where
    assert says in issue.detail


def test_a_product_without_a_price_may_leave_its_currency_out() -> None:
    assert len(_compare(product("a"), product("b", price=None, currency=None)).rows) == 2


def test_unknown_names_and_missing_guidance() -> None:
    with pytest.raises(UnknownIngredient) as unknown:
        _compare(product("p"), targets=(Target("glucosamin"),))
    assert "glucosamine" in unknown.value.nearest
    with pytest.raises(UnknownIngredient) as settled:
        _compare(product("p"), targets=(Target("zorblaxin", "msm", D(1), D(2)),))
    assert settled.value.ingredient_id == "zorblaxin"
    with pytest.raises(UnknownForm) as form:
        _compare(product("p"), targets=(Target("glucosamine", "glucosamine-hcl"),))
    assert form.value.form_id == "glucosamine-hcl"
    with pytest.raises(NoGuidance) as none:
        _compare(product("p"), animal=Animal("cat", D(4)), targets=(Target("msm"),))
    assert none.value.known.ingredient == "msm"


def test_a_target_of_the_caller_needs_no_guidance(reference: Reference) -> None:
    cat = Animal("cat", D(4))
    request = CompareRequest(cat, (Target("msm", None, D(50), D(100)),), (product("p", ("MSM", "50 mg")),))
    row = compare(reference, request).rows[0]
    assert row.units_per_day == D(1)
    # EPA and DHA without a form still are one sum, not whole and parts.
    facts = (("EPA + DHA", "500 mg"), ("EPA", "300 mg"), ("DHA", "200 mg"))
    request = CompareRequest(cat, (Target("epa-dha", None, D(500), D(1000)),), (product("p", *facts),))
    assert compare(reference, request).rows[0].targets[0].achieved_mg == D(500)


PRODUCTS = st.lists(
    st.builds(
        lambda mg, price, count, divisible: (mg, price, count, divisible),
        st.integers(5, 1500),
        st.integers(1, 5000),
        st.integers(1, 300),
        st.sampled_from(["whole", "halves", "quarters"]),
    ),
    min_size=1,
    max_size=6,
)


def _products(drawn: list[tuple[int, int, int, str]]) -> list[Product]:
    return [
        product(
            f"p{number}",
            ("Glucosamine HCl", f"{mg} mg"),
            price=D(price) / 100,
            unit_count=D(count),
            divisible=divisible,
        )
        for number, (mg, price, count, divisible) in enumerate(drawn)
    ]


@settings(max_examples=60, deadline=None)
@given(PRODUCTS, st.sampled_from(["cost_per_day", "cost_per_g", "units_per_day"]), st.randoms())
def test_the_order_of_the_products_does_not_matter(
    drawn: list[tuple[int, int, int, str]], rank_by: str, random: object
) -> None:
    products = _products(drawn)
    shuffled = list(products)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert _compare(*products, rank_by=rank_by).rows == _compare(*shuffled, rank_by=rank_by).rows


@settings(max_examples=60, deadline=None)
@given(PRODUCTS)
def test_ranks_and_efficient_rows_against_brute_force(drawn: list[tuple[int, int, int, str]]) -> None:
    products = _products(drawn)
    rows = _compare(*products).rows
    exact = {one.id: one.price / one.unit_count for one in products if one.price and one.unit_count}
    cost = {row.product_id: exact[row.product_id] * (row.units_per_day or 0) for row in rows}
    # No product with an objection stands before one without; costs rise among those without.
    assert [bool(row.why_not) for row in rows] == sorted(bool(row.why_not) for row in rows)
    free = [row for row in rows if not row.why_not]
    assert all(cost[one.product_id] <= cost[other.product_id] for one, other in pairwise(free))
    for row in rows:
        beaten = any(
            cost[other.product_id] < cost[row.product_id] and (other.units_per_day or 0) < (row.units_per_day or 0)
            for other in free
        )
        assert row.efficient is (row in free and not beaten)


@settings(max_examples=60, deadline=None)
@given(PRODUCTS)
def test_a_recommended_amount_is_the_smallest_that_reaches_the_aim(drawn: list[tuple[int, int, int, str]]) -> None:
    step = {"whole": D(1), "halves": D("0.5"), "quarters": D("0.25")}
    made = {f"p{number}": (D(mg), step[divisible]) for number, (mg, _, _, divisible) in enumerate(drawn)}
    for row in _compare(*_products(drawn)).rows:
        mg, part = made[row.product_id]
        assert row.units_per_day is not None
        assert row.units_per_day % part == 0
        if row.meets_target:
            assert D(500) <= row.units_per_day * mg <= D(1000)
            assert (row.units_per_day - part) * mg < D(500)


@settings(max_examples=30, deadline=None)
@given(st.integers(1, 50), st.integers(1, 100))
def test_cost_scales_with_price(price: int, factor: int) -> None:
    one = _row(product("p", ("Glucosamine HCl", "500 mg"), price=D(price)))
    more = _row(product("p", ("Glucosamine HCl", "500 mg"), price=D(price * factor)))
    assert one.cost_per_day is not None
    assert more.cost_per_day == one.cost_per_day * factor
    assert more.units_per_day == one.units_per_day


@pytest.mark.parametrize(
    ("age_years", "code"), [(None, "age_not_given"), (D("0.5"), "young_animal"), (D(11), "senior_animal")]
)
def test_the_age_is_said_as_a_dose_says_it(age_years: D | None, code: str) -> None:
    answer = _compare(product("a", ("Glucosamine HCl", "500 mg")), animal=replace(DOG, age_years=age_years))
    assert code in [caution.code for caution in answer.cautions]
