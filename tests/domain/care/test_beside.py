"""Guidance and evidence beside an amount."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.care.beside import LOADING, MAINTENANCE, beside, evidence_for, guided, phase_for, position_of
from service.domain.common import Animal
from tests.domain.care.making import DOG, REFERENCE, a_range

GLUCOSAMINE = guided(REFERENCE, DOG, "glucosamine")


def test_the_rule_of_the_trade_for_a_dog_of_34_kg() -> None:
    # The trade rule itself is for a dog of 34 kg: 500 to 1000 mg of the hydrochloride, twice that for 28 to 42 days.
    assert GLUCOSAMINE.form == "glucosamine-hydrochloride"
    shown = beside(GLUCOSAMINE, MAINTENANCE)
    loading = beside(GLUCOSAMINE, LOADING)
    assert shown is not None
    assert loading is not None
    assert (shown.low_mg, shown.high_mg, shown.divided_doses, shown.origin) == (
        D(500),
        D(1000),
        2,
        "common_practice",
    )
    assert (loading.low_mg, loading.high_mg, loading.days_low, loading.days_high) == (D(1000), D(2000), 28, 42)
    assert GLUCOSAMINE.reassess_row is not None
    assert GLUCOSAMINE.reassess_row.reassess_after_days == 70


def test_where_there_is_no_guidance_the_reason_is_told() -> None:
    cat = guided(REFERENCE, Animal("cat", D(4), D(9)), "glucosamine")
    assert (cat.form, dict(cat.phases)) == (None, {})
    assert cat.why_none == "Glucosamine is known, but this release holds no amount of it for a cat."
    puppy = guided(REFERENCE, Animal("dog", D(9), D("0.5")), "turmeric")
    assert puppy.why_none is not None
    assert "adults only" in puppy.why_none
    unweighed = guided(REFERENCE, Animal("dog"), "glucosamine")
    assert unweighed.form == "glucosamine-hydrochloride"
    assert unweighed.why_none == "Without a body weight no range can be given."
    assert beside(unweighed, MAINTENANCE) is None


@pytest.mark.parametrize(
    ("mg", "days", "is_first", "phase"),
    [
        # Above maintenance (1000 mg), first, and over within the 42 days of a loading phase.
        ("1500", 42, True, LOADING),
        ("1500", 43, True, MAINTENANCE),
        ("1500", None, True, MAINTENANCE),
        ("1500", 42, False, MAINTENANCE),
        # Not above maintenance: held against it, however short.
        ("1000", 28, True, MAINTENANCE),
        ("700", 28, True, MAINTENANCE),
    ],
)
def test_only_a_first_short_amount_above_maintenance_counts_as_loading(
    mg: str, days: int | None, is_first: bool, phase: str
) -> None:
    assert phase_for(GLUCOSAMINE, D(mg), days, is_first=is_first) == phase


def test_without_a_loading_phase_there_is_none() -> None:
    assert phase_for(guided(REFERENCE, DOG, "msm"), D(9000), 7, is_first=True) == MAINTENANCE


@pytest.mark.parametrize(
    ("low", "high", "at_least", "position"),
    [
        ("480", "480", False, "below"),
        ("500", "500", False, "within"),
        ("1000", "1000", False, "within"),
        ("1000.01", "1000.01", False, "above"),
        ("450", "600", False, "open"),
        ("900", "1100", False, "open"),
        ("450", "499", False, "below"),
        # More of it is in a blend: 600 may be 1100, 480 may be 600, but 1200 is too much already.
        ("600", "600", True, "open"),
        ("480", "480", True, "open"),
        ("1200", "1200", True, "above"),
    ],
)
def test_where_an_amount_lies(low: str, high: str, at_least: bool, position: str) -> None:
    assert position_of(D(low), D(high), at_least, a_range()) == position


def test_what_cannot_be_placed() -> None:
    assert position_of(None, None, True, a_range()) == "not_known"
    assert position_of(D(1), D(1), False, None) == "no_guidance"


def test_evidence_is_told_of_actives_and_of_whatever_has_a_verdict() -> None:
    found = {one.ingredient: one.verdict for one in evidence_for(REFERENCE, ("glucosamine", "vitamin-e", "magnesium"))}
    # A verdict of the table; vitamin E has one, magnesium is a nutrient without.
    assert found == {"glucosamine": "against", "vitamin-e": "against"}


def test_an_active_without_a_verdict_is_untested() -> None:
    without = next(
        row.id for row in REFERENCE.tables["ingredients"] if row.kind == "active" and row.id not in REFERENCE.evidence
    )
    assert [one.verdict for one in evidence_for(REFERENCE, (without,))] == ["untested"]
