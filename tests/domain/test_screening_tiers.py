"""Which published tier an amount reaches, and what an unknown amount means."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.screening_tiers import chain_of, delegate_of, least_level, reached_tier, unknown_amount_level
from service.reference.release import Reference


def test_cocoa_is_judged_by_its_methylxanthines(reference: Reference) -> None:
    assert delegate_of(reference, "theobromine", "dog") == "methylxanthines"
    assert chain_of(reference, "theobromine", "dog") == ("theobromine", "methylxanthines")
    assert chain_of(reference, "xylitol", "dog") == ("xylitol",)


@pytest.mark.parametrize(("mg_per_kg", "reached"), [("99", False), ("100", True), ("5000", True)])
def test_a_tier_is_reached_from_its_own_amount_on(reference: Reference, mg_per_kg: str, reached: bool) -> None:
    weight_kg = Decimal(10)
    amounts = {"xylitol": Decimal(mg_per_kg) * weight_kg}
    found = reached_tier(reference, ("xylitol",), amounts, "dog", weight_kg)
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
