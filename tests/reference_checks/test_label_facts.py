"""Lines of facts panels as labels print them, with the reading that the field's rules give.

Case ids name invented label strings; the rule and its source stand beside each row. Amounts are per unit at one unit
a serving; ``moiety`` columns are low and high where the label leaves the form open.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from service.domain.normalising import NormalisedFact, normalise
from service.domain.products import LabelFact, Product
from service.reference.release import Reference

FACTS = Path(__file__).parent.parent / "data" / "label_facts.csv"
# The cases print four to six digits; sources themselves differ by less than this (atomic weights, rounding).
TOLERANCE = Decimal("0.001")


def _rows() -> list[dict[str, str]]:
    with FACTS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _normalised(reference: Reference, row: dict[str, str]) -> NormalisedFact:
    product = Product(
        id="p",
        unit=row["unit"],
        serving_units=Decimal(1),
        unit_mass_g=Decimal(row["unit_mass_g"]) if row["unit_mass_g"] else None,
        locale=row["locale"] or None,
        facts=(LabelFact(row["name"], row["amount"]),),
    )
    return normalise(reference, product).facts[0]


def _close(found: Decimal | None, expected: str) -> bool:
    if not expected:
        return True
    return found is not None and abs(found - Decimal(expected)) <= TOLERANCE * Decimal(expected)


def test_there_are_enough_and_each_says_its_rule() -> None:
    assert len(_rows()) >= 45
    assert all(row["rule"] for row in _rows())


@pytest.mark.parametrize("row", _rows(), ids=lambda row: f"{row['case_id']}-{row['name']}")
def test_what_the_line_means(reference: Reference, row: dict[str, str]) -> None:
    fact = _normalised(reference, row)
    assert fact.ingredient == (row["ingredient"] or None)
    assert not row["form"] or fact.form == row["form"]
    assert not row["basis"] or fact.basis == row["basis"]
    assert fact.bound == (row["bound"] or None)
    assert not row["flag"] or row["flag"] in fact.flags


@pytest.mark.parametrize("row", _rows(), ids=lambda row: f"{row['case_id']}-{row['name']}")
def test_how_much_it_is(reference: Reference, row: dict[str, str]) -> None:
    fact = _normalised(reference, row)
    assert _close(fact.mg_per_unit, row["mg"])
    assert _close(fact.moiety_low_mg_per_unit, row["moiety_low_mg"])
    assert _close(fact.moiety_high_mg_per_unit, row["moiety_high_mg"])
    if row["flag"] in ("no_serving_mass", "no_mass_in_this_unit", "no_iu_factor", "amount_hidden_in_blend"):
        # Nothing may be credited that the label does not give.
        assert fact.moiety_low_mg_per_unit is None
        assert fact.moiety_mg_per_unit is None
        assert fact.moiety_cost_per_mg is None
    if row["moiety_low_mg"] and row["moiety_low_mg"] == row["moiety_high_mg"]:
        assert fact.moiety_mg_per_unit == fact.moiety_low_mg_per_unit
    elif row["moiety_high_mg"]:
        assert fact.moiety_mg_per_unit is None
