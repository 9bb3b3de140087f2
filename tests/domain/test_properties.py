"""What must hold for every animal, product and price. No example here has a source: these are laws, not facts."""

from __future__ import annotations

from dataclasses import replace
from decimal import Context, Decimal, localcontext
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.common import Animal
from service.domain.compare_answer import CompareAnswer, CompareRow
from service.domain.comparing import CompareRequest, compare
from service.domain.converting import convert
from service.domain.dosing import DoseRequest, dose
from service.domain.guidance import band_rows
from service.domain.normalising import normalise
from service.domain.products import STEP_OF, LabelFact, Product
from service.domain.targets import Target
from service.domain.weights import parse_weight
from service.reference.releases import load_working_tables

# Not a fixture: a failing property prints its arguments, and a whole release is a long one.
REFERENCE = load_working_tables()
WITH_GUIDANCE = sorted({ingredient for ingredient, _ in REFERENCE.guidance_of})
FORMS_OF_GLUCOSAMINE = (
    "glucosamine-base", "glucosamine-hydrochloride", "glucosamine-sulfate-2to1", "glucosamine-sulfate-2kcl",
    "glucosamine-sulfate-2nacl",
)  # fmt: skip
FIXED_FORMS = sorted(
    form.id for form in REFERENCE.forms.values() if form.kind == "defined" and form.share_low == form.share_high
)
LABEL_NAMES = ("Glucosamine HCl", "Glucosamine sulfate 2KCl", "Glucosamine")
# By the definition of the pound (source chem-s63), written anew so that a slip in the service shows.
KG_PER_LB = Decimal("0.45359237")
ONE_STEP = Decimal("1e-5")

ingredients = st.sampled_from(WITH_GUIDANCE)
weights = st.decimals(min_value="0.1", max_value="120", places=4)
prices = st.decimals(min_value="0.5", max_value="200", places=2)

# A slow machine is not a wrong answer.
unhurried = settings(deadline=None)
fewer = settings(deadline=None, max_examples=40)


def _phases(ingredient: str, weight_kg: Decimal) -> dict[str, tuple[Decimal, ...]]:
    answer = dose(REFERENCE, DoseRequest(Animal("dog", weight_kg), ingredient))
    return {
        phase.phase: (phase.low_mg, phase.high_mg, phase.moiety_low_mg, phase.moiety_high_mg) for phase in answer.phases
    }


@unhurried
@given(ingredients, weights, weights)
def test_amounts_never_fall_as_weight_rises(ingredient: str, one: Decimal, other: Decimal) -> None:
    lighter, heavier = sorted((one, other))
    below, above = _phases(ingredient, lighter), _phases(ingredient, heavier)
    assert below.keys() == above.keys()
    for phase, amounts in below.items():
        assert all(small <= large for small, large in zip(amounts, above[phase], strict=True)), phase


@unhurried
@given(ingredients, st.sampled_from([Decimal(1), Decimal("0.5"), Decimal("0.01")]))
def test_amounts_do_not_fall_over_an_edge_of_bands(ingredient: str, step: Decimal) -> None:
    for row in REFERENCE.guidance_of[ingredient, "dog"]:
        if row.to_kg is not None:
            below, above = (_phases(ingredient, kg)[row.phase] for kg in (row.to_kg - step, row.to_kg))
            assert all(small <= large for small, large in zip(below, above, strict=True)), row.id


@unhurried
@given(ingredients, st.decimals(min_value="0.3", max_value="264", places=2))
def test_pounds_and_kilograms_agree(ingredient: str, pounds: Decimal) -> None:
    from_pounds = parse_weight(f"{pounds} lb")
    assert from_pounds == pounds * KG_PER_LB
    printed_kg = f"{pounds * KG_PER_LB:.6f} kg"
    assert abs(parse_weight(printed_kg) - from_pounds) <= Decimal("5e-7")
    one = dose(REFERENCE, DoseRequest(Animal("dog", from_pounds), ingredient))
    other = dose(REFERENCE, DoseRequest(Animal("dog", pounds * KG_PER_LB), ingredient))
    assert one == other


@pytest.mark.parametrize(
    ("pounds", "kilograms"),
    # What a program that multiplies by 0.45359237 sends; the second as binary floating point prints it.
    [("75 lb", "34.01942775 kg"), ("33 lb", "14.968548210000001 kg")],
)
def test_kilograms_converted_without_rounding_are_accepted(pounds: str, kilograms: str) -> None:
    assert abs(parse_weight(pounds) - parse_weight(kilograms)) < Decimal("1e-12")


