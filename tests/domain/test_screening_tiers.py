"""Which published tier an amount reaches, and what an unknown amount means."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.screening_tiers import (
    chain_of,
    delegate_of,
    least_level,
    reached_tier,
    tiers_of,
    unknown_amount_level,
)
from service.reference.release import Reference


def test_cocoa_is_judged_by_its_methylxanthines(reference: Reference) -> None:
    assert delegate_of(reference, "theobromine", "dog") == "methylxanthines"
    assert chain_of(reference, "theobromine", "dog") == ("theobromine", "methylxanthines")
    assert chain_of(reference, "xylitol", "dog") == ("xylitol",)


def test_a_tier_is_reached_from_its_own_amount_on(reference: Reference) -> None:
    weight_kg = Decimal(10)
    lowest = min(row.mg_per_kg_low for row in tiers_of(reference, "xylitol", "dog") if row.mg_per_kg_low is not None)
    for mg_per_kg, reached in ((lowest - 1, False), (lowest, True), (lowest * 50, True)):
        found = reached_tier(reference, ("xylitol",), {"xylitol": mg_per_kg * weight_kg}, "dog", weight_kg)
        assert (found is not None) is reached


def test_more_never_reaches_a_lower_tier(reference: Reference) -> None:
    order = ("veterinarian", "avoid")
    for hazard_id in reference.hazards:
        levels = []
        for mg in (1, 100, 10_000, 1_000_000):
            found = reached_tier(reference, (hazard_id,), {hazard_id: Decimal(mg)}, "dog", Decimal(10))
            levels.append(-1 if found is None else order.index(found.level))
        assert levels == sorted(levels), hazard_id


@pytest.mark.parametrize(
    ("hazard", "species", "unknown", "least"),
    [
        ("xylitol", "dog", "avoid", "veterinarian"),
        ("zinc", "dog", "note", "note"),
        ("aspirin", "cat", "avoid", "veterinarian"),
    ],
)
def test_an_unknown_amount(reference: Reference, hazard: str, species: str, unknown: str, least: str) -> None:
    row = reference.hazards[hazard]
    assert unknown_amount_level(reference, row, species) == unknown
    assert least_level(reference, row, species) == least
