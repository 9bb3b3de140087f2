"""Units against `pint` (decimal registry), `scipy.constants`, and the factors that law and pharmacy print.

`pint` and `scipy` take the pound of 1959 and all that follows from it (source chem-s63, read: pound and ounce; source
chem-pkg: the packages, run). The household measures of US labels are other sizes by law (chem-s01, cited).
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pint
import pytest
from scipy import constants

from service.domain.amounts import read_amount
from service.domain.converting import convert
from service.domain.errors import InvalidInput
from service.domain.normalising import normalise
from service.domain.products import LabelFact, Product
from service.domain.weights import KG_PER_UNIT, parse_weight
from service.reference.records import Unit
from service.reference.release import Reference
from service.reference.releases import load_working_tables

REGISTRY: pint.UnitRegistry[Any] = pint.UnitRegistry(non_int_type=Decimal)
UNITS: tuple[Unit, ...] = load_working_tables().tables["units"]

# Names of the table that the library spells otherwise; US measures, as on US labels.
PINT_NAMES = {
    "fluid-ounce": "US_fluid_ounce",
    "imperial-fluid-ounce": "imperial_fluid_ounce",
    "us-gallon": "gallon",
    "us-pint": "pint",
    "us-quart": "quart",
    "per-mille": "permille",
    "part-per-million": "ppm",
}
# A thousandth of a ppm, which the library does not know by name; counts, activities and shares of a reference value
# have no physical size.
UNKNOWN_TO_PINT = {"part-per-billion"}
PHYSICAL = ("mass", "volume", "energy", "fraction", "mass_per_mass", "mass_per_volume", "energy_per_mass")
# Fixed by 21 CFR 101.9(b)(5)(viii) for labels (chem-s01, cited). A drop has no legal size: 1/20 ml, *from memory*.
HOUSEHOLD_ML = {"teaspoon": Decimal(5), "tablespoon": Decimal(15), "cup": Decimal(240), "drop": Decimal("0.05")}
CHECKED_WITH_PINT = [
    row
    for row in UNITS
    if row.dimension in PHYSICAL and row.unit not in UNKNOWN_TO_PINT and row.flag != "household_measure"
]


def _quantity(unit: str) -> pint.Quantity[Decimal]:
    """Turn a name of the table, such as `milligram-per-100-gram`, into one of the library's quantities."""
    if unit in PINT_NAMES or "-per-" not in unit:
        one: pint.Quantity[Decimal] = REGISTRY.Quantity(Decimal(1), PINT_NAMES.get(unit, unit))
        return one
    above, _, below = unit.partition("-per-")
    many, _, name = below.partition("-")
    count, name = (Decimal(many), name) if many.isdigit() else (Decimal(1), below)
    quotient: pint.Quantity[Decimal] = _quantity(above) / (count * _quantity(name))
    return quotient


def _base(unit: Unit) -> str:
    return "dimensionless" if unit.base_unit == "1" else unit.base_unit


@pytest.mark.parametrize(
    ("unit", "kilograms", "library_value"),
    [
        ("lb", "0.45359237", constants.pound),
        ("oz", "0.028349523125", constants.oz),
        ("st", "6.35029318", constants.stone),
    ],
)
def test_pound_ounce_and_stone(unit: str, kilograms: str, library_value: float) -> None:
    assert KG_PER_UNIT[unit] == Decimal(kilograms)
    assert float(KG_PER_UNIT[unit]) == pytest.approx(library_value, rel=4e-16)
    name = {"lb": "pound", "oz": "ounce", "st": "stone"}[unit]
    assert KG_PER_UNIT[unit] == REGISTRY.Quantity(Decimal(1), name).to("kg").magnitude
    assert parse_weight(f"1 {unit}") == Decimal(kilograms)


def test_a_stone_is_14_pounds_and_a_pound_16_ounces() -> None:
    assert KG_PER_UNIT["st"] == 14 * KG_PER_UNIT["lb"]
    assert KG_PER_UNIT["lb"] == 16 * KG_PER_UNIT["oz"]


def test_labels_and_body_weights_use_one_pound(reference: Reference) -> None:
    for alias, unit in (("lb", "lb"), ("oz", "oz"), ("kg", "kg"), ("g", "g"), ("st", "st")):
        assert reference.units[alias].factor == KG_PER_UNIT[unit] * 1_000_000


@pytest.mark.parametrize("row", CHECKED_WITH_PINT, ids=lambda row: row.alias)
def test_factor_against_pint(row: Unit) -> None:
    expected = _quantity(row.unit).to(_base(row)).magnitude
    assert abs(row.factor - expected) <= Decimal("1e-20") * expected


def test_every_physical_unit_is_checked() -> None:
    left = {row.unit for row in UNITS if row.dimension in PHYSICAL} - {row.unit for row in CHECKED_WITH_PINT}
    assert left == UNKNOWN_TO_PINT | set(HOUSEHOLD_ML)
    assert len(CHECKED_WITH_PINT) > 250


def test_a_part_per_billion_is_a_thousandth_of_a_part_per_million(reference: Reference) -> None:
    assert reference.units["ppb"].factor * 1000 == reference.units["ppm"].factor
    assert reference.units["ppb"].base_unit == reference.units["ppm"].base_unit


@pytest.mark.parametrize("row", [row for row in UNITS if row.flag == "household_measure"], ids=lambda row: row.alias)
def test_household_measures_are_those_of_labels(row: Unit) -> None:
    assert row.base_unit == "ml"
    assert row.factor == HOUSEHOLD_ML[row.unit]