@unhurried
@given(ingredients, weights)
def test_rounding_never_leaves_the_range(ingredient: str, weight_kg: Decimal) -> None:
    answer = dose(REFERENCE, DoseRequest(Animal("dog", weight_kg), ingredient))
    rows = {row.id: row for row in band_rows(REFERENCE.guidance_of[ingredient, "dog"], weight_kg)}
    for phase in answer.phases:
        row = rows[phase.guidance_id]
        # No released row reaches its ceiling (test_dosing), so the range is the row's alone.
        low, high = (
            _exact(amount, row.basis, weight_kg, row.at_weight_kg) for amount in (row.amount_low, row.amount_high)
        )
        if row.amount_low == row.amount_high:
            assert phase.low_mg == phase.high_mg
            assert abs(phase.low_mg - low) <= ONE_STEP * low
        else:
            assert low <= phase.low_mg <= phase.high_mg <= high
            assert phase.low_mg - low <= ONE_STEP * low
            assert high - phase.high_mg <= ONE_STEP * high


def _exact(amount: Decimal, basis: str, weight_kg: Decimal, at_weight_kg: Decimal) -> Decimal:
    """Scale with forty digits, cut to twenty to take off the tail of the division."""
    exponent = {"fixed": Decimal(0), "per_kg": Decimal(1), "per_kg075": Decimal("0.75")}[basis]
    with localcontext(Context(prec=40)):
        value = amount * (weight_kg / at_weight_kg) ** exponent
    return Context(prec=20).plus(value)


@unhurried
@given(st.sampled_from(FORMS_OF_GLUCOSAMINE), weights)
def test_moiety_is_form_times_share(form_id: str, weight_kg: Decimal) -> None:
    answer = dose(REFERENCE, DoseRequest(Animal("dog", weight_kg), "glucosamine", form_id))
    share = REFERENCE.forms[form_id].share_low or Decimal(0)
    for phase in answer.phases:
        for form_mg, moiety_mg in ((phase.low_mg, phase.moiety_low_mg), (phase.high_mg, phase.moiety_high_mg)):
            assert abs(form_mg * share - moiety_mg) <= 2 * ONE_STEP * moiety_mg


@unhurried
@given(st.sampled_from(FORMS_OF_GLUCOSAMINE), weights)
def test_every_form_carries_the_same_moiety(form_id: str, weight_kg: Decimal) -> None:
    animal = Animal("dog", weight_kg)
    stated = dose(REFERENCE, DoseRequest(animal, "glucosamine"))
    other = dose(REFERENCE, DoseRequest(animal, "glucosamine", form_id))
    for one, two in zip(stated.phases, other.phases, strict=True):
        assert (one.moiety_low_mg, one.moiety_high_mg) == (two.moiety_low_mg, two.moiety_high_mg)


@unhurried
@given(st.sampled_from(FIXED_FORMS), st.decimals(min_value="0.01", max_value="90000", places=2))
def test_converting_is_a_share_and_never_zero(form_id: str, amount_mg: Decimal) -> None:
    answer = convert(REFERENCE, form_id, f"{amount_mg} mg")
    share = REFERENCE.forms[form_id].share_low or Decimal(0)
    assert answer.converted_mg is not None
    assert answer.converted_mg > 0
    assert abs(answer.converted_mg - amount_mg * share) <= ONE_STEP * amount_mg * share


@unhurried
@given(
    st.sampled_from(FORMS_OF_GLUCOSAMINE),
    st.sampled_from(FORMS_OF_GLUCOSAMINE),
    st.integers(min_value=1, max_value=99999),
)
def test_converting_there_and_back(one: str, other: str, amount_mg: int) -> None:
    there = convert(REFERENCE, one, f"{amount_mg} mg", other)
    assert there.converted_mg is not None
    back = convert(REFERENCE, other, f"{there.converted_mg:.6f} mg", one)
    assert back.converted_mg is not None
    assert abs(back.converted_mg - amount_mg) <= 2 * ONE_STEP * amount_mg


@unhurried
@given(
    st.sampled_from(["glucosamine-unspecified", "glucosamine-sulfate", "glucosamine-as-hydrochloride"]),
    st.integers(min_value=1, max_value=99999),
)
def test_an_open_form_stays_between_its_candidates(form_id: str, amount_mg: int) -> None:
    answer = convert(REFERENCE, form_id, f"{amount_mg} mg")
    shares = [REFERENCE.forms[id_].share_low or Decimal(0) for id_ in REFERENCE.forms[form_id].candidate_form_ids]
    assert answer.converted_mg is None
    assert min(shares) * amount_mg <= answer.converted_low_mg < answer.converted_high_mg <= max(shares) * amount_mg


@st.composite
def shelves(draw: st.DrawFn) -> tuple[Product, ...]:
    """Two to five invented products with ids, all in one currency, and a twin of the first: a tie to be settled."""
    count = draw(st.integers(min_value=2, max_value=5))
    products = tuple(
        Product(
            id=f"p{index}",
            unit="tablet",
            unit_count=Decimal(draw(st.integers(min_value=10, max_value=200))),
            price=draw(prices),
            currency="EUR",
            serving_units=Decimal(draw(st.integers(min_value=1, max_value=3))),
            divisible=draw(st.sampled_from(sorted(STEP_OF))),
            facts=(
                LabelFact(draw(st.sampled_from(LABEL_NAMES)), f"{draw(st.integers(min_value=2, max_value=1600))} mg"),
            ),
        )
        for index in range(count)
    )
    return (*products, replace(products[0], id="twin"))


