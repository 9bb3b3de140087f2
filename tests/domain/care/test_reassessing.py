"""When to judge whether it helps."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

from service.domain.care.request import ProductTold
from service.domain.common import Animal
from service.domain.products import LabelFact
from tests.domain.care.making import START, given, note, tablet

OIL = (LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"),)


def test_seventy_days_after_the_first_one() -> None:
    # Guidance on glucosamine asks for a judgement after 70 days: 1 March + 70 days is 10 May 2027.
    written = note(given("1"), start_date=START)
    assert (written.reassess_on, written.reassess_on_day, written.reassess_after_days) == (date(2027, 5, 10), 71, 70)


def test_without_a_calendar_days_are_counted() -> None:
    written = note(given("1"))
    assert (written.reassess_on, written.reassess_on_day, written.reassess_after_days) == (None, 71, 70)


def test_each_ingredient_counts_from_its_own_beginning_and_the_earliest_is_named() -> None:
    # Fish oil since 1 February 2027: 84 days later is 26 April, before the 10 May of glucosamine.
    oil = ProductTold(tablet("5", id="p2", facts=OIL), from_date=date(2027, 2, 1))
    written = note(given("1"), oil, start_date=START)
    assert [(one.ingredient, one.after_days, one.on_date) for one in written.reassessments] == [
        ("epa-dha", 84, date(2027, 4, 26)),
        ("glucosamine", 70, date(2027, 5, 10)),
    ]
    assert written.reassess_on == date(2027, 4, 26)
    # 1 March is day 1, so 26 April is day 57.
    assert written.reassess_on_day == 57


def test_no_guidance_no_time() -> None:
    written = note(animal=Animal("cat", D(4), D(4)))
    assert (written.reassessments, written.reassess_on, written.reassess_after_days) == ((), None, None)


def test_another_material_than_the_guidance_speaks_of_has_no_time() -> None:
    assert note(given("1", facts=(LabelFact("Turmeric powder", "300 mg"),))).reassessments == ()


def test_without_a_weight_the_time_is_known_all_the_same() -> None:
    assert note(animal=Animal("dog")).reassess_after_days == 70
