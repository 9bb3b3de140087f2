"""A product per unit: amounts, costs, hazards and what was not understood. Numbers are worked by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.errors import InvalidInput
from service.domain.normalising import NormaliseAnswer, cost_per_unit, normalise, read_facts
from service.domain.products import LabelFact, Product
from service.reference.release import Reference
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
# The invented tablet of the contract: 120 for 14.40, two a serving.
TABLET = Product(
    id="p1",
    name="Plain tablet",
    unit="tablet",
    unit_count=D(120),
    price=D("14.40"),
    currency="USD",
    serving_units=D(2),
    divisible="halves",
    facts=(LabelFact("Glucosamine HCl", "1000 mg"), LabelFact("MSM", "400 mg")),
    other_ingredients="cellulose, magnesium stearate",
)


def _answer(reference: Reference, **changes: object) -> NormaliseAnswer:
    return normalise(reference, replace(TABLET, **changes))  # type: ignore[arg-type]


def test_the_invented_tablet(reference: Reference) -> None:
    answer = normalise(reference, TABLET)
    # 14.40 / 120 = 0.12 a tablet; 1000 mg in two tablets are 500 in one.
    assert answer.cost_per_unit == D("0.12")
    glucosamine, msm = answer.facts
    assert (glucosamine.mg_per_unit, glucosamine.form) == (D(500), "glucosamine-hydrochloride")
    # 500 x 179.172 / 215.63 = 415.462 mg of base.
    assert (glucosamine.moiety, glucosamine.moiety_mg_per_unit) == ("glucosamine", D("415.462"))
    # 0.12 / 500 = 0.00024 per mg, 0.24 per g; 0.12 / 415.4617 = 0.000288835 per mg of base.
    assert (glucosamine.cost_per_mg, glucosamine.cost_per_g) == (D("0.00024"), D("0.24"))
    assert glucosamine.moiety_cost_per_mg == D("0.000288835")
    assert (msm.mg_per_unit, msm.moiety_mg_per_unit, msm.cost_per_mg) == (D(200), D(200), D("0.0006"))
    assert (answer.label_flags, answer.hazards, answer.unrecognised, answer.statements) == ((), (), (), ())
    assert [item.ingredient for item in answer.other_ingredients] == ["cellulose", "magnesium-stearate"]
    assert answer.source_ids


def test_an_open_form_is_judged_on_the_low_reading(reference: Reference) -> None:
    answer = _answer(reference, facts=(LabelFact("Glucosamine", "1000 mg"),))
    (fact,) = answer.facts
    # 500 mg hold 295.9 (potassium complex) to 500 (base); 0.12 / 295.9016 = 0.00040554 per mg.
    assert (fact.moiety_mg_per_unit, fact.moiety_high_mg_per_unit) == (None, D(500))
    assert fact.moiety_low_mg_per_unit == D("295.902")
    assert fact.moiety_cost_per_mg == D("0.000405540")
    assert answer.label_flags == ("form_not_stated",)
    assert answer.cautions[0].code == "form_not_stated"


@pytest.mark.parametrize(
    ("changes", "cost"),
    [({}, D("0.12")), ({"price": None}, None), ({"unit_count": None}, None), ({"price": D("0.01")}, D("0.0001"))],
)
def test_cost_per_unit(reference: Reference, changes: dict[str, D | None], cost: D | None) -> None:
    answer = _answer(reference, **changes)
    assert answer.cost_per_unit == cost
    assert (answer.facts[0].cost_per_mg is None) == (cost is None)


def test_the_exact_cost_is_not_rounded() -> None:
    assert cost_per_unit(replace(TABLET, price=D(1), unit_count=D(3))) == D(1) / D(3)
    assert cost_per_unit(replace(TABLET, unit_count=D(0))) is None


def test_a_serving_that_is_not_stated_is_said(reference: Reference) -> None:
    answer = _answer(reference, serving_units=None)
    assert "serving_not_stated" in answer.label_flags
    assert answer.facts[0].mg_per_unit == D(1000)


@pytest.mark.parametrize(
    ("name", "amount", "flag"),
    [
        ("Vitamin D", "25 mcg (40 IU)", "label_inconsistent"),
        ("Vitamin D3", "400 IU (10 mcg)", "restated_amount"),
        ("MSM", "500 mg (0.5 g)", "restated_amount"),
        ("MSM", "500 mg (0.6 g)", "label_inconsistent"),
    ],
)
def test_two_figures_for_one_amount(reference: Reference, name: str, amount: str, flag: str) -> None:
    answer = _answer(reference, facts=(LabelFact(name, amount),))
    assert flag in answer.facts[0].flags
    assert flag in answer.label_flags


def test_a_bound_in_the_name_is_a_bound(reference: Reference) -> None:
    (fact,) = _answer(reference, facts=(LabelFact("Glucosamine HCl (min)", "1000 mg"),)).facts
    assert (fact.bound, fact.form, fact.name) == ("min", "glucosamine-hydrochloride", "Glucosamine HCl (min)")
    # What stands beside the number counts before what stands beside the name.
    (fact,) = _answer(reference, facts=(LabelFact("Sodium (min)", "max 10 mg"),)).facts
    assert fact.bound == "max"


def test_a_hidden_amount_credits_nothing(reference: Reference) -> None:
    answer = _answer(reference, facts=(LabelFact("Glucosamine HCl", None),))
    (fact,) = answer.facts
    assert (fact.mg_per_unit, fact.moiety_mg_per_unit, fact.cost_per_mg) == (None, None, None)
    assert "amount_not_stated" in answer.label_flags


def test_a_blend_is_screened_and_not_credited(reference: Reference) -> None:
    blend = LabelFact("Joint blend: glucosamine HCl, xylitol, zorblaxin", "1,250 mg")
    answer = _answer(reference, facts=(blend,))
    (fact,) = answer.facts
    assert (fact.mg_per_unit, fact.ingredient, fact.moiety_cost_per_mg) == (D(625), None, None)
    assert answer.label_flags == ("amount_hidden_in_blend", "members_not_credited")
    assert [(hazard.hazard, hazard.where) for hazard in answer.hazards] == [("xylitol", "facts")]
    assert answer.unrecognised == (blend.name,)


def test_a_blend_whose_members_are_known_is_understood(reference: Reference) -> None:
    assert _answer(reference, facts=(LabelFact("Joint blend: MSM, ginger", "5 mg"),)).unrecognised == ()
    # One that names no member is not.
    assert _answer(reference, facts=(LabelFact("Joint blend", "5 mg"),)).unrecognised == ("Joint blend",)


def test_hazards_statements_and_unknown_things_of_the_list(reference: Reference) -> None:
    answer = _answer(reference, other_ingredients="Süßungsmittel (E 967), no chocolate, xylitoll, zorblaxin")
    assert [(hazard.hazard, hazard.match) for hazard in answer.hazards] == [
        ("xylitol", "exact"),
        ("xylitol", "possible"),
    ]
    assert answer.statements == ("no chocolate",)
    assert answer.unrecognised == ("xylitoll", "zorblaxin")
    assert "hazards_on_label" in [caution.code for caution in answer.cautions]
    assert [item.negated for item in answer.other_ingredients] == [False, True, False, False]


def test_a_salt_in_a_bracket_leaves_nothing_unrecognised(reference: Reference) -> None:
    names = ("Glucosamine (as HCl)", "Zink (als Zinkgluconat)", "Methylsulfonylmethane (MSM)", "EPA (from fish oil)")
    answer = _answer(reference, facts=tuple(LabelFact(name, "10 mg") for name in names))
    assert answer.unrecognised == ()


def test_an_amount_that_cannot_be_read_names_its_place(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        _answer(reference, facts=(LabelFact("MSM", "400 mg"), LabelFact("MSM", "5OO mg")))
    (issue,) = caught.value.issues
    assert issue.where == "product/facts/1/amount"
    assert "letter O" in issue.detail
    with pytest.raises(InvalidInput) as caught:
        read_facts(reference, replace(TABLET, facts=(LabelFact("MSM", "5"),)), "products/3")
    assert caught.value.issues[0].where == "products/3/facts/0/amount"


def test_too_many_other_ingredients_are_refused(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        _answer(reference, other_ingredients="oats," * 400)
    assert "400 items" in str(caught.value)


@given(
    st.decimals("0.01", "10000", places=2),
    st.integers(1, 1000),
    st.integers(1, 20),
    st.decimals("0.1", "5000", places=1),
)
def test_costs_and_amounts_scale(price: D, count: int, serving: int, mg: D) -> None:
    product = replace(
        TABLET, price=price, unit_count=D(count), serving_units=D(serving), facts=(LabelFact("MSM", f"{mg} mg"),)
    )
    one = normalise(REFERENCE, product).facts[0]
    double = normalise(REFERENCE, replace(product, price=price * 2)).facts[0]
    assert one.mg_per_unit is not None
    assert one.cost_per_mg is not None
    assert double.cost_per_mg is not None
    # Six digits are kept of each.
    assert abs(double.cost_per_mg / one.cost_per_mg - 2) < D("0.00002")
    assert abs(one.mg_per_unit * serving / mg - 1) < D("0.00001")
    assert abs(one.cost_per_mg * one.mg_per_unit * count / price - 1) < D("0.00001")


@given(st.permutations(["Glucosamine HCl", "MSM", "Zinc", "Omega-3"]))
def test_lines_do_not_depend_on_their_order(names: list[str]) -> None:
    answer = normalise(REFERENCE, replace(TABLET, facts=tuple(LabelFact(name, "100 mg") for name in names)))
    alone = {name: normalise(REFERENCE, replace(TABLET, facts=(LabelFact(name, "100 mg"),))).facts[0] for name in names}
    assert list(answer.facts) == [alone[name] for name in names]
