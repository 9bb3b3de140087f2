"""Thresholds and conflicts as an exposure answer shows them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.exposure_rows import rounded_range, severity_words
from service.reference.release import Reference
from tests.domain.exposure_requests import ask


@pytest.mark.parametrize(
    ("id_", "words"),
    [
        ("iron-dog-signs-severe-1", "severe signs above 60 mg/kg elemental iron"),
        ("zinc-dog-signs-severe-1", "severe signs from 50 to 100 mg/kg zinc"),
        ("nicotine-cat-signs-severe-1", "severe signs from 4 mg in all nicotine"),
        ("propylene-glycol-dog-ld50-1", "the death of half the animals from 9324 mg/kg propylene glycol"),
    ],
)
def test_a_tier_in_words(reference: Reference, id_: str, words: str) -> None:
    rows = {row.id: row for rows in reference.thresholds_of.values() for row in rows}
    assert severity_words(rows[id_]) == words


def test_rows_that_decide_stand_first_by_rising_amount(reference: Reference) -> None:
    rows = ask(reference, "ibuprofen", "1 g").thresholds
    assert [row.use for row in rows] == sorted((row.use for row in rows), key="primary reference".index)
    decided = [row.mg_per_kg_low or Decimal(0) for row in rows if row.use == "primary"]
    assert decided == sorted(decided)


def test_rows_on_food_and_on_what_was_tolerated_are_left_out(reference: Reference) -> None:
    shown = {row.severity for hazard in reference.hazards for row in ask(reference, hazard, "1 g").thresholds}
    assert shown <= {
        *("signs_mild", "signs_moderate", "signs_severe", "potentially_lethal", "ld50"),
        *("any_exposure", "caution", "nuisance", "reported_case"),
    }


def test_a_conflict_names_both_rows_and_the_stricter_is_used(reference: Reference) -> None:
    conflicts = [one for one in ask(reference, "alpha-lipoic acid", "1 g", species="cat").conflicts]
    assert conflicts == []
    (naproxen,) = ask(reference, "naproxen", "1 g").conflicts
    assert naproxen.used == "severe signs from 13 to 15 mg/kg naproxen"
    assert naproxen.other == "severe signs from 25 mg/kg naproxen"
    assert set(naproxen.source_ids) <= set(reference.sources)


def test_no_range_stays_none() -> None:
    assert rounded_range(None, Decimal(1)) == (None, None)
    assert rounded_range(Decimal(1), Decimal(1)) == (Decimal(1), Decimal(1))
