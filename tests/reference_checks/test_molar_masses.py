"""Molar masses and shares of active moiety against two open libraries and against published figures.

`molmass` takes mean masses over isotopes, `periodictable` the abridged standard atomic weights
(source iupac-abridged-weights): two sets that differ by up to 5.0e-5 in a mass and 9.9e-5 in a share over all forms
(source chem-pkg), hence the tolerances.
"""

from __future__ import annotations

from decimal import Decimal

import molmass
import periodictable
import pytest

from service.domain.converting import convert
from service.domain.describing import FormAnswer, describe_form
from service.reference.release import Reference
from service.reference.releases import load_working_tables

MASS_TOLERANCE = 1e-4
SHARE_TOLERANCE = 2e-4
LIBRARIES = ("molmass", "periodictable")

FORMS = tuple(load_working_tables().forms.values())
WITH_FORMULA = tuple(form.id for form in FORMS if form.formula and form.kind != "no_fixed_formula")
WITH_FIXED_SHARE = tuple(
    form.id
    for form in FORMS
    if form.formula and form.moiety_formula and form.kind in ("defined", "expression", "polymer")
)


def _mass(library: str, formula: str) -> float:
    if library == "molmass":
        return float(molmass.Formula(formula).mass)
    return float(periodictable.formula(formula).mass)


def _share(library: str, form: FormAnswer) -> float:
    assert form.moieties_per_formula is not None
    moiety_mass = _mass(library, form.moiety_formula or "")
    return form.moieties_per_formula * moiety_mass / _mass(library, form.formula or "")


def test_nearly_all_forms_of_the_reference_are_checked() -> None:
    # Source chem-pkg: 124 forms were computed; one of them has no settled stoichiometry and no share.
    assert len(WITH_FIXED_SHARE) >= 120


@pytest.mark.parametrize("library", LIBRARIES)
@pytest.mark.parametrize("form_id", WITH_FORMULA)
def test_molar_mass(reference: Reference, form_id: str, library: str) -> None:
    form = describe_form(reference, form_id)
    assert float(form.molar_mass_g_per_mol or 0) == pytest.approx(
        _mass(library, form.formula or ""), rel=MASS_TOLERANCE
    )


@pytest.mark.parametrize("library", LIBRARIES)
@pytest.mark.parametrize("form_id", WITH_FIXED_SHARE)
def test_share_of_moiety(reference: Reference, form_id: str, library: str) -> None:
    form = describe_form(reference, form_id)
    # A moiety can be one element, and sulfur alone differs by 1.5e-4 between the two sets of weights.
    assert float(form.moiety_molar_mass_g_per_mol or 0) == pytest.approx(
        _mass(library, form.moiety_formula or ""), rel=SHARE_TOLERANCE
    )
    assert float(form.moiety_share or 0) == pytest.approx(_share(library, form), rel=SHARE_TOLERANCE)


@pytest.mark.parametrize("form_id", WITH_FIXED_SHARE)
def test_no_more_of_an_element_in_the_moieties_than_in_the_form(reference: Reference, form_id: str) -> None:
    """Catch a wrong number of moieties, which the shares of both libraries would share.

    Hydrogen is let be: a salt has lost it (ascorbate holds one less than the acid).
    """
    form = describe_form(reference, form_id)
    held = molmass.Formula(form.formula or "").composition()
    moiety = molmass.Formula(form.moiety_formula or "").composition()
    count = form.moieties_per_formula or 0
    for element, item in moiety.items():
        if element != "H":
            assert count * item.count <= held[element].count, element
    if len(moiety) == 1:
        (element,) = moiety
        assert count == held[element].count


@pytest.mark.parametrize(
    ("form_id", "published_g_per_mol", "half_digit", "source_id"),
    [
        # USP 32, tablets of glucosamine with MSM: "179.17" and "215.63" (chem-s21, read).
        ("glucosamine-base", 179.17, 0.005, "chem-s21"),
        ("glucosamine-hydrochloride", 215.63, 0.005, "chem-s21"),
        # USP 28, glucosamine sulfate potassium chloride: 605.52, by the weights of its day (chem-s19, read).
        ("glucosamine-sulfate-2kcl", 605.52, 0.01, "chem-s19"),
        # USP 35, glucosamine sulfate sodium chloride: 573.31 (chem-s20, read).
        ("glucosamine-sulfate-2nacl", 573.31, 0.02, "chem-s20"),
        # A drug reference quoting USP 31: 573.3 (chem-s25, read).
        ("glucosamine-sulfate-2nacl", 573.3, 0.05, "chem-s25"),
        # Encyclopaedia mirror, the neutral inner salt (chem-s60, read).
        ("s-adenosylmethionine", 398.44, 0.005, "chem-s60"),
        # Catalogue value, *from memory*.
        ("msm", 94.13, 0.005, "memory"),
    ],
)
def test_published_molar_mass(
    reference: Reference, form_id: str, published_g_per_mol: float, half_digit: float, source_id: str
) -> None:
    assert source_id in reference.sources
    found = describe_form(reference, form_id).molar_mass_g_per_mol
    assert float(found or 0) == pytest.approx(published_g_per_mol, abs=half_digit)


