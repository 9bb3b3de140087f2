"""Sums of every ingredient over all that is given, against guidance."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

from service.domain.care.answer import AmountRow
from service.domain.care.request import ProductTold
from service.domain.common import Animal
from service.domain.products import LabelFact
from tests.domain.care.making import START, given, in_phases, note, row_of, tablet, units

Seen = list[tuple[int | None, int | None, D | None, str, str | None]]


def seen(rows: tuple[AmountRow, ...]) -> Seen:
    return [
        (row.from_day, row.to_day, row.low_mg, row.position, row.guidance.phase if row.guidance else None)
        for row in rows
    ]


def test_loading_and_maintenance_by_hand() -> None:
    # 3 x 500 = 1500 mg for 42 days lies in 1000 to 2000 (loading); 1.5 x 500 = 750 mg in 500 to 1000 (maintenance).
    written = note(in_phases(units("3", weeks=6), units("1.5")), start_date=START)
    assert seen(written.amounts) == [
        (1, 42, D(1500), "within", "loading"),
        (43, None, D(750), "within", "maintenance"),
    ]
    assert [(row.from_date, row.to_date) for row in written.amounts] == [
        (date(2027, 3, 1), date(2027, 4, 11)),
        (date(2027, 4, 12), None),
    ]


def test_a_loading_amount_that_stays_is_above_maintenance() -> None:
    assert seen(note(given("3")).amounts) == [(1, None, D(1500), "above", "maintenance")]


def test_two_products_add_up_only_while_both_are_given() -> None:
    # One tablet all along and one more from day 11 to day 20: 500, 1000, 500 mg.
    second = ProductTold(tablet("1", id="p2"), from_date=date(2027, 3, 11), until_date=date(2027, 3, 20))
    written = note(given("1"), second, start_date=START)
    assert [(row.from_day, row.to_day, row.low_mg, row.products) for row in written.amounts] == [
        (1, 10, D(500), ("p1",)),
        (11, 20, D(1000), ("p1", "p2")),
        (21, None, D(500), ("p1",)),
    ]


def test_what_does_not_change_stays_one_row() -> None:
    # Another product changes its amount; the sum of glucosamine does not.
    msm = ProductTold(
        tablet(None, id="p2", facts=(LabelFact("MSM", "500 mg"),)), phases=(units("2", days=7), units("4"))
    )
    written = note(given("1"), msm)
    assert [(row.ingredient, row.from_day, row.to_day) for row in written.amounts] == [
        ("glucosamine", 1, None),
        ("msm", 1, 7),
        ("msm", 8, None),
    ]


def test_other_supplements_count_all_along() -> None:
    written = note(given("1"), other_supplements=(tablet("0.5", id="s1"),))
    row = row_of(written, "glucosamine")
    assert (row.low_mg, row.products) == (D(750), ("p1", "s1"))


def test_unknown_units_are_no_zero() -> None:
    unknown = row_of(note(given(None)), "glucosamine")
    assert (unknown.low_mg, unknown.at_least, unknown.position) == (None, True, "not_known")
    beside = row_of(note(given("2"), given(None, id="p2")), "glucosamine")
    assert (beside.low_mg, beside.at_least, beside.position) == (D(1000), True, "open")


def test_an_open_form_gives_two_readings_in_the_form_of_the_guidance() -> None:
    # 1500 mg of no stated form hold 887.7 to 1500 mg of the base, which are 887.7 / 0.830924 = 1068 to 1805 mg of HCl.
    row = row_of(note(given("1", facts=(LabelFact("Glucosamine", "1500 mg"),))), "glucosamine")
    assert (round(row.low_mg or 0), round(row.high_mg or 0)) == (1068, 1805)
    assert (row.form, row.counted_as) == ("glucosamine-hydrochloride", "Glucosamine hydrochloride")
    assert row.position == "above"


def test_another_material_than_the_guidance_speaks_of_is_held_against_nothing() -> None:
    row = row_of(note(given("1", facts=(LabelFact("Turmeric powder", "300 mg"),))), "turmeric")
    assert (row.form, row.counted_as, row.low_mg) == (None, "the material as labelled", D(300))
    assert (row.position, row.guidance) == ("no_guidance", None)
    assert row.why_no_guidance is not None
    assert row.why_no_guidance.endswith("the label holds another material.")


def test_a_cat_has_no_range_and_the_reason_is_told() -> None:
    row = row_of(note(animal=Animal("cat", D(4), D(9))), "glucosamine")
    assert (row.position, row.form, row.counted_as) == ("no_guidance", None, "glucosamine")
    assert row.low_mg is not None
    # 500 mg of the hydrochloride hold 415.5 mg of glucosamine itself.
    assert round(row.low_mg, 1) == D("415.5")
    assert row.why_no_guidance == "Glucosamine is known, but this release holds no amount of it for a cat."


def test_without_a_weight_amounts_stand_without_a_range() -> None:
    row = row_of(note(animal=Animal("dog")), "glucosamine")
    assert (row.position, row.why_no_guidance) == ("no_guidance", "Without a body weight no range can be given.")
    assert row.low_mg is not None


def test_epa_and_dha_are_counted_together_as_the_guidance_does() -> None:
    # 5 x (300 + 200) mg; for 34 kg the range is 2273.73 to 4364.85 mg (guidance row, kg to the power 0.75 from 30 kg).
    oil = given("5", facts=(LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"),))
    row = row_of(note(oil), "epa-dha")
    assert (row.low_mg, row.position) == (D(2500), "within")
    assert row.guidance is not None
    assert (row.guidance.low_mg, row.guidance.high_mg) == (D("2273.73"), D("4364.85"))


def test_a_pause_parts_two_rows() -> None:
    written = note(in_phases(units("1", days=5), units("0", days=5), units("1")))
    assert [(row.from_day, row.to_day) for row in written.amounts] == [(1, 5), (11, None)]