def _compare(products: tuple[Product, ...], weight_kg: Decimal, rank_by: str = "cost_per_day") -> CompareAnswer:
    request = CompareRequest(Animal("dog", weight_kg), (Target("glucosamine"),), products, rank_by=rank_by)
    return compare(REFERENCE, request)


RANKINGS = st.sampled_from(["cost_per_day", "cost_per_g", "units_per_day"])


@fewer
@given(shelves(), weights, RANKINGS, st.randoms(use_true_random=False))
def test_order_of_products_does_not_matter(
    products: tuple[Product, ...], weight_kg: Decimal, rank_by: str, random: Random
) -> None:
    shuffled = list(products)
    random.shuffle(shuffled)
    assert _compare(products, weight_kg, rank_by) == _compare(tuple(shuffled), weight_kg, rank_by)


@fewer
@given(shelves(), weights, st.integers(min_value=2, max_value=40))
def test_cost_scales_with_price(products: tuple[Product, ...], weight_kg: Decimal, times: int) -> None:
    dear = tuple(replace(product, price=(product.price or Decimal(0)) * times) for product in products)
    before = {row.product_id: row for row in _compare(products, weight_kg).rows}
    after = _compare(dear, weight_kg).rows
    assert [row.product_id for row in after] == list(before)
    for row in after:
        _scaled(before[row.product_id], row, times)


def _scaled(cheap: CompareRow, dear: CompareRow, times: int) -> None:
    """Each figure may be off by half its last digit, before and after: a total at the cent, a day at four decimals."""
    assert (cheap.units_per_day, cheap.rank, cheap.why_not, cheap.efficient) == (
        dear.units_per_day, dear.rank, dear.why_not, dear.efficient,
    )  # fmt: skip
    for name, half_digit in (
        ("cost_per_day", Decimal("0.00005")),
        ("cost_per_30_days", Decimal("0.005")),
        ("cost_per_365_days", Decimal("0.005")),
    ):
        one, many = getattr(cheap, name), getattr(dear, name)
        assert abs(one * times - many) <= half_digit * (times + 1), name
    assert cheap.cost_per_g is not None
    assert dear.cost_per_g is not None
    assert abs(cheap.cost_per_g * times - dear.cost_per_g) <= ONE_STEP * dear.cost_per_g


@fewer
@given(shelves(), weights)
def test_costs_agree_with_each_other(products: tuple[Product, ...], weight_kg: Decimal) -> None:
    by_id = {product.id: product for product in products}
    for row in _compare(products, weight_kg).rows:
        product = by_id[row.product_id]
        units, step = row.units_per_day, STEP_OF[product.divisible]
        assert units is not None
        assert units > 0
        assert units % step == 0
        exact = Fraction(product.price or 0) / Fraction(product.unit_count or 1) * Fraction(units)
        for shown, days, half_digit in (
            (row.cost_per_day, 1, "0.00005"),
            (row.cost_per_30_days, 30, "0.005"),
            (row.cost_per_365_days, 365, "0.005"),
        ):
            assert abs(Fraction(shown or 0) - exact * days) <= Fraction(half_digit)


@fewer
@given(shelves(), weights)
def test_a_count_that_meets_the_target_lies_in_the_range(products: tuple[Product, ...], weight_kg: Decimal) -> None:
    answer = _compare(products, weight_kg)
    (wanted,) = answer.targets
    for row in answer.rows:
        (result,) = row.targets
        assert row.meets_target == result.in_range
        if row.meets_target:
            assert result.achieved_mg >= wanted.low_mg * (1 - ONE_STEP)
            assert result.achieved_mg <= wanted.high_mg * (1 + ONE_STEP)
        else:
            assert row.why_not


@fewer
@given(st.sampled_from(LABEL_NAMES), st.integers(min_value=1, max_value=2000), prices, st.integers(2, 40))
def test_cost_per_milligram_scales_with_price(name: str, amount_mg: int, price: Decimal, times: int) -> None:
    def fact_at(value: Decimal) -> tuple[Decimal, Decimal, Decimal]:
        product = Product(
            "p", unit_count=Decimal(120), price=value, currency="EUR", serving_units=Decimal(2),
            facts=(LabelFact(name, f"{amount_mg} mg"),),
        )  # fmt: skip
        (fact,) = normalise(REFERENCE, product).facts
        assert fact.cost_per_mg is not None
        assert fact.cost_per_g is not None
        assert fact.moiety_cost_per_mg is not None
        return fact.cost_per_mg, fact.cost_per_g, fact.moiety_cost_per_mg

    cheap, dear = fact_at(price), fact_at(price * times)
    for one, many in zip(cheap, dear, strict=True):
        assert abs(one * times - many) <= ONE_STEP * many
    assert abs(cheap[0] * 1000 - cheap[1]) <= ONE_STEP * cheap[1]
    # A milligram of glucosamine costs no less than a milligram of what holds it.
    assert cheap[2] >= cheap[0]
