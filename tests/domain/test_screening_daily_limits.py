"""Which limits a total is held against, and which of them answers."""

from __future__ import annotations

from decimal import Decimal as D

from service.domain.common import Animal
from service.domain.screening_daily_limits import answering, limits_for
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product

DOG = Animal("dog", D(16))
CAT = Animal("cat", D(4))


def test_an_enforced_limit_answers(reference: Reference) -> None:
    limits = limits_for(reference, "vitamin-d", D("0.01"), DOG)
    limit = answering(limits)
    assert limit is not None
    assert limit.limit_id == "vitamin-d-dog-nrc"
    assert {one.limit_id for one in limits} >= {"vitamin-d-dog-diet-maximum-aafco", "vitamin-d-dog-diet-legal-maximum"}


def test_a_read_maximum_of_the_diet_answers_before_a_recalled_one(reference: Reference) -> None:
    # Selenium: 2 mg/kg of dry matter was read, 0.568 mg/kg is recalled and stands beside it.
    limits = limits_for(reference, "selenium", D("0.26"), DOG)
    limit = answering(limits)
    assert limit is not None
    assert (limit.limit_id, limit.limit_mg_per_day, limit.share) == (
        "selenium-dog-diet-maximum-aafco",
        D("0.52"),
        D("0.5"),
    )
    assert [one.origin for one in limits if one.limit_id == "selenium-dog-diet-legal-maximum"] == ["memory"]


def test_given_up_and_single_dose_bounds_are_no_daily_limit(reference: Reference) -> None:
    ids = {
        limit.limit_id
        for ingredient in ("vitamin-d", "vitamin-a", "selenium", "iodine", "zinc", "calcium", "manganese", "vitamin-e")
        for limit in limits_for(reference, ingredient, D(1), DOG)
    }
    assert not [id_ for id_ in ids if "superseded" in id_ or "minimum" in id_ or "toxic" in id_]


def test_no_weight_no_limit(reference: Reference) -> None:
    assert limits_for(reference, "zinc", D(1), Animal("dog")) == ()
    assert answering(()) is None


def test_trace_elements_have_a_limit_for_both_species(reference: Reference) -> None:
    for ingredient in ("zinc", "iron", "copper", "manganese", "selenium", "iodine", "vitamin-a", "vitamin-d"):
        for animal in (DOG, CAT):
            assert answering(limits_for(reference, ingredient, D(1), animal)) is not None, ingredient


def test_more_than_a_whole_day_of_food_may_hold(reference: Reference) -> None:
    # 22.7 mg per 100 g in 260 g: 59.02 mg zinc a day for a dog of 16 kg.
    below = ask(reference, None, product("a", ("Zinc", "59 mg")), kg="16")
    assert of_kind(below, "over_limit") == []
    over = of_kind(ask(reference, None, product("a", ("Zinc", "60 mg")), kg="16"), "over_limit")
    assert [finding.record_ids for finding in over] == [("zinc-dog-diet-legal-maximum",)]
    assert "recalled maximum of a whole day's food of 59.02 mg" in over[0].effect
    assert over[0].evidence == "recalled maximum"
