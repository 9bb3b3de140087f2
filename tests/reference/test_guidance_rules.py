"""Every guidance row follows from the regimens it names, and the weight bands leave no dog out."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from service.reference.guidance_rules import (
    EPA_DHA_LIMIT_MG_PER_KG075,
    RuleError,
    recompute,
    recompute_reassessment_days,
)
from service.reference.loading import read_table
from service.reference.records import Guidance, Limit, Regimen

TABLES = Path(__file__).resolve().parents[2] / "dataset" / "tables"
LIGHTEST_DOG_KG = Decimal("0.1")
HEAVIEST_DOG_KG = Decimal(120)


def _read(table: str) -> tuple[object, ...]:
    return read_table(table, (TABLES / f"{table}.csv").read_text(encoding="utf-8"))


GUIDANCE: tuple[Guidance, ...] = tuple(row for row in _read("guidance") if isinstance(row, Guidance))


@pytest.fixture(scope="module")
def regimens() -> Mapping[str, Regimen]:
    return {row.id: row for row in _read("regimens") if isinstance(row, Regimen)}


def _row(row_id: str) -> Guidance:
    return next(row for row in GUIDANCE if row.id == row_id)


def _amounts(row: Guidance, weight_kg: Decimal) -> tuple[Decimal, Decimal]:
    """Amounts at a weight, by the definition of the three bases in dataset/README.md."""
    ratio = weight_kg / row.at_weight_kg
    scale = {"fixed": Decimal(1), "per_kg": ratio, "per_kg075": ratio ** Decimal("0.75")}[row.basis]
    return row.amount_low * scale, row.amount_high * scale


@pytest.mark.parametrize("row", GUIDANCE, ids=lambda row: row.id)
def test_amounts_follow_from_regimens(row: Guidance, regimens: Mapping[str, Regimen]) -> None:
    blank = replace(row, amount_low=Decimal(-1), amount_high=Decimal(-1))
    assert recompute(regimens, blank, GUIDANCE) == (row.amount_low, row.amount_high)


@pytest.mark.parametrize("row", GUIDANCE, ids=lambda row: row.id)
def test_reassessment_follows_from_trial(row: Guidance, regimens: Mapping[str, Regimen]) -> None:
    assert recompute_reassessment_days(regimens, row) == row.reassess_after_days


@pytest.mark.parametrize("row", GUIDANCE, ids=lambda row: row.id)
def test_row_rests_on_dog_regimens_and_never_on_memory(row: Guidance, regimens: Mapping[str, Regimen]) -> None:
    named = [regimens[key] for key in row.regimen_ids]
    assert named
    assert {regimen.species for regimen in named} == {"dog"}
    assert "memory" not in {regimen.origin for regimen in named}
    assert row.origin in {"read", "cited", "common_practice"}


def test_bands_cover_every_accepted_weight_once() -> None:
    bands: dict[tuple[str, str, str], list[Guidance]] = defaultdict(list)
    for row in GUIDANCE:
        bands[row.ingredient_id, row.species, row.phase].append(row)
    for key, rows in bands.items():
        ordered = sorted(rows, key=lambda row: row.from_kg)
        assert ordered[0].from_kg == LIGHTEST_DOG_KG, key
        assert ordered[-1].to_kg is None, key
        for lower, upper in pairwise(ordered):
            assert lower.to_kg == upper.from_kg, key
        assert all(row.to_kg is None or row.from_kg < row.to_kg <= HEAVIEST_DOG_KG for row in rows), key


def test_no_row_for_cats() -> None:
    assert {row.species for row in GUIDANCE} == {"dog"}


def test_loading_has_days_and_a_maintenance_phase_after_it() -> None:
    maintained = {row.ingredient_id for row in GUIDANCE if row.phase == "maintenance"}
    for row in GUIDANCE:
        if row.phase == "loading":
            assert row.ingredient_id in maintained
            assert row.days_low is not None
            assert row.days_high is not None
            assert row.days_low <= row.days_high
        else:
            assert (row.days_low, row.days_high) == (None, None)


def test_rule_of_the_trade_for_a_dog_of_34_kg() -> None:
    assert _amounts(_row("glucosamine-dog-maintenance-band-2"), Decimal(34)) == (Decimal(500), Decimal(1000))
    loading = _row("glucosamine-dog-loading-band-2")
    assert _amounts(loading, Decimal(34)) == (Decimal(1000), Decimal(2000))
    assert (loading.days_low, loading.days_high, loading.divided_doses) == (28, 42, 2)
    assert loading.origin == "common_practice"


@pytest.mark.parametrize("weight_kg", ["0.1", "3", "30", "120"])
def test_epa_dha_stays_under_the_upper_limit(weight_kg: str) -> None:
    limit = next(row for row in _read("limits") if isinstance(row, Limit) and row.id == "epa-dha-dog-nrc")
    assert limit.amount == EPA_DHA_LIMIT_MG_PER_KG075
    weight = Decimal(weight_kg)
    low, high = _amounts(_row("epa-dha-dog-maintenance-band-1"), weight)
    assert low < high < limit.amount * weight ** Decimal("0.75")


@pytest.mark.parametrize("ingredient_id", ["boswellia-serrata", "devils-claw"])
def test_no_small_dog_gets_more_per_kg_than_the_top_of_the_lowest_published_band(ingredient_id: str) -> None:
    lowest = _row(f"{ingredient_id}-dog-maintenance-band-1")
    for weight in (Decimal("0.1"), Decimal(2), Decimal("24.9")):
        assert _amounts(lowest, weight)[1] / weight == Decimal("9.6")


def test_an_unknown_rule_is_named() -> None:
    row = replace(GUIDANCE[0], rule_id="no-such-rule")
    with pytest.raises(RuleError, match="no-such-rule"):
        recompute({}, row, GUIDANCE)


def test_a_regimen_on_another_basis_is_refused(regimens: Mapping[str, Regimen]) -> None:
    row = replace(_row("msm-dog-maintenance-band-1"), regimen_ids=("d013",))
    with pytest.raises(RuleError, match="per_day"):
        recompute(regimens, row, GUIDANCE)


def test_trials_that_disagree_share_no_ratio(regimens: Mapping[str, Regimen]) -> None:
    row = replace(_row("chondroitin-sulfate-dog-maintenance-band-2"), regimen_ids=("d023", "d001", "d025", "d010"))
    with pytest.raises(RuleError, match="one ratio"):
        recompute(regimens, row, GUIDANCE)
