"""Bands, scaling and ceilings. Amounts in comments are worked by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType

import pytest

from service.domain.daily_limits import limit_mg_per_day
from service.domain.errors import NoGuidance, UnknownIngredient
from service.domain.guidance import (
    band_rows,
    guidance_rows,
    known_instead,
    phase_doses,
    scaled,
    upper_limit,
)
from service.reference.records import Guidance, Limit
from service.reference.release import Reference

LIMIT = Limit(
    id="invented", ingredient_id="msm", species="dog", kind="safe_upper_limit", amount=Decimal(100), unit="mg",
    basis="per_day", enforced=True, note=None, source_id="memory", more_source_ids=(), locator=None, origin="memory",
)  # fmt: skip


def _with(reference: Reference, **tables: tuple[object, ...]) -> Reference:
    """Give a copy of a release in which some tables are replaced."""
    return Reference(reference.stamp, MappingProxyType({**reference.tables, **tables}))


@pytest.mark.parametrize(
    ("ingredient", "species", "hazards", "says"),
    [
        ("xylitol", "dog", ("xylitol",), "Xylitol is recorded as a hazard for a dog; no amount of it is to be given."),
        ("calcium", "dog", ("calcium",), "holds no amount of it for a dog"),
        ("ginger", "dog", (), "holds no amount of it for a dog"),
    ],
)
def test_what_is_known_of_a_hazard_is_said(
    reference: Reference, ingredient: str, species: str, hazards: tuple[str, ...], says: str
) -> None:
    with pytest.raises(NoGuidance) as caught:
        guidance_rows(reference, ingredient, species)
    assert caught.value.known.hazard_ids == hazards
    assert says in str(caught.value)


def test_limits_are_known_where_no_amount_is(reference: Reference) -> None:
    assert known_instead(reference, "garlic", "cat").limit_ids == ("garlic-cat-risk-threshold",)
    assert known_instead(reference, "garlic", "dog").hazard_ids == ("garlic",)


@pytest.mark.parametrize(
    ("ingredient", "weight_kg", "bands"),
    [
        ("glucosamine", "0.1", "loading-band-1 maintenance-band-1"),
        ("glucosamine", "4.999999", "loading-band-1 maintenance-band-1"),
        ("glucosamine", "5", "loading-band-2 maintenance-band-2"),
        ("glucosamine", "59.999999", "loading-band-2 maintenance-band-2"),
        ("glucosamine", "60", "loading-band-3 maintenance-band-3"),
        ("glucosamine", "120", "loading-band-3 maintenance-band-3"),
        # Bands of one trial as quoted (more2014, cited): to 24.9, to 39.9, to 49.9, to 59.9 kg, above.
        ("boswellia-serrata", "24.999999", "maintenance-band-1"),
        ("boswellia-serrata", "25", "maintenance-band-2"),
        ("boswellia-serrata", "39.999999", "maintenance-band-2"),
        ("boswellia-serrata", "40", "maintenance-band-3"),
        ("boswellia-serrata", "50", "maintenance-band-4"),
        ("boswellia-serrata", "60", "maintenance-band-5"),
        ("devils-claw", "24.999999", "maintenance-band-1"),
        ("devils-claw", "25", "maintenance-band-2"),
        ("msm", "120", "maintenance-band-1"),
    ],
)
def test_an_edge_belongs_to_the_band_it_opens(
    reference: Reference, ingredient: str, weight_kg: str, bands: str
) -> None:
    held = band_rows(guidance_rows(reference, ingredient, "dog"), Decimal(weight_kg))
    assert [row.id for row in held] == [f"{ingredient}-dog-{band}" for band in bands.split()]


def test_every_edge_is_held_once_per_phase(reference: Reference) -> None:
    for (ingredient, species), rows in reference.guidance_of.items():
        edges = {row.from_kg for row in rows} | {row.to_kg for row in rows if row.to_kg} | {Decimal(120)}
        for edge in edges:
            phases = [row.phase for row in band_rows(rows, edge)]
            assert sorted(phases) == sorted({row.phase for row in rows}), (ingredient, species, edge)


def test_loading_comes_first_whatever_the_order_of_rows(reference: Reference) -> None:
    rows = tuple(reversed(guidance_rows(reference, "glucosamine", "dog")))
    assert [row.phase for row in band_rows(rows, Decimal(34))] == ["loading", "maintenance"]


@pytest.mark.parametrize(
    ("basis", "weight_kg", "at_weight_kg", "expected"),
    [
        ("fixed", "3", "1", "480"),
        ("fixed", "90", "1", "480"),
        ("per_kg", "34", "34", "480"),
        ("per_kg", "17", "34", "240"),
        # 16^0.75 is 8 and 81^0.75 is 27.
        ("per_kg075", "16", "1", "3840"),
        ("per_kg075", "81", "1", "12960"),
        ("per_kg075", "30", "30", "480"),
    ],
)
def test_scaling(basis: str, weight_kg: str, at_weight_kg: str, expected: str) -> None:
    assert scaled(Decimal(480), basis, Decimal(weight_kg), Decimal(at_weight_kg)) == Decimal(expected)


def test_metabolic_scaling_is_a_power_of_three_quarters() -> None:
    found = scaled(Decimal(2070), "per_kg075", Decimal("22.7"), Decimal(30))
    assert float(found) == pytest.approx(2070 * (22.7 / 30) ** 0.75, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "basis", "expected"),
    [
        ("mg", "per_day", "100"),
        ("g", "per_day", "100000"),
        ("ug", "per_day", "0.1"),
        ("mg", "per_kg_per_day", "1600"),
        ("mg", "per_kg075_per_day", "800"),
        # These need the diet, which is not known here.
        ("mg", "per_1000_kcal", None),
        ("mg", "per_kg_dry_matter", None),
        ("IU", "per_day", None),
        ("percent", "percent_of_dry_matter", None),
    ],
)
def test_a_limit_as_mg_per_day_at_16_kg(unit: str, basis: str, expected: str | None) -> None:
    found = limit_mg_per_day(replace(LIMIT, unit=unit, basis=basis), Decimal(16))
    assert found == (None if expected is None else Decimal(expected))


def test_a_limit_without_a_number_gives_none() -> None:
    assert limit_mg_per_day(replace(LIMIT, amount=None), Decimal(16)) is None


@pytest.mark.parametrize(
    ("weight_kg", "mg_per_day"),
    # Examples W69: 370 mg per kg^0.75 (nrc2006, *from memory*; read in clib2013 without its exponent).
    [("5", 1237), ("10", 2081), ("20", 3499), ("30", 4743)],
)
def test_the_ceiling_of_epa_and_dha(reference: Reference, weight_kg: str, mg_per_day: int) -> None:
    found = upper_limit(reference, "epa-dha", "dog", Decimal(weight_kg))
    assert found is not None
    assert round(found.amount_mg) == mg_per_day
    assert found.limit_id == "epa-dha-dog-nrc"
    assert found.source_ids == ("clib2013", "nrc2006")


def test_no_ceiling_where_none_is_enforced(reference: Reference) -> None:
    assert upper_limit(reference, "epa-dha", "cat", Decimal(4)) is None
    assert upper_limit(reference, "glucosamine", "dog", Decimal(34)) is None
    rows = tuple(replace(row, enforced=False) for row in reference.tables["limits"])
    assert upper_limit(_with(reference, limits=rows), "epa-dha", "dog", Decimal(30)) is None


def test_a_published_ceiling_comes_before_a_lower_one_of_another_kind(reference: Reference) -> None:
    other = replace(LIMIT, id="custom", kind="guideline_maximum", amount=Decimal(50))
    both = _with(reference, limits=(other, LIMIT))
    found = upper_limit(both, "msm", "dog", Decimal(34))
    assert found is not None
    assert (found.limit_id, found.amount_mg) == ("invented", Decimal(100))


def test_of_two_published_ceilings_the_lower_counts(reference: Reference) -> None:
    both = _with(reference, limits=(LIMIT, replace(LIMIT, id="lower", amount=Decimal(80))))
    found = upper_limit(both, "msm", "dog", Decimal(34))
    assert found is not None
    assert (found.limit_id, found.amount_mg) == ("lower", Decimal(80))


@pytest.mark.parametrize(
    ("ceiling_mg", "low_mg", "high_mg"),
    # MSM at 10 kg: 500 to 1000 mg by custom.
    [("2000", "500", "1000"), ("700", "500", "700"), ("300", "300", "300")],
)
def test_a_ceiling_cuts_the_range(reference: Reference, ceiling_mg: str, low_mg: str, high_mg: str) -> None:
    capped = _with(reference, limits=(replace(LIMIT, amount=Decimal(ceiling_mg)),))
    (phase,) = phase_doses(capped, guidance_rows(capped, "msm", "dog"), Decimal(10), "msm")
    assert (phase.low_mg, phase.high_mg) == (Decimal(low_mg), Decimal(high_mg))
    assert (phase.moiety_low_mg, phase.moiety_high_mg) == (Decimal(low_mg), Decimal(high_mg))


def test_the_ceiling_of_the_release_cuts_a_row_that_asks_for_too_much(reference: Reference) -> None:
    def tripled(row: Guidance) -> Guidance:
        return replace(row, amount_high=row.amount_high * 3)

    greedy = _with(reference, guidance=tuple(tripled(row) for row in reference.tables["guidance"]))
    (phase,) = phase_doses(greedy, guidance_rows(greedy, "epa-dha", "dog"), Decimal(30), "epa-dha")
    # Not 3 x 3,973.76 but 370 x 30^0.75.
    assert float(phase.high_mg) == pytest.approx(370 * 30**0.75, rel=1e-5)
    assert phase.low_mg == Decimal(2070)


@pytest.mark.parametrize(("unit", "low_mg"), [("mg", "50"), ("g", "50000"), ("ug", "0.05")])
def test_a_row_in_another_unit_is_answered_in_mg(reference: Reference, unit: str, low_mg: str) -> None:
    rows = tuple(replace(row, unit=unit) for row in guidance_rows(reference, "msm", "dog"))
    (phase,) = phase_doses(reference, rows, Decimal(1), "msm")
    assert phase.low_mg == Decimal(low_mg)


def test_an_unknown_ingredient_is_refused_with_the_nearest(reference: Reference) -> None:
    with pytest.raises(UnknownIngredient) as caught:
        guidance_rows(reference, "glucosamin", "dog")
    assert "glucosamine" in caught.value.nearest


def test_what_is_known_where_no_amount_is(reference: Reference) -> None:
    with pytest.raises(NoGuidance) as caught:
        guidance_rows(reference, "glucosamine", "cat")
    known = caught.value.known
    assert known == known_instead(reference, "glucosamine", "cat")
    # The trial against meloxicam and the study at twice the label's amount, both in cats (sulx2014, mcna2000: read).
    assert known.regimen_ids == ("d017", "d018")
    assert {"sulx2014", "mcna2000"} <= set(known.source_ids)
    assert known.evidence_verdict == "against"
    assert known.evidence_summary
