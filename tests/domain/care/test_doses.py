"""How a day is divided into doses, and how many units an amount in mg is."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.care.doses import split_into_doses, units_of
from service.domain.care.request import PhaseTold
from service.domain.care.schedule import Span
from service.domain.errors import InvalidInput, UnknownForm, UnknownIngredient
from service.domain.normalising import read_facts
from service.domain.products import LabelFact, Product
from tests.domain.care.making import DOG, REFERENCE, tablet

HALF = D("0.5")


@pytest.mark.parametrize(
    ("units", "doses", "step", "expected"),
    [
        # Three tablets in halves are six parts: three and three.
        ("3", 2, "0.5", ["1.5", "1.5"]),
        # One and a half are three parts: the larger dose comes first.
        ("1.5", 2, "0.5", ["1", "0.5"]),
        # Half a tablet that breaks in halves is one part: one dose.
        ("0.5", 2, "0.5", ["0.5"]),
        # Whole tablets only: two and one.
        ("3", 2, "1", ["2", "1"]),
        # A third of a tablet cannot be broken off in halves: it is told as it is.
        ("0.3", 2, "0.5", ["0.3"]),
        ("4", 1, "1", ["4"]),
        ("4", 3, "1", ["2", "1", "1"]),
        ("0", 2, "0.5", []),
    ],
)
def test_a_day_is_divided_as_evenly_as_the_unit_allows(units: str, doses: int, step: str, expected: list[str]) -> None:
    found = split_into_doses(D(units), doses, D(step))
    assert found == tuple(map(D, expected))
    assert sum(found) == D(units)


def count(told: PhaseTold | None, product: Product | None = None, form: str | None = None) -> D | None:
    product = product or tablet()
    span = Span(0, 0, None, told, "products/0/phases/0")
    return units_of(REFERENCE, DOG, product, read_facts(REFERENCE, product), span, form)


def test_units_are_taken_as_told() -> None:
    assert count(PhaseTold(units_per_day=D("1.25"))) == D("1.25")
    assert count(None) is None


@pytest.mark.parametrize(
    ("mg", "form", "units"),
    [
        # 500 mg of the hydrochloride a tablet, in halves: 1000 mg are two, 1001 mg need two and a half.
        ("1000", "glucosamine-hydrochloride", "2"),
        ("1001", "glucosamine-hydrochloride", "2.5"),
        # Of the base itself a tablet holds 500 x 0.830924 = 415.46 mg: 830 mg are just reached by two.
        ("830", None, "2"),
        ("831", None, "2.5"),
    ],
)
def test_an_amount_becomes_the_fewest_units_that_reach_it(mg: str, form: str | None, units: str) -> None:
    told = PhaseTold(mg_per_day=D(mg), ingredient="glucosamine", form=form)
    assert count(told) == D(units)


def test_the_form_of_the_guidance_counts_where_none_is_told() -> None:
    told = PhaseTold(mg_per_day=D(1000), ingredient="glucosamine")
    assert count(told, form="glucosamine-hydrochloride") == D(2)


def test_an_open_label_is_counted_on_its_low_reading() -> None:
    # 1500 mg of glucosamine of no stated form are at least 1500 x 0.592 = 887.7 mg of the base: two scoops for 900.
    powder = tablet(facts=(LabelFact("Glucosamine", "1500 mg"),), divisible="whole")
    assert count(PhaseTold(mg_per_day=D(887), ingredient="glucosamine"), powder) == D(1)
    assert count(PhaseTold(mg_per_day=D(900), ingredient="glucosamine"), powder) == D(2)


def test_an_amount_of_what_the_label_does_not_credit_is_refused() -> None:
    with pytest.raises(InvalidInput) as error:
        count(PhaseTold(mg_per_day=D(100), ingredient="msm"))
    assert error.value.issues[0].where == "products/0/phases/0/ingredient"
    assert "is not on the label of p1" in error.value.issues[0].detail


def test_unknown_ids_are_refused() -> None:
    with pytest.raises(UnknownIngredient, match="glucosamin'"):
        count(PhaseTold(mg_per_day=D(100), ingredient="glucosamin"))
    with pytest.raises(UnknownForm, match="no-such-form"):
        count(PhaseTold(mg_per_day=D(100), ingredient="glucosamine", form="no-such-form"))
    with pytest.raises(InvalidInput, match="msm is no form of glucosamine"):
        count(PhaseTold(mg_per_day=D(100), ingredient="glucosamine", form="msm"))
