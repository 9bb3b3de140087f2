"""Numbers, units, bounds and what an amount is for. Readings by hand from the print."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.numerals import belongs_to_a_name
from service.domain.labels.quantities import per
from service.reference.release import Reference
from tests.domain.labels.reading import amount, sheet


@pytest.mark.parametrize(
    ("text", "locale", "low", "high", "unit", "bound"),
    [
        ("500 mg", None, "500", "500", "milligram", None),
        ("500mg", None, "500", "500", "milligram", None),
        ("1,000 mg", None, "1000", "1000", "milligram", None),
        ("1,000 mg", "de", "1", "1000", "milligram", None),
        ("1.000 mg", "de", "1000", "1000", "milligram", None),
        ("1.000 IU", None, "1", "1000", "international-unit", None),
        ("1.000 IU", "en", "1", "1", "international-unit", None),
        ("1,5 mg", None, "1.5", "1.5", "milligram", None),
        ("1 500 mg", None, "1500", "1500", "milligram", None),
        ("1\u202f500\u00a0000 IU", None, "1500000", "1500000", "international-unit", None),
        ("1'500 mg", None, "1500", "1500", "milligram", None),
        ("1.234,5 mg", None, "1234.5", "1234.5", "milligram", None),
        (".5 g", None, "0.5", "0.5", "gram", None),
        (",25 g", None, "0.25", "0.25", "gram", None),
        ("1/2 tablet", None, "0.5", "0.5", "tablet", None),
        ("1 1/2 tsp", None, "1.5", "1.5", "teaspoon", None),
        ("2\u00bd tsp", None, "2.5", "2.5", "teaspoon", None),
        ("5 x 10^8 CFU", None, "500000000", "500000000", "colony-forming-unit", None),
        ("5 \u00d7 10\u2078 CFU", None, "500000000", "500000000", "colony-forming-unit", None),
        ("1.0-1.4 %", None, "1.0", "1.4", "percent", None),
        ("1,0 \u2013 1,4 %", None, "1.0", "1.4", "percent", None),
        ("400 mg - 500 mg", None, "400", "500", "milligram", None),
        ("4 to 6 tablets", None, "4", "6", "tablet", None),
        ("not less than 5 %", None, "5", "5", "percent", "min"),
        ("min. 5 %", None, "5", "5", "percent", "min"),
        ("mindestens 5 %", None, "5", "5", "percent", "min"),
        ("au moins 5 %", None, "5", "5", "percent", "min"),
        ("5 % min", None, "5", "5", "percent", "min"),
        ("40 ppm (min.)", None, "40", "40", "part-per-million", "min"),
        ("max: 8 %", None, "8", "8", "percent", "max"),
        ("not more than 8 %", None, "8", "8", "percent", "max"),
        ("h\u00f6chstens 8 %", None, "8", "8", "percent", "max"),
        ("< 5 mg", None, "5", "5", "milligram", "less_than"),
        ("less than 5 mg", None, "5", "5", "milligram", "less_than"),
        ("approx. 6 g", None, "6", "6", "gram", None),
        ("500 (mg)", None, "500", "500", "milligram", None),
        ("2 heaping scoops", None, "2", "2", "scoop", None),
        ("2.000 I.E.", "de", "2000", "2000", "international-unit", None),
        ("500", None, "500", "500", None, None),
    ],
)  # fmt: skip
def test_what_an_amount_says(
    reference: Reference, text: str, locale: str | None, low: str, high: str, unit: str | None, bound: str | None
) -> None:
    found = amount(reference, text, locale)
    assert found is not None
    assert found.refused is None
    assert (found.number.low, found.number.high) == (Decimal(low), Decimal(high))
    assert (found.unit.unit if found.unit else None, found.bound) == (unit, bound)


@pytest.mark.parametrize(
    ("text", "flag"),
    [
        ("1.000 IU", "separator_ambiguous"), ("1,5 mg", "decimal_comma"), ("4-6 mg", "range"),
        ("ca. 5 g", "approximate"), ("5 x 10^8 CFU", "scientific_notation"), ("\u00bd tsp", "household_measure"),
        ("1/2 tablet", "fraction"), ("500 (mg)", "unit_in_parentheses"),
    ],
)  # fmt: skip
def test_what_a_reader_should_know(reference: Reference, text: str, flag: str) -> None:
    found = amount(reference, text)
    assert found is not None
    assert flag in found.flags


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("5OO mg", "has a letter among its digits"), ("l50 mg", "has a letter among its digits"),
        ("1O0mg", "has a letter among its digits"), ("5 00 mg", "is not one number"),
    ],
)  # fmt: skip
def test_a_number_that_is_none_is_refused_and_not_repaired(reference: Reference, text: str, reason: str) -> None:
    found = amount(reference, text)
    assert found is not None
    assert found.refused is not None
    assert reason in found.refused


def test_a_range_that_runs_downwards_is_none(reference: Reference) -> None:
    found = amount(reference, "20-10 mg")
    assert found is None or found.number.high == 20


@pytest.mark.parametrize("text", ["mg", "chews", "", "min.", "(5 mg)", "1,2,3", "1.23.45,6"])
def test_what_is_no_amount(reference: Reference, text: str) -> None:
    assert amount(reference, text) is None


@pytest.mark.parametrize(
    ("text", "place", "named"),
    [
        ("omega 3 of", 1, True), ("omega-3 oil", 2, True), ("vitamin B 12", 2, True), ("E 967", 1, True),
        ("10:1 extract", 0, True), ("10:1 extract", 2, True), ("7-in-1 formula", 0, True), ("3b607", 0, True),
        ("No. 5", 2, True), ("omega 3 mg", 1, False), ("MSM 500 mg", 1, False), ("MSM 500", 1, False),
        ("2 x 60", 0, False),
    ],
)  # fmt: skip
def test_numbers_of_names_and_codes(reference: Reference, text: str, place: int, named: bool) -> None:
    cut = sheet(reference, text)
    assert belongs_to_a_name(cut, place, len(cut.tokens)) is named


@pytest.mark.parametrize(
    ("text", "kind", "count", "unit"),
    [
        ("per 2 chews", "unit", "2", "chew"), ("per tablet", "unit", "1", "tablet"), ("/chew", "unit", "1", "chew"),
        ("pro Tablette", "unit", "1", "tablet"), ("par comprim\u00e9", "unit", "1", "tablet"),
        ("por comprimido", "unit", "1", "tablet"), ("per serving", "serving", "1", "serving"),
        ("per day", "day", "1", None), ("t\u00e4glich", "day", "1", None), ("daily", "day", "1", None),
        ("par jour", "day", "1", None), ("per kg", "product_mass", "1", "kilogram"),
        ("per 5 ml", "volume", "5", "millilitre"), ("per 10 kg body weight", "body_weight", "10", "kilogram"),
        ("je 10 kg K\u00f6rpergewicht", "body_weight", "10", "kilogram"), ("each", "unit", "1", None),
        ("(per 2 chews)", "unit", "2", "chew"),
    ],
)  # fmt: skip
def test_what_an_amount_is_for(reference: Reference, text: str, kind: str, count: str, unit: str | None) -> None:
    cut = sheet(reference, text)
    found = per(cut, 0, len(cut.tokens))
    assert found is not None
    assert (found.kind, found.count, found.unit.unit if found.unit else None) == (kind, Decimal(count), unit)
    assert found.end == len(cut.tokens)


@pytest.mark.parametrize("text", ["per", "per 400 mg", "per se", "chew", "per 0 chews"])
def test_what_is_for_nothing(reference: Reference, text: str) -> None:
    cut = sheet(reference, text)
    assert per(cut, 0, len(cut.tokens)) is None