@pytest.mark.parametrize(
    ("form_id", "published_percent", "half_digit", "source_id"),
    [
        # USP 32: 179.17 / 215.63 (chem-s21, read).
        ("glucosamine-hydrochloride", 83.09, 0.005, "chem-s21"),
        # NIDDK table of elemental iron in tablets (chem-s17, read).
        ("ferrous-sulfate-heptahydrate", 20, 0.5, "chem-s17"),
        ("ferrous-sulfate-anhydrous", 37, 0.5, "chem-s17"),
        ("ferrous-fumarate", 33, 0.5, "chem-s17"),
        ("ferrous-gluconate-dihydrate", 12, 0.5, "chem-s17"),
        # Nursing drug guide: zinc sulfate is 23 % zinc, so the heptahydrate is meant (chem-s18, read).
        ("zinc-sulfate-heptahydrate", 23, 0.5, "chem-s18"),
        # Supplement page, weak: "about" figures for zinc salts (chem-s61, read).
        ("zinc-gluconate", 14, 0.5, "chem-s61"),
        ("zinc-citrate-anhydrous", 34, 0.5, "chem-s61"),
        ("zinc-picolinate", 21, 0.5, "chem-s61"),
        ("zinc-acetate-dihydrate", 30, 0.5, "chem-s61"),
        # Supplement page, weak: 889 mg ascorbic acid in 1,000 mg (chem-s57, read).
        ("sodium-ascorbate", 88.9, 0.05, "chem-s57"),
        # Vitamin A leaflet: 1 mcg retinol = 1.15 mcg acetate = 1.83 mcg palmitate (chem-s09, read).
        ("retinyl-acetate", 100 / 1.15, 0.4, "chem-s09"),
        ("retinyl-palmitate", 100 / 1.83, 0.15, "chem-s09"),
        # Magnesium oxide 60 % and caffeine citrate "half caffeine", *from memory*.
        ("magnesium-oxide", 60, 0.5, "memory"),
        ("caffeine-citrate", 50, 0.5, "memory"),
        # "768 mg of the salt = 400 mg of the ion", *from memory*.
        ("same-tosylate-disulfate", 100 * 400 / 768, 0.15, "memory"),
    ],
)
def test_published_share(
    reference: Reference, form_id: str, published_percent: float, half_digit: float, source_id: str
) -> None:
    assert source_id in reference.sources
    share = describe_form(reference, form_id).moiety_share
    assert float(share or 0) * 100 == pytest.approx(published_percent, abs=half_digit)


@pytest.mark.parametrize(
    ("form_id", "least_percent", "purity"),
    [
        # Chinese feed-additive specification: least element at least purity (chem-s16, read).
        ("manganese-sulfate-monohydrate", "31.8", "0.98"),
        ("manganese-oxide", "76.6", "0.99"),
        ("manganese-chloride-tetrahydrate", "27.2", "0.98"),
        ("zinc-oxide", "76.3", "0.95"),
        ("zinc-sulfate-heptahydrate", "22.0", "0.973"),
        ("potassium-iodide", "74.9", "0.98"),
    ],
)
def test_a_legal_minimum_lies_just_below_the_share(
    reference: Reference, form_id: str, least_percent: str, purity: str
) -> None:
    share = describe_form(reference, form_id).moiety_share or Decimal(0)
    slack = share * Decimal(purity) * 100 - Decimal(least_percent)
    assert 0 <= slack < Decimal("0.15")


def test_calcium_ascorbate_pages_mean_the_anhydrous_salt(reference: Reference) -> None:
    # Supplement page, weak: 890 to 910 mg ascorbic acid per 1,000 mg (chem-s57, read).
    anhydrous = describe_form(reference, "calcium-ascorbate-anhydrous").moiety_share or Decimal(0)
    dihydrate = describe_form(reference, "calcium-ascorbate-dihydrate").moiety_share or Decimal(0)
    assert Decimal("0.890") <= anhydrous <= Decimal("0.910")
    assert not Decimal("0.890") <= dihydrate <= Decimal("0.910")


def test_sulfate_and_ash_of_the_stabilised_sulfates() -> None:
    """The formulas fit what the monographs allow (chem-s19 and chem-s20, read)."""
    with_potassium = molmass.Formula("C12H28Cl2K2N2O14S").mass
    with_sodium = molmass.Formula("C12H28Cl2N2Na2O14S").mass
    assert 15.5 <= 100 * molmass.Formula("SO4").mass / with_potassium <= 16.5
    assert 27 <= 100 * molmass.Formula("K2SO4").mass / with_potassium <= 29
    assert 22.5 <= 100 * molmass.Formula("Na2SO4").mass / with_sodium <= 26.0


@pytest.mark.parametrize(("complex_mg", "sulfate_mg"), [("628 mg", 500.0), ("1884 mg", 1500.0)])
def test_the_two_milligrams_of_a_sulfate_tablet(reference: Reference, complex_mg: str, sulfate_mg: float) -> None:
    # Irish summary of product characteristics: 628 mg complex = 500 mg glucosamine sulfate (chem-s24, read).
    found = convert(reference, "glucosamine-sulfate-2nacl", complex_mg, "glucosamine-sulfate-2to1")
    assert float(found.converted_mg or 0) == pytest.approx(sulfate_mg, rel=2e-4)


