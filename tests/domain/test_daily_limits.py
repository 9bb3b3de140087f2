"""Limits as mg per day: by weight, by energy, by dry matter of the whole diet."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.daily_limits import INTAKE, WHOLE_DIET, daily_limit, maintenance_kcal
from service.reference.records import Limit
from service.reference.release import Reference

LIMIT = Limit(
    id="invented",
    ingredient_id="zinc",
    species="dog",
    kind="diet_maximum",
    amount=D(100),
    unit="mg",
    basis="per_1000_kcal",
    enforced=False,
    note=None,
    source_id="memory",
    more_source_ids=(),
    locator=None,
    origin="memory",
)


def test_maintenance_energy() -> None:
    # 16^0.75 is 8, so 130 x 8; for cats 100 x 4^0.67 = 253.15 (both from memory, as in the module's sources).
    assert maintenance_kcal("dog", D(16)) == D(1040)
    assert float(maintenance_kcal("cat", D(4))) == pytest.approx(100 * 4**0.67, rel=1e-12)


@pytest.mark.parametrize(
    ("basis", "amount", "unit", "mg_per_day"),
    [
        # A dog of 16 kg: 1,040 kcal, which are 260 g of dry matter at 4.0 kcal/g.
        ("per_1000_kcal", "100", "mg", "104"),
        ("per_1000_kcal", "4.5", "g", "4680"),
        ("per_kg_dry_matter", "2", "mg", "0.52"),
        ("per_100_g_dry_matter", "22.7", "mg", "59.02"),
        ("percent_of_dry_matter", "2.5", "percent", "6500"),
        ("per_kg075_per_day", "370", "mg", "2960"),
        ("per_kg_per_day", "15", "mg", "240"),
        ("per_day", "5", "mg", "5"),
    ],
)
def test_a_limit_for_a_dog_of_16_kg(basis: str, amount: str, unit: str, mg_per_day: str) -> None:
    found = daily_limit(replace(LIMIT, basis=basis, amount=D(amount), unit=unit), D(16))
    assert found is not None
    assert found.mg_per_day == D(mg_per_day)
    assert found.rule


def test_units_of_activity_count_for_the_two_vitamins_that_have_one_factor() -> None:
    # 227 IU per 100 g: 590.2 IU in 260 g, and 40 IU are 1 ug (vitamin D); 1 IU is 0.3 ug retinol.
    row = replace(LIMIT, basis="per_100_g_dry_matter", unit="IU")
    vitamin_d = daily_limit(replace(row, ingredient_id="vitamin-d", amount=D(227)), D(16))
    vitamin_a = daily_limit(replace(row, ingredient_id="vitamin-a", amount=D(40000)), D(16))
    assert (vitamin_d and vitamin_d.mg_per_day) == D("0.014755")
    assert (vitamin_a and vitamin_a.mg_per_day) == D("31.2")
    assert daily_limit(replace(row, ingredient_id="vitamin-e"), D(16)) is None


def test_what_a_limit_covers() -> None:
    def covers(**changes: str) -> str:
        found = daily_limit(replace(LIMIT, **changes), D(16))  # type: ignore[arg-type]
        return found.covers if found is not None else "nothing"

    assert covers(kind="diet_maximum") == WHOLE_DIET
    assert covers(kind="safe_upper_limit") == INTAKE
    assert covers(kind="safe_upper_limit", basis="per_kg_dry_matter") == WHOLE_DIET
    assert covers(basis="single_dose_per_kg") == "nothing"
    assert covers(species="rat") == "nothing"


def test_the_factors_of_units_of_activity_are_those_of_the_forms(reference: Reference) -> None:
    for ingredient, form in (("vitamin-d", "cholecalciferol"), ("vitamin-a", "vitamin-a-activity")):
        iu_per_mg = reference.forms[form].iu_per_mg_high or D(0)
        row = replace(LIMIT, ingredient_id=ingredient, unit="IU", amount=iu_per_mg)
        found = daily_limit(row, D(16))
        assert found is not None
        assert float(found.mg_per_day) == pytest.approx(1.04, rel=1e-6)


def test_both_forms_of_one_published_limit_agree(reference: Reference) -> None:
    rows = {row.id: row for row in reference.tables["limits"]}
    by_weight = daily_limit(rows["epa-dha-dog-nrc"], D(16))
    by_energy = daily_limit(rows["epa-dha-dog-per-1000-kcal"], D(16))
    assert by_weight is not None
    assert by_energy is not None
    # 370 and 2,800 x 130 / 1,000 = 364 per kg^0.75: rounding of the publication.
    assert float(by_energy.mg_per_day) == pytest.approx(float(by_weight.mg_per_day), rel=0.02)
    assert set(by_energy.source_ids) <= set(reference.sources)


def test_a_limit_without_a_number_or_a_known_unit_is_none() -> None:
    assert daily_limit(replace(LIMIT, amount=None), D(16)) is None
    assert daily_limit(replace(LIMIT, unit="CFU"), D(16)) is None
