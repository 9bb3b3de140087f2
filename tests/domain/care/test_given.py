"""What stands on a note for one product."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

from service.domain.care.request import ProductTold
from service.domain.products import LabelFact
from tests.domain.care.making import START, given, in_phases, note, tablet, units


def test_phases_with_dates_units_and_doses() -> None:
    written = note(in_phases(units("3", weeks=6, name="loading"), units("1.5", days=84)), start_date=START)
    (product,) = written.given
    first, second = product.phases
    assert (first.phase, first.name, first.from_day, first.to_day, first.days) == (1, "loading", 1, 42, 42)
    assert (first.from_date, first.to_date) == (START, date(2027, 4, 11))
    # The guidance divides the day in two; halves: 3 is 1.5 + 1.5, 1.5 is 1 + 0.5.
    assert (first.units_per_day, first.doses) == (D(3), (D("1.5"), D("1.5")))
    assert (second.from_day, second.to_day, second.doses) == (43, 126, (D(1), D("0.5")))


def test_a_day_is_given_at_once_where_the_guidance_does_not_divide_it() -> None:
    (product,) = note(given("2", facts=(LabelFact("MSM", "500 mg"),))).given
    assert product.phases[0].doses == (D(2),)


def test_lines_tell_form_amount_a_unit_and_amount_a_day() -> None:
    (product,) = note(in_phases(units("2", days=7), units("1"))).given
    (line,) = product.lines
    assert (line.form, line.form_name) == ("glucosamine-hydrochloride", "Glucosamine hydrochloride")
    assert (line.low_mg_per_unit, line.high_mg_per_unit, line.left_open) == (D(500), D(500), ())
    assert [(day.phase, day.low_mg, round(day.moiety_low_mg or 0)) for day in line.per_day] == [
        (1, D(1000), 831),
        (2, D(500), 415),
    ]


def test_what_a_line_leaves_open_is_said() -> None:
    (product,) = note(given("1", facts=(LabelFact("Glucosamine", "1500 mg"),))).given
    (line,) = product.lines
    assert line.flags == ("form_not_stated",)
    assert line.left_open == ("the chemical form is not printed: low and high span the plausible ones",)
    # The least share of the base is that of the sulfate with potassium chloride: 1500 x 0.5918 = 887.7 mg.
    assert (round(line.moiety_low_mg_per_unit or 0, 1), line.moiety_high_mg_per_unit) == (D("887.7"), D(1500))


def test_a_blend_hides_its_members() -> None:
    (product,) = note(given("1", facts=(LabelFact("Joint blend: glucosamine HCl, MSM", "900 mg"),))).given
    (line,) = product.lines
    assert (line.ingredient, line.low_mg_per_unit) == (None, D(900))
    assert "a blend hides this amount: none is credited" in line.left_open


def test_an_amount_per_serving_is_told_per_unit() -> None:
    (product,) = note(given("1", serving_units=D(2))).given
    assert (product.lines[0].low_mg_per_unit, product.serving_units) == (D(250), D(2))
    (without,) = note(given("1", serving_units=None)).given
    assert "serving_not_stated" in without.lines[0].flags


def test_unknown_units_leave_the_day_unknown() -> None:
    (product,) = note(given(None)).given
    assert (product.phases[0].units_per_day, product.phases[0].doses) == (None, ())
    assert product.lines[0].per_day[0].low_mg is None


def test_an_oil_with_its_fatty_acids_stated_names_no_form_of_one_of_them() -> None:
    (product,) = note(given("1", facts=(LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"),))).given
    line = product.lines[0]
    assert (line.form, line.moiety, line.moiety_low_mg_per_unit) == (None, "EPA + DHA", D(500))


def test_other_supplements_have_one_phase_without_days() -> None:
    (product,) = note(other_supplements=(tablet("2", id="s1"),)).other_supplements
    (phase,) = product.phases
    assert (phase.from_day, phase.to_day, phase.units_per_day, phase.doses) == (None, None, D(2), (D(2),))
    assert product.lines[0].per_day[0].low_mg == D(1000)
    (unknown,) = note(other_supplements=(tablet(None, id="s1"),)).other_supplements
    assert (unknown.phases[0].units_per_day, unknown.phases[0].doses) == (None, ())


def test_a_product_from_before_the_course_has_a_date_and_no_day() -> None:
    early = ProductTold(tablet("1", id="p2"), from_date=date(2026, 12, 24))
    phase = note(given("1"), early, start_date=START).given[1].phases[0]
    assert (phase.from_day, phase.from_date, phase.to_date) == (None, date(2026, 12, 24), None)
