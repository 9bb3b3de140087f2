"""Rows of content factors as shares of mass."""

from __future__ import annotations

from decimal import Decimal

from service.domain.content_factors import (
    UNKNOWN,
    density_of,
    high_share,
    low_share,
    of_rows,
    usable_factors,
)
from service.reference.release import Reference


def test_a_recommended_figure_above_the_range_decides(reference: Reference) -> None:
    # Guarana seed: 1.6 to 4.3 %, another source 3 to 5 %; 5 % is recommended.
    found = of_rows(reference, usable_factors(reference, "guarana"))
    assert (found.low, found.high) == (Decimal("0.016"), Decimal("0.05"))
    assert [row.id for row in found.factors] == ["guarana-seed-caffeine"]
    assert [row.id for row in found.beside] == ["guarana-seed-caffeine-2"]


def test_pieces_and_densities_are_no_shares(reference: Reference) -> None:
    for hazard in ("macadamia", "garlic", "ethanol"):
        assert usable_factors(reference, hazard) == []
    assert density_of(reference, "garlic") is None
    row = density_of(reference, "ethanol")
    assert row is not None
    assert row.recommended == Decimal("0.789")


def test_low_never_passes_high(reference: Reference) -> None:
    for hazard in reference.hazards:
        for row in usable_factors(reference, hazard):
            assert 0 <= low_share(row) <= high_share(row), row.id


def test_nothing_is_unknown(reference: Reference) -> None:
    assert of_rows(reference, ()) is UNKNOWN
    assert not UNKNOWN.known
