"""IU to mg: natural and synthetic vitamin E, the two vitamers of A, and forms without a unit."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.international_units import mass_of_units
from service.reference.release import Reference


def test_vitamin_d_has_one_factor(reference: Reference) -> None:
    found = mass_of_units(reference, reference.forms["cholecalciferol"], Decimal(400), Decimal(400))
    assert found is not None
    assert found.low_mg == found.high_mg == Decimal("0.01")
    assert found.flags == ()


@pytest.mark.parametrize(
    ("name", "mg", "flags"),
    [
        ("d-alpha-tocopheryl acetate", ("73.5", "73.5"), ()),
        ("dl-alpha-tocopheryl acetate", ("100", "100"), ("two_vitamin_e_bases",)),
        ("vitamin E", ("73.5", "100"), ("natural_or_synthetic_not_stated", "two_vitamin_e_bases")),
    ],
)
def test_the_name_tells_natural_from_synthetic(
    reference: Reference, name: str, mg: tuple[str, str], flags: tuple[str, ...]
) -> None:
    form = reference.forms["alpha-tocopheryl-acetate"]
    found = mass_of_units(reference, form, Decimal(100), Decimal(100), name)
    assert found is not None
    assert (float(found.low_mg), float(found.high_mg)) == pytest.approx(tuple(map(float, mg)), abs=0.1)
    assert found.flags == flags


def test_a_synthetic_unit_counts_least_by_activity(reference: Reference) -> None:
    form = reference.forms["alpha-tocopheryl-acetate"]
    found = mass_of_units(reference, form, Decimal(100), Decimal(100), "dl-alpha")
    assert found is not None
    assert found.moiety_low_mg == 45
    assert "0.45 mg" in found.how


def test_no_unit_no_mass(reference: Reference) -> None:
    assert mass_of_units(reference, reference.forms["msm"], Decimal(1), Decimal(1)) is None
