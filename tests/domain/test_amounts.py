"""Amounts as labels print them: number, unit, bound, what it is for. Readings are worked by hand."""

from __future__ import annotations

from contextlib import suppress
from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.amounts import LabelAmount, bound_in_name, find_unit, read_amount, restatement_disagrees
from service.domain.errors import InvalidInput
from service.reference.release import Reference
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()


def _read(text: str, locale: str | None = None) -> LabelAmount:
    return read_amount(REFERENCE, text, "facts/0/amount", locale)


def _base(read: LabelAmount) -> tuple[D, D]:
    """Low and high in the base unit of the dimension: mg for a mass."""
    return read.low * read.unit.factor, read.high * read.unit.factor


@pytest.mark.parametrize(
    ("text", "mg"),
    [
        ("500 mg", "500"),
        ("500mg", "500"),
        # A general unit library makes megagrams of it.
        ("500 Mg", "500"),
        ("500 MG", "500"),
        ("500 mgs.", "500"),
        ("500 Milligramm", "500"),
        ("500 miligramos", "500"),
        ("500 (mg)", "500"),
        ("(500 mg)", "500"),
        ("500 mg;", "500"),
        ("500 mg*", "500"),
        ("500 mg †", "500"),
        ("500¹ mg", "500"),
        ("500\u00a0mg", "500"),
        ("500\u200bmg", "500"),
        ("５００ ｍｇ", "500"),
        ("0.5 g", "500"),
        (".5 g", "500"),
        ("0,5 g", "500"),
        ("½ g", "500"),
        ("1½ g", "1500"),
        ("1 500 mg", "1500"),
        ("1\u202f500 mg", "1500"),
        ("1'500 mg", "1500"),
        ("1,500 mg", "1500"),
        ("1,500.5 mg", "1500.5"),
        ("1.500,5 mg", "1500.5"),
        ("5 x 10^2 mg", "500"),
        ("5×10² mg", "500"),
        ("300 μg", "0.3"),
        ("300 µg", "0.3"),
        ("100 MCG", "0.1"),
        ("1 oz", "28349.523125"),
    ],
)
def test_masses(text: str, mg: str) -> None:
    assert _base(_read(text)) == (D(mg), D(mg))


def test_gr_is_grams_and_flagged() -> None:
    # A grain would be 64.8 mg, 15 times less.
    read = _read("1.5 gr")
    assert _base(read) == (D(1500), D(1500))
    assert read.flags == ("unit_suspicious",)


@pytest.mark.parametrize(
    ("text", "locale", "low", "high", "flags"),
    [
        # Three digits after one dot: group or decimals, unless the label's language settles it.
        ("1.500 mg", None, "1.5", "1500", ("separator_ambiguous",)),
        ("1.500 mg", "de", "1500", "1500", ()),
        ("1.500 mg", "en", "1.5", "1.5", ()),
        ("1,500 mg", "fr", "1.5", "1500", ("decimal_comma", "separator_ambiguous")),
        ("25.000 mg", "de", "25000", "25000", ()),
        ("2.000 I.E.", "de", "2000", "2000", ()),
        ("1,5 mg", None, "1.5", "1.5", ("decimal_comma",)),
    ],
)
def test_separators(text: str, locale: str | None, low: str, high: str, flags: tuple[str, ...]) -> None:
    read = _read(text, locale)
    assert _base(read) == (D(low), D(high))
    assert read.flags == flags


@pytest.mark.parametrize(
    "text",
    [
        *("400-500 mg", "400 – 500 mg", "400 to 500 mg", "400 bis 500 mg", "400 à 500 mg", "400 mg - 500 mg"),
        *("400mg-500mg", "between 400 and 500 mg", "zwischen 400 und 500 mg", "de 400 à 500 mg", "entre 400 y 500 mg"),
    ],
)
def test_ranges(text: str) -> None:
    read = _read(text)
    assert _base(read) == (D(400), D(500))
    assert "range" in read.flags


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        *((text, "min") for text in ("min 500 mg", "Min. 500mg", "500 mg min", "500 mg (min)", "minimum 500 mg")),
        *((text, "min") for text in ("not less than 500 mg", "no less than 500 mg", "NLT 500 mg", "at least 500 mg")),
        *((text, "min") for text in ("≥ 500 mg", ">= 500 mg", "> 500 mg", "more than 500 mg")),
        *((text, "min") for text in ("mind. 500 mg", "mindestens 500 mg", "au moins 500 mg", "al menos 500 mg")),
        *((text, "min") for text in ("mínimo 500 mg", "minimal 500 mg")),
        *((text, "max") for text in ("max. 500 mg", "500 mg max", "not more than 500 mg", "no more than 500 mg")),
        *((text, "max") for text in ("up to 500 mg", "≤ 500 mg", "höchstens 500 mg", "bis zu 500 mg")),
        *((text, "max") for text in ("jusqu'à 500 mg", "hasta 500 mg", "máximo 500 mg")),
        *((text, "less_than") for text in ("< 500 mg", "less than 500 mg", "weniger als 500 mg", "moins de 500 mg")),
        *((text, None) for text in ("500 mg", "about 500 mg", "ca. 500 mg")),
    ],
)
def test_bounds(text: str, bound: str | None) -> None:
    read = _read(text)
    assert (read.bound, read.low) == (bound, D(500))


