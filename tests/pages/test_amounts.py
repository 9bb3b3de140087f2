"""Published amounts, weight bands and rules in a line; every word of the releases has its own wording."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.pages.amounts import published_amount, rule_sentence, weight_band
from service.pages.ingredient_words import (
    ACTION_WORDS,
    EVIDENCE_OF_A_PAIR,
    KIND_WORDS,
    PHASE_WORDS,
    SEVERITY_WORDS,
    STANDING_WORDS,
    THRESHOLD_UNIT_WORDS,
    formula,
    phase,
    severity,
)
from service.pages.wording import EVIDENCE_WORDS, LEVEL_WORDS, ORIGIN_WORDS, RULE_WORDS
from service.reference.release import Reference


def decimal(text: str | None) -> Decimal | None:
    """Read an end of a range."""
    return None if text is None else Decimal(text)


@pytest.mark.parametrize(
    ("low", "high", "unit", "basis", "written"),
    [
        ("69", "69", "mg", "per_kg_per_day", "69\u00a0mg per kg a day"),
        ("500", "1000", "mg", "per_day", "500 to 1000\u00a0mg a day"),
        ("2", "2", "multiple", "multiple_of_label", "2 times the label"),
        ("0.3", None, "% of food", "diet_inclusion", "0.3 or more\u00a0% of food"),
        ("1", "1", "capsule", "a_new_basis", "1\u00a0capsule a new basis"),
        (None, None, "mg", "per_day", "not stated"),
    ],
)
def test_published_amounts(low: str | None, high: str | None, unit: str, basis: str, written: str) -> None:
    assert published_amount(decimal(low), decimal(high), unit, basis) == written


@pytest.mark.parametrize(
    ("low", "high", "written"),
    [
        ("5", "60", "5 to 60\u00a0kg"),
        ("34", "34", "34\u00a0kg"),
        ("60", None, "from 60\u00a0kg"),
        (None, "5", "up to 5\u00a0kg"),
        (None, None, ""),
    ],
)
def test_weight_bands(low: str | None, high: str | None, written: str) -> None:
    assert weight_band(decimal(low), decimal(high)) == written


def test_rules_say_how_they_scale_once() -> None:
    assert rule_sentence("trade-rule-per-kg", "per_kg") == "A rule of the trade, scaled by body weight"
    assert rule_sentence("customary-per-kg", "per_kg") == "Custom, in milligrams per kilogram; scaled by body weight"
    assert rule_sentence("a-new-rule", "fixed") == "a new rule"


def test_formulas_have_low_counts() -> None:
    assert formula("C12H28N2O14S") == "C\u2081\u2082H\u2082\u2088N\u2082O\u2081\u2084S"
    assert formula("Zn3(C6H5O7)2") == "Zn\u2083(C\u2086H\u2085O\u2087)\u2082"
    assert formula(None) is None


def test_words_that_are_not_known_are_written_as_they_are() -> None:
    assert phase("a_new_phase") == "a new phase"
    assert severity("a_new_tier") == "a new tier"


def test_every_word_of_the_dataset_has_a_wording(reference: Reference) -> None:
    tables = reference.tables
    thresholds = [row for row in tables["hazard_thresholds"] if row.use != "do_not_use"]
    assert {row.kind for row in tables["ingredients"]} <= set(KIND_WORDS)
    assert {row.phase for row in tables["regimens"]} <= set(PHASE_WORDS)
    assert {row.severity for row in thresholds} <= set(SEVERITY_WORDS)
    assert {row.action for row in thresholds} <= set(ACTION_WORDS)
    assert {row.unit for row in thresholds if row.unit} <= set(THRESHOLD_UNIT_WORDS)
    assert {row.evidence for row in tables["interactions"]} <= set(EVIDENCE_OF_A_PAIR)
    assert {row.level for row in tables["interactions"]} <= set(LEVEL_WORDS)
    assert {row.standing for row in tables["beliefs"]} <= set(STANDING_WORDS)
    assert {row.verdict for row in tables["evidence"]} <= set(EVIDENCE_WORDS)
    assert {row.rule_id for row in tables["guidance"]} <= set(RULE_WORDS)
    assert {row.origin for row in tables["sources"]} <= set(ORIGIN_WORDS)