def test_sodium_in_that_tablet(reference: Reference) -> None:
    # The same text prints 50.6 mg sodium; the formula holds 50.4 (chem-s24, read).
    found = convert(reference, "glucosamine-sulfate-2nacl-as-sodium", "628 mg")
    assert float(found.converted_mg or 0) == pytest.approx(50.4, abs=0.05)
    assert float(found.converted_mg or 0) == pytest.approx(50.6, rel=0.005)


@pytest.mark.parametrize(
    ("form_id", "natural_mg", "synthetic_mg"),
    [
        # EU feed panel: 1 IU = 1 mg all-rac acetate = 0.74 mg RRR acetate = 0.67 mg RRR alcohol (chem-s10, read);
        # 1.10 IU per mg of the synthetic alcohol (chem-s11, cited).
        ("alpha-tocopheryl-acetate", 0.74, 1.0),
        ("alpha-tocopherol", 0.67, 1 / 1.10),
        # 1.21 IU per mg natural succinate (chem-s11, cited); 0.89 per mg synthetic, *from memory*.
        ("alpha-tocopheryl-acid-succinate", 1 / 1.21, 1 / 0.89),
    ],
)
def test_milligrams_in_one_unit_of_vitamin_e(
    reference: Reference, form_id: str, natural_mg: float, synthetic_mg: float
) -> None:
    found = convert(reference, form_id, "1 IU")
    assert float(found.amount_low_mg) == pytest.approx(natural_mg, abs=0.005)
    assert float(found.amount_high_mg) == pytest.approx(synthetic_mg, rel=1e-4)
    assert found.amount_mg is None


@pytest.mark.parametrize(
    ("form_id", "ester_iu_per_mg"),
    [("alpha-tocopheryl-acetate", 1.36), ("alpha-tocopheryl-acid-succinate", 1.21)],
)
def test_esters_of_vitamin_e_differ_by_their_mass_alone(
    reference: Reference, form_id: str, ester_iu_per_mg: float
) -> None:
    # 1.36 / 1.49 and 1.21 / 1.49 (chem-s11, cited) are the shares of alpha-tocopherol to 0.2 %.
    assert float(describe_form(reference, form_id).moiety_share or 0) == pytest.approx(ester_iu_per_mg / 1.49, rel=2e-3)


# Formulas of the materials whose content factor is molar arithmetic; atoms counted by hand.
FACTOR_FORMULAS = {
    "benzoates-sodium-benzoate-benzoic-acid": ("C7H5NaO2", "C7H6O2", 1),
    "fluoride-sodium-fluoride-fluoride-ion": ("NaF", "F", 1),
    "salt-sodium-sodium-chloride": ("Na", "NaCl", 1),
    "boron-boric-acid-boron": ("H3BO3", "B", 1),
    "boron-borax-decahydrate-boron": ("Na2B4O17H20", "B", 4),
    "iodine-potassium-iodide-iodine": ("KI", "I", 1),
    "iodine-potassium-iodate-iodine": ("KIO3", "I", 1),
    "iodine-calcium-iodate-iodine": ("CaI2O6", "I", 2),
    "zinc-oxide-zinc": ("ZnO", "Zn", 1),
    "zinc-sulfate-monohydrate-zinc": ("ZnSO5H2", "Zn", 1),
    "zinc-gluconate-zinc": ("C12H22O14Zn", "Zn", 1),
    "selenium-sodium-selenite-selenium": ("Na2SeO3", "Se", 1),
    "selenium-selenomethionine-selenium": ("C5H11NO2Se", "Se", 1),
    "copper-sulfate-pentahydrate-copper": ("CuSO9H10", "Cu", 1),
    "calcium-carbonate-calcium": ("CaCO3", "Ca", 1),
    "magnesium-oxide-magnesium": ("MgO", "Mg", 1),
    "magnesium-stearate-magnesium": ("C36H70MgO4", "Mg", 1),
}


@pytest.mark.parametrize("library", LIBRARIES)
@pytest.mark.parametrize("factor_id", FACTOR_FORMULAS)
def test_content_factors_that_are_molar_arithmetic(reference: Reference, factor_id: str, library: str) -> None:
    rows = {row.id: row for rows in reference.content_factors_of.values() for row in rows}
    whole, part, count = FACTOR_FORMULAS[factor_id]
    expected = count * _mass(library, part) / _mass(library, whole)
    # The factors are printed to three or four digits.
    assert float(rows[factor_id].value_low or 0) == pytest.approx(expected, rel=1e-3)


def test_every_factor_printed_as_a_fraction_is_checked(reference: Reference) -> None:
    fractions = {
        row.id
        for rows in reference.content_factors_of.values()
        for row in rows
        if row.unit in ("fraction", "g NaCl per g Na")
    }
    assert fractions == set(FACTOR_FORMULAS)
