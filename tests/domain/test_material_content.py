"""How much of what thresholds count is in a material."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.material_content import (
    converted_content,
    counted_compound,
    drying_content,
    fresh_per_dried,
    own_content,
)
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("hazard", "ingredient", "name", "low", "high"),
    [
        ("iron", "iron", "ferric pyrophosphate", "0.30", "0.30"),
        ("iron", "iron", "ferric phosphate", "0.37", "0.37"),
        ("iodine", "iodine", "calcium iodate", "0.651", "0.651"),
        ("iodine", "kelp", "kelp", "0.0005", "0.0045"),
        ("salt", "sodium", "sodium", "2.542", "2.542"),
        ("benzoates", "benzoates", "sodium benzoate", "0.8475", "0.8475"),
        ("benzoates", "benzoates", "benzoic acid", "1", "1"),
        ("fluoride", "fluoride", "sodium fluoride", "1", "1"),
        ("ethanol", "ethanol", "vodka 40 %", "0.4", "0.4"),
        ("ethanol", "ethanol", "vodka", "0.4", "0.4"),
        ("ethanol", "ethanol", "beer", "0.05", "0.05"),
        ("ethanol", "ethanol", "wine", "0.12", "0.14"),
        # No kind of drink is named: the pure substance counts.
        ("ethanol", "ethanol", "tincture", "1", "1"),
        ("allium", "allium", "fresh onion", "1", "1"),
        ("allium", "allium", "onion", "1", "1"),
        ("allium", "allium", "onion powder", "9", "10"),
        ("garlic", "garlic", "Knoblauchgranulat", "9", "10"),
        ("xylitol", "xylitol", "xylitol", "1", "1"),
    ],
)
def test_own_share(reference: Reference, hazard: str, ingredient: str, name: str, low: str, high: str) -> None:
    row = reference.hazards[hazard]
    found = own_content(reference, row, ingredient, name, "dog", dried_unless_said=False)
    assert (found.low, found.high) == (Decimal(low), Decimal(high))


def test_a_plant_on_a_label_is_dried_unless_it_says_fresh(reference: Reference) -> None:
    garlic = reference.hazards["garlic"]
    for name, high in (("garlic", 10), ("fresh garlic", 1)):
        assert own_content(reference, garlic, "garlic", name, "dog", dried_unless_said=True).high == high


def test_bare_fluoride_may_be_the_ion(reference: Reference) -> None:
    found = own_content(
        reference, reference.hazards["fluoride"], "fluoride", "fluoride", "dog", dried_unless_said=False
    )
    assert found.low == 1
    # 41.988 / 18.998.
    assert float(found.high) == pytest.approx(41.988 / 18.998, rel=1e-3)
    assert not found.kind_named


def test_borax_counts_as_the_boric_acid_with_as_much_boron(reference: Reference) -> None:
    found = own_content(reference, reference.hazards["boron"], "boron", "borax", "dog", dried_unless_said=False)
    assert float(found.high) == pytest.approx(0.1134 / 0.1748, rel=1e-6)
    compound = counted_compound(reference, reference.hazards["boron"])
    assert compound is not None
    assert compound.material == "boric acid"
    assert counted_compound(reference, reference.hazards["iron"]) is None


def test_a_salt_without_a_factor_is_unknown(reference: Reference) -> None:
    found = own_content(reference, reference.hazards["iron"], "iron", "iron proteinate", "dog", dried_unless_said=False)
    assert not found.known
    assert (found.low, found.high) == (Decimal(0), Decimal(1))


def test_plants_with_caffeine(reference: Reference) -> None:
    for hazard, high in (("tea", "0.041"), ("coffee", "0.022"), ("guarana", "0.05"), ("cocoa", "0.0285")):
        assert converted_content(reference, reference.hazards[hazard], hazard).high == Decimal(high)
    assert not converted_content(reference, reference.hazards["willow-bark"], "willow bark").known


def test_dried_onion_stands_for_more_fresh_onion(reference: Reference) -> None:
    assert fresh_per_dried(reference, "allium", "dog") == 10
    assert drying_content(reference, "allium", "dog").low == 9
    assert fresh_per_dried(reference, "xylitol", "dog") == 1
