"""Worked examples from the literature, run through the functions that answer requests.

`tests/data/worked_examples.csv` holds one example a line: what a source prints, what the arithmetic gives, and how
the source was seen (`read`, `cited`, `common_practice`: a trade fact with no source, `memory`: recalled). Two things
are asked of every line. The result is `exact_low` to `exact_high`, worked by hand to four digits; and it stands to the
printed figure in the `relation` that the line names, so that a figure which a source got wrong must not come out:

* `equals`: both ends are the printed ones within `tolerance` (relative)
* `starts_at`: the low end is
* `within`: the result lies in the printed range
* `holds`, `excludes`: the range that is answered holds the printed figure, or does not
* `differs`: the printed figure is not the result, by more than `tolerance`
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from decimal import Decimal
from pathlib import Path

import pytest

from service.domain.amounts import read_amount
from service.domain.common import Animal
from service.domain.comparing import CompareRequest, compare
from service.domain.converting import ConvertAnswer, convert
from service.domain.describing import describe_form
from service.domain.dose_answer import DoseAnswer
from service.domain.dosing import DoseRequest, dose, published_amounts
from service.domain.normalising import normalise
from service.domain.products import LabelFact, Product
from service.domain.targets import Target
from service.domain.weights import KG_PER_UNIT, parse_weight
from service.reference.records import ContentFactor, Threshold
from service.reference.release import Reference
from service.reference.vocabulary import ORIGINS

Row = Mapping[str, str]
Range = tuple[Decimal, Decimal]

DATA = Path(__file__).parent.parent / "data" / "worked_examples.csv"
EXACT_TOLERANCE = Decimal("0.0005")
MG_PER_KG = Decimal(1_000_000)
# Share of a whole, as the content factors print it.
SHARE_OF_UNIT = {"mg/g": Decimal("0.001"), "percent": Decimal("0.01"), "fraction": Decimal(1)}


def _examples() -> tuple[Row, ...]:
    with DATA.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def _one(value: Decimal | None) -> Range:
    assert value is not None
    return value, value


def _base_amount(reference: Reference, text: str) -> Decimal:
    """Amount in mg, or in units for IU."""
    read = read_amount(reference, text, "amount")
    assert read.low == read.high
    return read.low * read.unit.factor


def _in_unit(amounts_mg: Range, unit: str) -> Range:
    if unit not in KG_PER_UNIT:
        return amounts_mg
    low, high = amounts_mg
    return low / MG_PER_KG / KG_PER_UNIT[unit], high / MG_PER_KG / KG_PER_UNIT[unit]


def _dose(reference: Reference, row: Row) -> DoseAnswer:
    return dose(reference, DoseRequest(Animal("dog", parse_weight(row["weight"])), row["subject"]))


def _phase(answer: DoseAnswer, name: str) -> Range:
    phase = next(phase for phase in answer.phases if phase.phase == name)
    return phase.low_mg, phase.high_mg


def _convert(reference: Reference, row: Row) -> ConvertAnswer:
    return convert(reference, row["subject"], row["amount"], row["to"] or None)


def _threshold(reference: Reference, row_id: str) -> Threshold:
    return next(row for rows in reference.thresholds_of.values() for row in rows if row.id == row_id)


def _factor(reference: Reference, row_id: str) -> ContentFactor:
    return next(row for rows in reference.content_factors_of.values() for row in rows if row.id == row_id)


def _share_of_whole(reference: Reference, row_id: str, *, weakest: bool = False) -> Decimal:
    factor = _factor(reference, row_id)
    value = factor.value_low if weakest else factor.recommended
    assert value is not None
    return value * SHARE_OF_UNIT[factor.unit]


def _per_kg(reference: Reference, row: Row) -> Range:
    return _one(_base_amount(reference, row["amount"]) / parse_weight(row["weight"]))


def _at_weight(reference: Reference, row: Row) -> Range:
    """Scale an amount that is stated for the weight `to`."""
    per_kg = _base_amount(reference, row["amount"]) / parse_weight(row["to"])
    return _in_unit(_one(per_kg * parse_weight(row["weight"])), row["unit"])


def _share(reference: Reference, row: Row) -> Range:
    return _one((describe_form(reference, row["subject"]).moiety_share or Decimal(0)) * 100)


def _converted(reference: Reference, row: Row) -> Range:
    answer = _convert(reference, row)
    return answer.converted_low_mg, answer.converted_high_mg


def _micromoles(reference: Reference, row: Row) -> Range:
    mass = describe_form(reference, row["subject"]).molar_mass_g_per_mol or Decimal(0)
    return _one(mass * Decimal(row["amount"]) / 1000)


def _normalised(reference: Reference, row: Row) -> Range:
    product = Product("p", serving_units=Decimal(1), facts=(LabelFact(row["subject"], row["amount"]),))
    (fact,) = normalise(reference, product).facts
    assert fact.moiety == "glucosamine"
    assert fact.moiety_low_mg_per_unit is not None
    assert fact.moiety_high_mg_per_unit is not None
    return fact.moiety_low_mg_per_unit, fact.moiety_high_mg_per_unit


def _course(reference: Reference, row: Row) -> Range:
    """Total of a course: loading for `amount` days, maintenance up to day `to`, at the high end of both."""
    answer = _dose(reference, row)
    days, end = Decimal(row["amount"]), Decimal(row["to"])
    loading = next(phase for phase in answer.phases if phase.phase == "loading")
    assert loading.days_low is not None
    assert loading.days_high is not None
    assert loading.days_low <= days <= loading.days_high
    return _one(days * loading.high_mg + (end - days) * _phase(answer, "maintenance")[1])


def _limit(reference: Reference, row: Row) -> Range:
    limit = _dose(reference, row).upper_limit
    return _one(limit.amount_mg if limit else None)


def _regimen(reference: Reference, row: Row) -> Range:
    ingredient = reference.regimens[row["subject"]].ingredient_id
    shown = next(one for one in published_amounts(reference, ingredient, "dog") if one.regimen_id == row["subject"])
    assert (shown.unit, shown.basis, shown.origin) == ("mg", "per_kg_per_day", row["seen"])
    weight_kg = parse_weight(row["weight"])
    return (shown.amount_low or Decimal(0)) * weight_kg, (shown.amount_high or Decimal(0)) * weight_kg


def _limit_row(reference: Reference, row: Row) -> Range:
    limit = next(one for rows in reference.limits_of.values() for one in rows if one.id == row["subject"])
    times = parse_weight(row["weight"]) if row["weight"] else Decimal(row["amount"])
    return _one((limit.amount or Decimal(0)) * times)


def _resting(reference: Reference, row: Row) -> Range:
    animal = Animal("dog", parse_weight(row["weight"]))
    return _one(compare(reference, CompareRequest(animal, (Target("msm"),), ())).resting_energy_kcal_per_day)


def _energy_share(reference: Reference, row: Row) -> Range:
    """One chew a day that holds the whole target and `amount` kcal."""
    chew = Product(
        "chew", unit="chew", unit_energy_kcal=Decimal(row["amount"]), serving_units=Decimal(1),
        facts=(LabelFact("MSM", "1000 mg"),),
    )  # fmt: skip
    target = Target("msm", "msm", Decimal(1000), Decimal(1000))
    answer = compare(reference, CompareRequest(Animal("dog", parse_weight(row["weight"])), (target,), (chew,)))
    return _one(answer.rows[0].energy_share_of_resting_need)


def _at_threshold(reference: Reference, row: Row) -> Range:
    """Amount at which a tier begins and, where it is a range, ends; by volume where the row is by volume."""
    threshold, weight_kg = _threshold(reference, row["subject"]), parse_weight(row["weight"])
    low, high = threshold.mg_per_kg_low, threshold.mg_per_kg_high
    if threshold.unit == "mL/kg_bw":
        low, high = threshold.amount_low, threshold.amount_high
    assert low is not None
    return _in_unit((low * weight_kg, (low if high is None else high) * weight_kg), row["unit"])


def _content(reference: Reference, row: Row) -> Range:
    return _one(_base_amount(reference, row["amount"]) * _share_of_whole(reference, row["subject"]))


def _material_for(reference: Reference, row: Row) -> Range:
    return _one(_base_amount(reference, row["amount"]) / _share_of_whole(reference, row["subject"]))


def _grams_to_reach(reference: Reference, row: Row) -> Range:
    threshold = _threshold(reference, row["subject"])
    mg = (threshold.mg_per_kg_low or Decimal(0)) * parse_weight(row["weight"])
    return _one(mg / _share_of_whole(reference, row["to"], weakest=row["amount"] == "weakest") / 1000)


def _nuts(reference: Reference, row: Row) -> Range:
    """Count of nuts, twelve to the ounce, at which a tier begins."""
    per_ounce = _factor(reference, row["to"])
    assert per_ounce.unit == "count/oz"
    ounces = _in_unit(_at_threshold(reference, {**row, "unit": "mg"}), "oz")[0]
    return _one(ounces * (per_ounce.recommended or Decimal(0)))


CALLS: Mapping[str, Callable[[Reference, Row], Range]] = {
    "weight": lambda _, row: _one(parse_weight(row["weight"])),
    "per_kg": _per_kg,
    "at_weight": _at_weight,
    "share": _share,
    "moiety": _converted,
    "form_to_form": _converted,
    "moiety_to_form": _converted,
    "mass": lambda reference, row: _one(_convert(reference, row).amount_mg),
    "micromoles": _micromoles,
    "normalise": _normalised,
    "dose": lambda reference, row: _phase(_dose(reference, row), row["to"]),
    "course": _course,
    "limit": _limit,
    "regimen": _regimen,
    "limit_row": _limit_row,
    "resting": _resting,
    "energy_share": _energy_share,
    "threshold": _at_threshold,
    "content": _content,
    "material_for": _material_for,
    "grams_to_reach": _grams_to_reach,
    "nuts": _nuts,
}


def _near(value: Decimal, expected: Decimal, tolerance: Decimal) -> bool:
    return abs(value - expected) <= tolerance * expected


def _stands(relation: str, found: Range, printed: Range, tolerance: Decimal) -> bool:
    near_low, near_high = (_near(*pair, tolerance) for pair in zip(found, printed, strict=True))
    return {
        "equals": near_low and near_high,
        "starts_at": near_low,
        "within": printed[0] <= found[0] and found[1] <= printed[1],
        "holds": found[0] <= printed[0] and printed[1] <= found[1],
        "excludes": printed[0] > found[1] or printed[1] < found[0],
        "differs": not near_low and not near_high,
    }[relation]


@pytest.mark.parametrize("row", _examples(), ids=lambda row: row["example_id"])
def test_worked_example(reference: Reference, row: Row) -> None:
    found = CALLS[row["call"]](reference, row)
    exact = Decimal(row["exact_low"]), Decimal(row["exact_high"])
    assert all(_near(*pair, EXACT_TOLERANCE) for pair in zip(found, exact, strict=True)), found
    printed = Decimal(row["printed_low"]), Decimal(row["printed_high"])
    assert _stands(row["relation"], found, printed, Decimal(row["tolerance"])), found


@pytest.mark.parametrize("row", _examples(), ids=lambda row: row["example_id"])
def test_an_example_names_its_source_and_how_it_was_seen(reference: Reference, row: Row) -> None:
    assert row["source_id"] in reference.sources
    assert row["source"]
    assert row["seen"] in ORIGINS
    if reference.sources[row["source_id"]].origin in ("common_practice", "memory"):
        assert row["seen"] == reference.sources[row["source_id"]].origin


def test_there_are_enough_examples_and_each_stands_once() -> None:
    ids = [row["example_id"] for row in _examples()]
    assert len(ids) == len(set(ids))
    assert len(ids) >= 120
    assert {row["call"] for row in _examples()} == set(CALLS)
    assert sum(row["relation"] == "differs" for row in _examples()) >= 8


# Tiers are compared in mg per kg. What a row states in another unit is converted with these, nothing else.
MG_PER_UNIT = {"mg/kg_bw": 1, "mg/kg_bw/day": 1, "g/kg_bw": 1000, "g/kg_bw/day": 1000}
DENSITY_ROWS = {"ethanol": "ethanol-density", "propylene-glycol": "propylene-glycol-density"}
IU_FORMS = {"vitamin-a": "retinol", "vitamin-d3": "cholecalciferol"}


def _mg_per_kg(reference: Reference, row: Threshold, amount: Decimal) -> Decimal | None:
    if row.unit in MG_PER_UNIT:
        return amount * MG_PER_UNIT[row.unit]
    if row.unit in ("mL/kg_bw", "mL/kg_bw/day") and row.hazard_id in DENSITY_ROWS:
        density = _factor(reference, DENSITY_ROWS[row.hazard_id]).recommended or Decimal(0)
        return amount * density * 1000
    if row.unit in ("IU/kg_bw", "IU/kg_bw/day"):
        return convert(reference, IU_FORMS[row.hazard_id], f"{amount:f} IU").amount_mg
    return None


def test_every_tier_in_mg_per_kg_follows_from_the_amount_as_printed(reference: Reference) -> None:
    checked, wrong = 0, []
    for row in (row for rows in reference.thresholds_of.values() for row in rows):
        for printed, stored in ((row.amount_low, row.mg_per_kg_low), (row.amount_high, row.mg_per_kg_high)):
            expected = _mg_per_kg(reference, row, printed) if printed is not None else None
            if expected is None:
                continue
            checked += 1
            if stored is None or not _near(stored, expected, EXACT_TOLERANCE):
                wrong.append((row.id, stored, expected))
    assert wrong == []
    assert checked > 170


def test_no_tier_in_mg_per_kg_without_a_way_to_get_there(reference: Reference) -> None:
    rows = [row for rows in reference.thresholds_of.values() for row in rows if row.mg_per_kg_low is not None]
    assert [
        row.id for row in rows if row.amount_low is None or _mg_per_kg(reference, row, row.amount_low) is None
    ] == []