@pytest.mark.parametrize(
    "text",
    ["~500 mg", "ca. 500 mg", "approx. 500mg", "500 mg typ.", "500 mg (typical)", "environ 500 mg", "aprox. 500 mg"],
)
def test_about(text: str) -> None:
    assert "approximate" in _read(text).flags


@pytest.mark.parametrize(
    ("name", "rest", "bound"),
    [
        ("Glucosamine HCl (min)", "Glucosamine HCl", "min"),
        ("Glucosamine HCl, not less than", "Glucosamine HCl", "min"),
        ("Glucosamine HCl* (min.)", "Glucosamine HCl*", "min"),
        ("Sodium (max)", "Sodium", "max"),
        ("Moisture, max.", "Moisture", "max"),
        ("Sodio (máximo)", "Sodio", "max"),
        # No bound: a name that merely holds these letters.
        ("Thiamin", "Thiamin", None),
        ("Glucosamine HCl", "Glucosamine HCl", None),
        ("Minerals", "Minerals", None),
    ],
)
def test_bounds_in_the_name(name: str, rest: str, bound: str | None) -> None:
    assert bound_in_name(name) == (rest, bound)


@pytest.mark.parametrize(
    ("text", "units"),
    [
        *(("500 mg per chew", "1"), ("500mg/chew", "1"), ("500 mg / chew", "1"), ("500 mg each", "1")),
        *(("500 mg par comprimé", "1"), ("500 mg je Tablette", "1"), ("500 mg pro Kapsel", "1")),
        *(("500 mg por comprimido", "1"), ("500 mg per 2 chews", "2"), ("500mg/2 chews", "2")),
        ("500 mg (per 2 chews)", "2"),
    ],
)
def test_an_amount_that_says_what_it_is_for(text: str, units: str) -> None:
    read = _read(text)
    assert (_base(read)[0], read.per_units) == (D(500), D(units))


@pytest.mark.parametrize(
    ("text", "low", "flags"),
    [
        ("500 mg", "500", ()),
        ("500 mg per serving", "500", ()),
        ("500 mg pro Portion", "500", ()),
        ("1000 mg per 2 servings", "500", ()),
        # The contract counts per serving; what it is per is said.
        ("500 mg per day", "500", ("read_as_per_serving",)),
        ("500 mg/day", "500", ("read_as_per_serving",)),
        ("500 mg pro Tag", "500", ("read_as_per_serving",)),
        ("500 mg daily", "500", ("read_as_per_serving",)),
    ],
)
def test_everything_else_is_for_a_serving(text: str, low: str, flags: tuple[str, ...]) -> None:
    read = _read(text)
    assert (read.low, read.per_units, read.flags) == (D(low), None, flags)


@pytest.mark.parametrize(
    ("text", "dimension", "share"),
    [
        # All of these say 0.8 %: 8 g in a kilogram.
        *((text, "fraction", "0.008") for text in ("0.8 %", "0,8%", "0.8 percent", "0,8 Prozent", "8 ‰")),
        *((text, "mass_per_mass", "0.008") for text in ("8000 mg/kg", "8000 mg per kg", "8000 mg je kg")),
        *((text, "mass_per_mass", "0.008") for text in ("8000 mg par kg", "8000 mg por kg", "8 g/kg", "8000 ppm")),
        *((text, "mass_per_mass", "0.008") for text in ("800 mg/100 g", "8 mg/g", "40 mg per 5 g", "8000 mg pro kg")),
    ],
)
def test_shares_of_the_product(text: str, dimension: str, share: str) -> None:
    read = _read(text)
    assert (read.unit.dimension, read.per_units) == (dimension, None)
    assert _base(read)[0] == D(share)


@pytest.mark.parametrize(
    "text", ["100 mg/ml", "100 mg per ml", "500 mg/5 ml", "500 mg per 5 mL", "10 g/100 ml", "500 mg per teaspoon"]
)
def test_amounts_in_a_volume(text: str) -> None:
    # A label teaspoon holds 5 ml.
    read = _read(text)
    assert (read.unit.dimension, _base(read)[0]) == ("mass_per_volume", D(100))


