"""The charts of the workbench show what its answers say."""

from __future__ import annotations

from decimal import Decimal as D

from service.pages.charts.composition import Delivered
from service.pages.charts.cost_over_course import BreakEven, CostStep
from service.pages.workbench.charts import composition_of, cost_and_units_of, cost_over_course_of, subject
from tests.pages.workbench.answers import BARE, OPEN_FORM, OTHER, REFERENCE, SMALL, SWEET, TABLET, compared, planned


def test_what_and_for_whom() -> None:
    assert subject(REFERENCE, compared(TABLET)) == "Glucosamine for a dog of 34 kg"


def test_cost_against_units() -> None:
    data = cost_and_units_of(REFERENCE, compared(TABLET, SWEET, BARE))
    by_name = {product.name: product for product in data.products}
    assert data.currency == "USD"
    assert (by_name["Tablet"].units_per_day, by_name["Tablet"].cost_per_day) == (D(1), D("0.12"))
    assert by_name["Tablet"].efficient
    assert by_name["Sweet"].objections
    assert by_name["Bare"].cost_per_day is None


def test_what_is_delivered() -> None:
    data = composition_of(REFERENCE, compared(TABLET, OPEN_FORM, OTHER))
    (target,) = data.targets
    assert (target.name, target.low_mg, target.high_mg) == ("glucosamine", D(500), D(1000))
    by_name = {product.name: product.delivered[0] for product in data.products}
    assert by_name["Tablet"] == Delivered(D(500), D(500))
    open_form = by_name["Open form"]
    assert open_form.low_mg is not None
    assert open_form.high_mg is not None
    assert open_form.low_mg < open_form.high_mg
    assert by_name["Other"] == Delivered(None, None)


def test_what_is_paid_and_used() -> None:
    names = {"p1": "Tablet", "p2": "Small pack", "p5": "Bare"}
    data = cost_over_course_of(planned(TABLET, SMALL, BARE), names, "subject")
    assert [course.name for course in data.courses] == ["Tablet", "Small pack"]
    tablet = data.courses[0]
    # 407 tablets of packs of 120, two a day for 42 days: days 1, 79, 199 and 319; days of a chart begin at 0.
    assert tablet.paid == (
        CostStep(0, D("14.40")),
        CostStep(78, D("28.80")),
        CostStep(198, D("43.20")),
        CostStep(318, D("57.60")),
    )
    assert tablet.used == (CostStep(0, D(0)), CostStep(42, D("10.08")), CostStep(365, D("48.84")))
    assert data.break_even == (BreakEven(30, "Tablet", "Small pack"),)