@pytest.mark.parametrize(("unit", "more_percent"), [("teaspoon", 1.442), ("tablespoon", 1.442), ("cup", 1.442)])
def test_a_label_spoon_is_larger_than_a_customary_one(unit: str, more_percent: float) -> None:
    # Label value +1.44 % over the customary measure (own-arithmetic on chem-s01 and chem-pkg).
    customary_ml = REGISTRY.Quantity(Decimal(1), unit).to("ml").magnitude
    assert float(HOUSEHOLD_ML[unit] / customary_ml - 1) * 100 == pytest.approx(more_percent, abs=5e-4)


@pytest.mark.parametrize(
    ("text", "mg"),
    [
        # Each was run through the library: it reads 10^9 times too much, a magnetic field, a grain, a carat, or 500 mg
        # for 1,500 (chem-pkg, read). The table must not.
        ("500 Mg", "500"),
        ("500 MG", "500"),
        ("5 G", "5000"),
        ("5 gr", "5000"),
        ("1 500 mg", "1500"),
        ("500 mcg", "0.5"),
        ("500 \u00b5g", "0.5"),
        ("500 \u03bcg", "0.5"),
    ],
)
def test_what_a_unit_library_misreads(reference: Reference, text: str, mg: str) -> None:
    read = read_amount(reference, text, "amount")
    assert read.unit.dimension == "mass"
    assert read.low * read.unit.factor == Decimal(mg)


def test_a_count_is_no_carat(reference: Reference) -> None:
    assert read_amount(reference, "120 ct", "amount").unit.dimension == "count"


@pytest.mark.parametrize(
    ("amount", "mg"),
    [
        # 8 mg in each gram of a chew of 5 g.
        ("8000 mg/kg", "40"),
        ("8 mg/g", "40"),
        ("8000 ppm", "40"),
        ("0.8 %", "40"),
        ("800 mg/100 g", "40"),
        # 3,628.73896 mg in a pound is 8 mg in a gram.
        ("3628.73896 mg/lb", "40"),
        ("226.79618500 mg/oz", "40"),
    ],
)
def test_a_concentration_needs_the_mass_of_the_unit(reference: Reference, amount: str, mg: str) -> None:
    # 1 % is 10 mg/g is 10,000 mg/kg is 10,000 ppm (source chem-s34, read; chem-s52, cited).
    chew = Product(
        "p", unit="chew", serving_units=Decimal(1), unit_mass_g=Decimal(5), facts=(LabelFact("MSM", amount),)
    )
    (fact,) = normalise(reference, chew).facts
    assert fact.mg_per_unit == Decimal(mg)


@pytest.mark.parametrize(
    ("form", "amount", "low_mg", "high_mg"),
    [
        # Vitamin D: 40 IU per microgram (chem-s07, cited).
        ("cholecalciferol", "40 IU", 0.001, 0.001),
        ("ergocalciferol", "40 IU", 0.001, 0.001),
        ("vitamin-d-unspecified", "400 IU", 0.01, 0.01),
        # Vitamin A: 0.3 mcg retinol (chem-s07, cited; chem-s09, read); 0.344 and 0.550 mcg of its esters by mass.
        ("retinol", "1 IU", 0.0003, 0.0003),
        ("vitamin-a-activity", "1 IU", 0.0003, 0.0003),
        ("retinyl-acetate", "1 IU", 0.000344, 0.000344),
        ("retinyl-palmitate", "1 IU", 0.00055, 0.00055),
        # Beta-carotene by the old rule: 0.6 mcg (chem-s07, cited).
        ("beta-carotene", "1 IU", 0.0006, 0.0006),
        # Vitamin E: 1.49 and 1.10, 1.36 and 1.00, 1.21 IU per mg, natural and synthetic (chem-s11, cited; chem-s10,
        # read); 0.89 for the synthetic succinate *from memory*.
        ("alpha-tocopherol", "149 IU", 100, 149 / 1.10),
        ("alpha-tocopheryl-acetate", "136 IU", 100, 136),
        ("alpha-tocopheryl-acid-succinate", "121 IU", 100, 121 / 0.89),
        ("vitamin-e-unspecified", "149 IU", 100, 149 / 0.89),
    ],
)
def test_international_units(reference: Reference, form: str, amount: str, low_mg: float, high_mg: float) -> None:
    found = convert(reference, form, amount)
    # Units per mg of vitamin A are stored to five digits.
    assert float(found.amount_low_mg) == pytest.approx(low_mg, rel=1e-4)
    assert float(found.amount_high_mg) == pytest.approx(high_mg, rel=1e-4)


@pytest.mark.parametrize(("ester", "microgram_per_iu"), [("retinyl-acetate", "0.344"), ("retinyl-palmitate", "0.550")])
def test_a_unit_of_vitamin_a_holds_the_same_retinol_in_every_ester(
    reference: Reference, ester: str, microgram_per_iu: str
) -> None:
    retinol_mg = convert(reference, ester, "1000000 IU").converted_mg
    assert float(retinol_mg or 0) == pytest.approx(300, rel=1e-3)
    assert Decimal(microgram_per_iu) * 1000 == pytest.approx(
        convert(reference, ester, "1000000 IU").amount_mg, rel=Decimal("1e-3")
    )


@pytest.mark.parametrize("form", ["glucosamine-hydrochloride", "chondroitin-sulfate", "msm", "epa-dha"])
def test_no_units_for_what_has_none(reference: Reference, form: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        convert(reference, form, "500 IU")
    assert "no IU is defined" in caught.value.issues[0].detail


@pytest.mark.parametrize("amount", ["2 ml", "1 tsp", "2 capsules", "2 kcal", "50 % DV", "2400 GDU", "5 billion CFU"])
def test_what_has_no_mass_is_refused(reference: Reference, amount: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        convert(reference, "msm", amount)
    assert "mass" in caught.value.issues[0].detail