@pytest.mark.parametrize("text", ["400 IU", "400 I.U.", "400 IE", "400 I.E.", "400 UI", "400 iu"])
def test_international_units(text: str) -> None:
    read = _read(text)
    assert (read.unit.dimension, read.low) == ("iu", D(400))


def test_international_units_in_a_mass() -> None:
    # 150 IU in a pound are 150 / 0.45359237 = 330.69 in a kilogram.
    for text in ("150 IU/lb", "150 IU per lb", "150 IU per pound"):
        assert round(_base(_read(text))[0], 2) == D("330.69")


@pytest.mark.parametrize(
    ("text", "restated", "aside"),
    [
        ("400 IU (10 mcg)", (D(10), "microgram"), None),
        ("25 mcg (40 IU)", (D(40), "international-unit"), None),
        ("500 mg (0.5 g)", (D("0.5"), "gram"), None),
        ("120 mg (Zn: 18 mg)", None, "Zn: 18 mg"),
        ("50 mg (equivalent to 500 mg dried root)", None, "equivalent to 500 mg dried root"),
        ("500 mg (**)", None, None),
    ],
)
def test_brackets(text: str, restated: tuple[D, str] | None, aside: str | None) -> None:
    read = _read(text)
    assert (read.restated and (read.restated[0], read.restated[1].unit)) == restated
    assert read.aside == aside
    assert ("aside_not_counted" in read.flags) == (aside is not None)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        # A letter O is refused, never repaired.
        *((text, "letter O") for text in ("5OO mg", "50O mg", "5o0 mg")),
        *((text, "no unit") for text in ("500", "1,5", "1/2 g")),
        *((text, "no number") for text in ("five hundred mg", "trace", "mg", "", "NaN mg", "٥٠٠ mg")),
        *(
            (text, "not a known unit")
            for text in ("500 zorb", "500 mg, 400 mg", "500 mg + 200 mg", "500 mg 50%", "1e3 mg")
        ),
        *((text, "not understood") for text in ("-5 mg", "mg 500", "Glucosamine 500 mg", "O.5 g")),
        *((text, "greater than zero") for text in ("0 mg", "0.0 g")),
        *((text, "not a number") for text in ("5 00 mg", "1,50,0 mg", "1.2.3 mg")),
        *((text, "runs downwards") for text in ("500-400 mg", "2 to 1 g")),
        *((text, "no label prints") for text in ("9999999999999999 mg", "0.0000000000001 mg", "1 x 10^99 mg")),
        ("500 mg per 0 chews", "per nothing"),
        ("500 CFU per 5 ml", "mixes units"),
        ("5" * 200, "longer than 120"),
    ],
)
def test_what_cannot_be_read_is_refused_and_explained(text: str, says: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        _read(text)
    (issue,) = caught.value.issues
    assert issue.where == "facts/0/amount"
    assert says in issue.detail


def test_units_exact_before_folded_case(reference: Reference) -> None:
    assert find_unit(reference, "mg", "x", "w").unit == "milligram"
    assert find_unit(reference, "Mg/kG", "x", "w").unit == "milligram-per-kilogram"
    assert find_unit(reference, "[mg]", "x", "w").unit == "milligram"
    assert find_unit(reference, "mg / kg", "x", "w").unit == "milligram-per-kilogram"
    with pytest.raises(InvalidInput) as caught:
        find_unit(reference, "", "500", "amount")
    assert "no unit" in str(caught.value)


@pytest.mark.parametrize(
    ("first", "second", "disagrees"),
    # 5 % of the larger figure: 0.025 mg against 1 mcg, 10 mcg against 10.4 and 10.6.
    [("0.025", "0.001", True), ("10", "10", False), ("10", "10.4", False), ("10", "10.6", True), ("10.6", "10", True)],
)
def test_two_figures_for_one_amount(first: str, second: str, disagrees: bool) -> None:
    assert restatement_disagrees(D(first), D(second)) is disagrees


@given(st.decimals("0.001", "99999", places=3), st.sampled_from(["mg", "g", "mcg", "%", "IU", "mg/kg"]))
def test_a_plain_number_is_read_as_it_stands(number: D, unit: str) -> None:
    # English labels: the dot is a decimal mark.
    read = _read(f"{number} {unit}", "en")
    assert read.low == read.high == number


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    read = None
    with suppress(InvalidInput):
        read = _read(text)
    assert read is None or D(0) < read.low <= read.high
