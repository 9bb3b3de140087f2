"""The screen over all days of a course."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

import pytest

from service.domain.care.request import ProductTold
from service.domain.care.screened import maximal, screen_course
from service.domain.common import Animal
from service.domain.errors import InvalidInput
from service.domain.products import LabelFact
from tests.domain.care.making import DOG, REFERENCE, START, given, in_phases, note, request, tablet, units

CLAW = (LabelFact("Devil's claw", "150 mg"),)


def test_only_stretches_that_no_other_contains_are_screened() -> None:
    loading, maintenance, other = {0: D(3)}, {0: D(1)}, {1: D(2)}
    assert maximal([loading, maintenance]) == [loading]
    assert maximal([maintenance, loading]) == [loading]
    assert maximal([loading, other]) == [loading, other]
    assert maximal([other, {0: D(3), 1: D(2)}, loading]) == [{0: D(3), 1: D(2)}]
    assert maximal([{0: None}, {0: D(1)}]) == [{0: None}, {0: D(1)}]


def test_products_that_follow_each_other_are_no_duplicate() -> None:
    first = ProductTold(tablet("1"), from_date=START, until_date=date(2027, 3, 31))
    second = ProductTold(tablet("1", id="p2"), from_date=date(2027, 4, 1))
    kinds = {finding.kind for finding in note(first, second).screen.findings}
    assert "duplicate" not in kinds
    together = {finding.kind for finding in note(given("1"), given("1", id="p2")).screen.findings}
    assert "duplicate" in together


def test_a_medicine_that_does_not_go_with_it_is_found_with_names() -> None:
    written = note(given("1", facts=CLAW), medications=("carprofen",))
    assert (written.screen.verdict, written.screen.highest_level) == ("ask_veterinarian", "veterinarian")
    gravest = written.screen.findings[0]
    assert gravest.subjects == ("devils-claw", "carprofen")
    assert gravest.subject_names == ("devil's claw", "carprofen")


def test_the_gravest_of_several_stretches_is_the_verdict() -> None:
    birch = ProductTold(
        tablet("1", id="p2", other_ingredients="birch sugar"), from_date=date(2027, 5, 1), until_date=date(2027, 5, 2)
    )
    plain = ProductTold(tablet("1", id="p3"), from_date=date(2027, 6, 1))
    assert note(birch, plain, start_date=START).screen.verdict == "stop"


def test_an_amount_above_a_maximum_is_found_where_it_is_given() -> None:
    # The recorded maximum of EPA and DHA for 34 kg is 370 mg x kg^0.75 = 5209 mg a day; 12 x 500 mg are 6000.
    oil = (LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"),)
    over = note(in_phases(units("12", days=5), units("4"), facts=oil))
    assert [one.kind for one in over.screen.findings if one.kind == "over_limit"] == ["over_limit"]
    assert "over_limit" not in {one.kind for one in note(given("4", facts=oil)).screen.findings}


def test_what_was_told_is_shown_with_what_it_was_taken_as() -> None:
    written = note(
        medications=("insulin, carprofen", "nosuchmedicine", "carprofen"), conditions=("no diabetes", "bladder stones")
    )
    both, unknown, one = written.medications
    assert (both.understood, [meaning.id for meaning in both.taken_as]) == (True, ["insulin", "carprofen"])
    assert (unknown.text, unknown.understood, unknown.taken_as) == ("nosuchmedicine", False, ())
    assert (one.understood, [meaning.id for meaning in one.taken_as]) == (True, ["carprofen"])
    denied, several = written.conditions
    assert (denied.understood, denied.taken_as) == (True, ())
    assert len(several.taken_as) == 3
    assert written.screen.verdict == "incomplete"


def test_pairs_of_two_ingredients_are_counted_and_not_listed() -> None:
    facts = (LabelFact("Glucosamine HCl", "500 mg"), LabelFact("MSM", "200 mg"))
    screen = note(given("1", facts=facts), medications=("carprofen",)).screen
    assert {(gap.a, gap.b) for gap in screen.not_assessed if gap.reason == "no_record"} == {
        ("glucosamine", "carprofen"),
        ("msm", "carprofen"),
    }
    counts = {one.reason: one.count for one in screen.not_assessed_counts}
    # Both with the medicine, and the pair of glucosamine and MSM.
    assert counts["no_record"] == 3


def test_traits_are_screened() -> None:
    told = note(traits=("collie cross",), medications=("carprofen",)).traits
    assert [meaning.id for meaning in told[0].taken_as] == ["mdr1-mutation"]


def test_an_amount_that_cannot_be_read_is_refused_at_its_place() -> None:
    wanted = request(given("1", facts=(LabelFact("MSM", "a pinch"),)))
    with pytest.raises(InvalidInput) as error:
        screen_course(REFERENCE, wanted, [{0: D(1)}])
    assert error.value.issues[0].where == "products/0/facts/0/amount"


def test_a_cat_is_screened_as_a_cat() -> None:
    assert DOG.species == "dog"
    garlic = given("1", other_ingredients="garlic")
    assert note(garlic, animal=Animal("cat", D(4), D(9))).screen.verdict == "stop"
