"""Guidance and regimens over body weight."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.domain.amounts_by_weight import (
    PublishedAmount,
    phase_curves,
    published_amounts_by_weight,
    upper_limits,
)
from service.domain.errors import NoGuidance, UnknownIngredient
from service.reference.records import Regimen
from service.reference.release import Reference

HCL = "glucosamine-hydrochloride"
ONE, EIGHTY = Decimal(1), Decimal(80)


def published(reference: Reference, ingredient: str, form: str, *ends: Decimal) -> dict[str, PublishedAmount]:
    """Give the regimens for dogs by id."""
    rows = published_amounts_by_weight(reference, ingredient, "dog", form, *(ends or (ONE, EIGHTY)))
    return {row.regimen_id: row for row in rows}


def changed(reference: Reference, **fields: object) -> PublishedAmount:
    """Restate regimen d003 (950 mg a day, 5 to 19.9 kg) and read it."""
    row: Regimen = replace(reference.regimens["d003"], **fields)  # type: ignore[arg-type]
    tables = {**reference.tables, "regimens": (row,)}
    return published(Reference(reference.stamp, tables), "glucosamine", HCL)["d003"]


def test_curve_of_the_trade_rule(reference: Reference) -> None:
    loading, maintenance = phase_curves(reference, "glucosamine", "dog", HCL, ONE, EIGHTY)
    assert (loading.phase, maintenance.phase) == ("loading", "maintenance")
    # 500 to 1000 mg at 34 kg, by weight: 14.7059 to 29.4117 mg at 1 kg, rounded inwards.
    first, last = maintenance.points[0], maintenance.points[-1]
    assert (first.weight_kg, first.low_mg, first.high_mg) == tuple(map(Decimal, ("1", "14.7059", "29.4117")))
    assert (last.weight_kg, last.low_mg, last.high_mg) == tuple(map(Decimal, ("80", "1176.48", "2352.94")))
    assert len(maintenance.guidance_ids) == 3
    weights = [point.weight_kg for point in maintenance.points]
    assert weights == sorted(weights)


def test_curve_in_another_form(reference: Reference) -> None:
    _, maintenance = phase_curves(reference, "glucosamine", "dog", "glucosamine-base", Decimal(34), EIGHTY)
    # 830.923 mg of glucosamine in 1000 mg of hydrochloride.
    assert maintenance.points[0].high_mg == Decimal("830.923")


def test_step_stands_twice_at_its_weight(reference: Reference) -> None:
    (curve,) = phase_curves(reference, "boswellia-serrata", "dog", "boswellia-serrata-extract", ONE, EIGHTY)
    at_25 = [point.low_mg for point in curve.points if point.weight_kg == 25]
    # Below 25 kg the 240 mg of that weight are scaled, from there on 480 mg are fixed.
    assert at_25 == [Decimal(240), Decimal(480)]


def test_curve_of_bands_outside_is_left_out(reference: Reference) -> None:
    (curve,) = phase_curves(
        reference, "boswellia-serrata", "dog", "boswellia-serrata-extract", Decimal(45), Decimal(55)
    )
    assert {point.low_mg for point in curve.points} == {720, 960}
    assert len(curve.guidance_ids) == 2


def test_bands_that_do_not_meet_are_two_curves(reference: Reference) -> None:
    rows = [row for row in reference.tables["guidance"] if row.id != "boswellia-serrata-dog-maintenance-band-3"]
    assert len(rows) == len(reference.tables["guidance"]) - 1
    holed = Reference(reference.stamp, {**reference.tables, "guidance": tuple(rows)})
    curves = phase_curves(holed, "boswellia-serrata", "dog", "boswellia-serrata-extract", ONE, EIGHTY)
    ends = [weight for curve in curves for weight in (curve.points[0].weight_kg, curve.points[-1].weight_kg)]
    assert ends == [1, 40, 50, 80]


def test_no_guidance_is_an_error(reference: Reference) -> None:
    with pytest.raises(NoGuidance, match="holds no amount of it for a cat"):
        phase_curves(reference, "glucosamine", "cat", HCL, ONE, Decimal(10))
    with pytest.raises(UnknownIngredient, match="'nothing'"):
        phase_curves(reference, "nothing", "dog", HCL, ONE, EIGHTY)


def test_upper_limit_over_weight(reference: Reference) -> None:
    limits = upper_limits(reference, "epa-dha", "dog", "epa-dha", ONE, Decimal(16))
    # 370 mg per kg^0.75 (limit epa-dha-dog-nrc): 370 mg at 1 kg, eight times that at 16 kg.
    assert [limits[0].low_mg, limits[-1].high_mg] == [370, 2960]
    assert upper_limits(reference, "msm", "dog", "msm", ONE, EIGHTY) == ()


def test_every_regimen_of_the_species_is_there(reference: Reference) -> None:
    found = published(reference, "msm", "msm")
    assert set(found) == {row.id for row in reference.regimens_of["msm"] if "dog" in row.species}
    assert all(bool(row.points) != bool(row.why_not) for row in found.values())


@pytest.mark.parametrize(
    ("regimen", "points"),
    [
        # A fixed amount for a span of weights; one that is open above ends where the chart does.
        ("d003", [("5", "950"), ("19.9", "950")]),
        ("d005", [("40.1", "1900"), ("80", "1900")]),
        # One weight.
        ("d009", [("12", "1500")]),
        # 15 mg/lb: 33.0693 mg/kg (1 lb = 0.45359237 kg).
        ("d012", [("1", "33.0693"), ("80", "2645.55")]),
    ],
)
def test_points_of_a_regimen(reference: Reference, regimen: str, points: list[tuple[str, str]]) -> None:
    row = published(reference, "glucosamine", HCL)[regimen]
    assert [(point.weight_kg, point.low_mg) for point in row.points] == [
        (Decimal(weight), Decimal(amount)) for weight, amount in points
    ]
    assert all(point.low_mg == point.high_mg for point in row.points)


def test_regimen_per_metabolic_weight(reference: Reference) -> None:
    row = published(reference, "epa-dha", "epa-dha", ONE, Decimal(16))["d063"]
    # 115 to 140 mg per kg^0.75; 16^0.75 = 8.
    assert [amount for point in row.points for amount in (point.low_mg, point.high_mg)] == [115, 140, 920, 1120]
    assert row.follows_weight
    assert not row.weights_recorded


def test_at_most_is_read_as_its_high_end(reference: Reference) -> None:
    row = published(reference, "epa-dha", "epa-dha")["d061"]
    assert row.amount_low is None
    assert [row.amount_high, row.points[0].low_mg, row.points[0].high_mg] == [310] * 3


def test_regimen_is_restated_in_the_form_asked_for(reference: Reference) -> None:
    row = published(reference, "glucosamine", "glucosamine-base")["d009"]
    # 1500 mg of hydrochloride x 0.830923.
    assert row.points[0].low_mg == Decimal("1246.38")


def test_grams_become_milligrams(reference: Reference) -> None:
    assert published(reference, "hydrolysed-collagen", "hydrolysed-collagen")["d053"].points[0].low_mg == 10_000


@pytest.mark.parametrize(
    ("ingredient", "form", "regimen", "why_not"),
    [
        ("glucosamine", HCL, "d006", "stated by weight bands that were not seen"),
        ("glucosamine", HCL, "d008", "no amount was seen"),
        ("glucosamine", HCL, "d011", "its chemical form is left open"),
        ("glucosamine", HCL, "d015", "stated as a multiple of the maintenance amount"),
        ("glucosamine", HCL, "d020", "given to look for harm, not as an amount to give"),
        (
            "turmeric",
            "turmeric-extract-turmerosaccharides",
            "d084",
            "of another material: Turmeric extract, as labelled",
        ),
        ("undenatured-type-ii-collagen", "undenatured-type-ii-collagen-active", "d052", "stated in chew"),
        ("epa-dha", "epa-dha", "d069", "stated as a share of the food"),
        ("epa-dha", "epa-dha", "d075", "its chemical form is not recorded"),
        ("elk-velvet-antler", "elk-velvet-antler-powder", "d124", "stated per dose, not per day"),
    ],
)
def test_why_a_regimen_has_no_points(
    reference: Reference, ingredient: str, form: str, regimen: str, why_not: str
) -> None:
    row = published(reference, ingredient, form)[regimen]
    assert row.why_not == why_not
    assert row.points == ()


def test_material_in_milligrams_of_itself_counts(reference: Reference) -> None:
    row = published(reference, "turmeric", "turmeric-extract-turmerosaccharides")["d085"]
    assert row.unit == "mg extract"
    assert row.points[0].low_mg == 15


def test_other_weights_are_told(reference: Reference) -> None:
    row = published(reference, "glucosamine", HCL, Decimal(30), EIGHTY)["d003"]
    assert row.why_not == "for animals of other weights"


def test_strange_rows_are_told(reference: Reference) -> None:
    assert changed(reference, basis=None).why_not == "no amount was seen"
    assert changed(reference, basis="per_moon").why_not == "stated per moon"
    assert changed(reference, amount_low=Decimal(0), amount_high=Decimal(0)).why_not == "an amount of nothing"
    assert changed(reference, unit=None).why_not == "stated without a unit"
    up_to = changed(reference, amount_low=Decimal(0))
    assert up_to.points[0].low_mg == 950


@pytest.mark.parametrize(
    ("outcome", "finding"),
    [
        ("positive (40 % success)", "positive"),
        ("mixed", "mixed"),
        ("negative vs placebo (within-group gains)", "negative"),
        ("not_tested", "not_told"),
        ("result cut off in the text seen (positive recalled)", "not_told"),
        (None, "not_told"),
    ],
)
def test_finding_is_the_first_word_of_the_outcome(reference: Reference, outcome: str | None, finding: str) -> None:
    assert changed(reference, outcome=outcome).finding == finding
