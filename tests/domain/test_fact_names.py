"""What a line of a facts panel counts: salts against base, sources, shares, blends.

Shares of glucosamine base by mass: hydrochloride 0.8309, sulfate with 2 KCl 0.5918, with 2 NaCl 0.6251, without
stabiliser 0.7851 (chem-s19 to chem-s24).
"""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.fact_names import FactReading, read_fact_name, with_stated_content
from service.reference.release import Reference


def _shares(reading: FactReading) -> tuple[str, str]:
    assert reading.share_low is not None
    assert reading.share_high is not None
    return str(round(reading.share_low, 4)), str(round(reading.share_high, 4))


HCL, SULFATE_2KCL, SULFATE_2NACL = (
    "glucosamine-hydrochloride",
    "glucosamine-sulfate-2kcl",
    "glucosamine-sulfate-2nacl",
)
OPEN = "ambiguous"
SALT_OR_BASE, NO_STABILISER = ("salt_or_base_ambiguous",), ("stabiliser_not_stated",)


@pytest.mark.parametrize(
    ("name", "form", "basis", "low", "high", "flags"),
    [
        # The salt is named first: the number is the salt.
        ("Glucosamine HCl", HCL, "salt", "0.8309", "0.8309", ()),
        ("Glucosamin-HCl", HCL, "salt", "0.8309", "0.8309", ()),
        ("Chlorhydrate de glucosamine", HCL, "salt", "0.8309", "0.8309", ()),
        ("Glucosamine HCl (min)", HCL, "salt", "0.8309", "0.8309", ()),
        ("Glucosamine HCl (99%)", HCL, "salt", "0.8309", "0.8309", ()),
        ("Glucosamine HCl (shellfish)", HCL, "salt", "0.8309", "0.8309", ()),
        ("D-Glucosamine sulfate 2KCl", SULFATE_2KCL, "salt", "0.5918", "0.5918", ()),
        ("Glucosamine Sulfate (2KCl)", SULFATE_2KCL, "salt", "0.5918", "0.5918", ()),
        ("Glucosamine sulfate sodium chloride complex", SULFATE_2NACL, "salt", "0.6251", "0.6251", ()),
        # A sulfate without its stabiliser: anything from the potassium complex to the bare sulfate.
        ("Glucosamine sulfate", "glucosamine-sulfate", "salt", "0.5918", "0.7851", NO_STABILISER),
        ("Glucosaminsulfat", "glucosamine-sulfate", "salt", "0.5918", "0.7851", NO_STABILISER),
        ("Glucosamine sulfate (as 2KCl)", SULFATE_2KCL, "salt", "0.5918", "0.7851", SALT_OR_BASE),
        # "500 mg sulfate, made from 628 mg with sodium chloride": the bare sulfate.
        ("Glucosamine sulfate (from 628 mg sulfate 2NaCl)", SULFATE_2NACL, "salt", "0.7851", "0.7851", ()),
        # "(as X)" leaves open whether the number counts the salt or the base.
        ("Glucosamine (as HCl)", HCL, OPEN, "0.8309", "1.0000", SALT_OR_BASE),
        ("Glucosamin (als Hydrochlorid)", HCL, OPEN, "0.8309", "1.0000", SALT_OR_BASE),
        ("Glucosamina (como clorhidrato)", HCL, OPEN, "0.8309", "1.0000", SALT_OR_BASE),
        ("Glucosamine (sous forme de chlorhydrate)", HCL, OPEN, "0.8309", "1.0000", SALT_OR_BASE),
        # "(from 600 mg HCl)" states the base itself.
        ("Glucosamine (from 600 mg HCl)", HCL, "base", "1", "1", ()),
        ("Glucosamine (from 602 mg glucosamine hydrochloride)", HCL, "base", "1", "1", ()),
        ("Glucosamine base", "glucosamine-base", "base", "1.0000", "1.0000", ()),
        ("Glucosamine (free base)", "glucosamine-base", "base", "1.0000", "1.0000", ()),
        # Nothing said: from the heaviest complex to the base.
        ("Glucosamine", "glucosamine-unspecified", OPEN, "0.5918", "1.0000", ("form_not_stated",)),
        # Two salts, split unknown: all of one or all of the other.
        ("Glucosamine (HCl & sulfate 2KCl)", None, OPEN, "0.5918", "0.8309", ("mixed_salts_split_unknown",)),
        ("EPA (as ethyl ester)", "epa-ethyl-ester", OPEN, "0.9151", "1", ("ester_or_acid_ambiguous",)),
        ("EPA ethyl ester", "epa-ethyl-ester", "salt", "0.9151", "0.9151", ()),
        ("Omega-3 (EPA + DHA)", "epa-dha", "base", "1.0000", "1.0000", ()),
        ("Total omega-3 fatty acids", "omega-3-total", OPEN, "0.0000", "1.0000", ("epa_dha_not_stated",)),
    ],
)
def test_actives(
    reference: Reference, name: str, form: str | None, basis: str, low: str, high: str, flags: tuple[str, ...]
) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.form.id if reading.form else None, reading.basis, reading.flags) == (form, basis, flags)
    assert [D(share) for share in _shares(reading)] == [D(low), D(high)]


@pytest.mark.parametrize(
    ("name", "form", "basis", "share"),
    [
        # A nutrient with its source in a bracket states itself.
        ("Zinc (as zinc gluconate)", "zinc-gluconate-unspecified-hydration", "element", "1"),
        ("Zinc (zinc oxide)", "zinc-oxide", "element", "1"),
        ("Zink (als Zinkgluconat)", "zinc-gluconate-unspecified-hydration", "element", "1"),
        ("Zinc (as gluconate)", "zinc-gluconate-unspecified-hydration", "element", "1"),
        ("Zinc (from zinc proteinate)", "zinc-proteinate", "element", "1"),
        ("Manganese (as manganese sulfate)", "manganese-sulfate-unspecified-hydration", "element", "1"),
        ("Vitamin C (as calcium ascorbate)", "calcium-ascorbate-unspecified-hydration", "base", "1"),
        ("Zn", "zinc-element", "element", "1"),
        ("Vitamin C", "ascorbic-acid", "base", "1"),
        # The compound named first is the compound, whatever the bracket adds.
        ("Zinc oxide", "zinc-oxide", "salt", "0.8034"),
        ("Zinc oxide (zinc)", "zinc-oxide", "salt", "0.8034"),
        ("Sodium ascorbate (vitamin C 100 mg)", "sodium-ascorbate", "salt", "0.8890"),
        ("Zinc sulfate (monohydrate)", "zinc-sulfate-monohydrate", "salt", "0.3643"),
        # A Roman number belongs to the name.
        ("Kupfer(II)-sulfat-Pentahydrat", "copper-sulfate-pentahydrate", "salt", "0.2545"),
        ("Calcium carbonate (oyster shell)", "calcium-carbonate", "salt", "0.4004"),
    ],
)
def test_nutrients(reference: Reference, name: str, form: str, basis: str, share: str) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.form and reading.form.id, reading.basis) == (form, basis)
    assert [D(one) for one in _shares(reading)] == [D(share), D(share)]


@pytest.mark.parametrize(
    "name",
    [
        "zinc methionine",
        "zinc chelate",
        "magnesium citrate",
        "iron glycinate",
        "Zinc proteinate",
        "selenium yeast",
        "3b607",
    ],
)
def test_a_compound_of_unknown_make_is_never_counted_as_the_element(reference: Reference, name: str) -> None:
    reading = read_fact_name(reference, name)
    assert reading.ingredient in ("zinc", "magnesium", "iron", "selenium")
    assert (reading.share_low, reading.share_high, reading.flags) == (None, None, ("no_fixed_formula",))


@pytest.mark.parametrize(
    ("name", "ingredient", "form"),
    [
        # The figure counts the extract; percentage, parts, plant part, fresh weight and ratio stand inside it.
        ("Boswellia serrata extract (65 % boswellic acids)", "boswellia-serrata", "boswellia-serrata-extract"),
        ("Boswellia serrata extract (boswellic acids)", "boswellia-serrata", "boswellia-serrata-extract"),
        ("Boswellia (AKBA 30%)", "boswellia-serrata", "boswellia-serrata-extract"),
        ("Turmeric root extract (95% curcuminoids)", "turmeric", "turmeric-extract"),
        ("Turmeric 10:1 extract", "turmeric", "turmeric-extract"),
        ("Turmeric (Curcuma longa)", "turmeric", "turmeric-powder"),
        ("Yucca schidigera (aerial parts)", "yucca", "yucca"),
        ("Green-lipped mussel (from 2,500 mg fresh)", "green-lipped-mussel", "green-lipped-mussel-powder"),
        ("MSM (providing 170 mg sulfur)", "msm", "msm"),
        ("Chondroitin (as chondroitin sulfate)", "chondroitin-sulfate", "chondroitin-sulfate"),
        ("Hyaluronic acid complex", "hyaluronic-acid", "hyaluronic-acid"),
    ],
)
def test_materials_count_as_labelled(reference: Reference, name: str, ingredient: str, form: str) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.ingredient, reading.form and reading.form.id) == (ingredient, form)
    assert (reading.share_low, reading.share_high) == (D(1), D(1))


@pytest.mark.parametrize(
    "name", ["Fish oil", "Krill oil (astaxanthin 50 mcg)", "Lachsöl", "seaweed meal", "Hemp extract"]
)
def test_a_source_is_credited_with_nothing(reference: Reference, name: str) -> None:
    reading = read_fact_name(reference, name)
    assert reading.ingredient is not None
    assert (reading.basis, reading.share_low, reading.stated_mg) == ("material", None, None)


@pytest.mark.parametrize(
    ("name", "mg", "moiety"),
    [
        ("Omega-3 (EPA 180 mg, DHA 120 mg)", "300", "EPA + DHA"),
        ("Omega-3-Fettsäuren (davon EPA 180 mg, DHA 120 mg)", "300", "EPA + DHA"),
        ("Salmon oil (providing EPA 90 mg, DHA 60 mg)", "150", "EPA + DHA"),
        ("Zinc proteinate (15 mg zinc)", "15", "zinc"),
        ("Full spectrum hemp extract (10 mg CBD)", "10", "cannabidiol"),
    ],
)
def test_a_bracket_that_states_the_content(reference: Reference, name: str, mg: str, moiety: str) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.stated_mg, reading.moiety, reading.flags) == ((D(mg), D(mg)), moiety, ("content_stated",))


def test_a_percentage_stands_in_where_there_is_no_formula(reference: Reference) -> None:
    reading = read_fact_name(reference, "Zinc proteinate (15 % Zn)")
    assert (reading.share_low, reading.share_high) == (D("0.15"), D("0.15"))
    # Where a formula exists, it counts.
    assert _shares(read_fact_name(reference, "Zinc picolinate (20 % zinc)")) == ("0.2112", "0.2112")


def test_a_stated_content_does_not_overrule_a_formula(reference: Reference) -> None:
    salt = read_fact_name(reference, "Glucosamine HCl")
    assert with_stated_content(reference, salt, "415 mg glucosamine base") == salt
    chelate = read_fact_name(reference, "zinc chelate")
    assert with_stated_content(reference, chelate, "from 15 mg zinc") == chelate
    assert with_stated_content(reference, read_fact_name(reference, "zorblaxin"), "15 mg zinc").stated_mg is None


@pytest.mark.parametrize(
    ("name", "members"),
    [
        ("Joint blend: glucosamine HCl, chondroitin sulfate, MSM", ["glucosamine", "chondroitin-sulfate", "msm"]),
        ("Proprietary Blend (glucosamine HCl, MSM)", ["glucosamine", "msm"]),
        ("Kräutermischung (Ingwer, Kurkuma)", ["ginger", "turmeric"]),
        ("Mélange (gingembre, curcuma)", ["ginger", "turmeric"]),
        ("Antioxidant blend (vitamin C 50 mg, zinc)", ["vitamin-c", "zinc"]),
        ("Proprietary blend", []),
        ("Joint Matrix", []),
        # One number for several substances is a blend as well.
        ("Glucosamine & Chondroitin", ["glucosamine", "chondroitin-sulfate"]),
        ("Glucosamine HCl / MSM", ["glucosamine", "msm"]),
        ("Vitamin D3 & K2", ["vitamin-d", "vitamin-k"]),
        ("Zinc and Copper", ["zinc", "copper"]),
        ("Glucosamine & zorblaxin", ["glucosamine", None]),
    ],
)
def test_blends_hide_their_members(reference: Reference, name: str, members: list[str | None]) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.ingredient, reading.form, reading.share_low) == (None, None, None)
    assert reading.flags == ("amount_hidden_in_blend",)
    assert [member.ingredient for member in reading.members] == members


@pytest.mark.parametrize("name", ["EPA and DHA", "DHA/EPA", "Avocado/soybean unsaponifiables", "Ginger root and stem"])
def test_one_substance_with_a_joining_word_is_no_blend(reference: Reference, name: str) -> None:
    assert read_fact_name(reference, name).ingredient is not None


def test_a_part_in_a_bracket_does_not_settle_the_whole(reference: Reference) -> None:
    reading = read_fact_name(reference, "Total omega-3 fatty acids (EPA)")
    assert (reading.form and reading.form.id, reading.flags) == ("omega-3-total", ("epa_dha_not_stated",))


@pytest.mark.parametrize("name", ["Collagen Type II (undenatured)", "Kollagen Typ II (nativ)"])
def test_a_recorded_name_that_reaches_into_the_bracket(reference: Reference, name: str) -> None:
    assert read_fact_name(reference, name).ingredient == "undenatured-type-ii-collagen"


def test_hazards_of_blends_and_brackets_are_kept(reference: Reference) -> None:
    blend = read_fact_name(reference, "Proprietary Blend (glucosamine HCl, xylitol)")
    assert [hazard.hazard for hazard in blend.hazards] == ["xylitol"]
    salt = read_fact_name(reference, "Glucosamine HCl (from shrimp shell)")
    assert [hazard.hazard for hazard in salt.hazards] == ["shellfish-chitin"]
    assert read_fact_name(reference, "Glucosamine HCl (no xylitol)").hazards == ()


def test_an_unknown_name_reads_as_nothing(reference: Reference) -> None:
    reading = read_fact_name(reference, "zorblaxin (extra)")
    assert (reading.ingredient, reading.form, reading.basis, reading.share_low) == (None, None, None, None)
    assert reading.resolution.match == "none"


@pytest.mark.parametrize(
    "name", ["", "()", "(", "Glucosamine (", "Glucosamine ()", "Glucosamine)(", "&", "* † ‡", "x" * 3000]
)
def test_odd_names_do_no_harm(reference: Reference, name: str) -> None:
    assert read_fact_name(reference, name).stated_mg is None


@pytest.mark.parametrize(
    "name",
    ["Vitamin E (3a700)", "3a700 Vitamin E", "Vitamin E 3a700", "Vitamin E (all-rac-alpha-tocopheryl acetate) 3a700",
     "Vitamin E/all-rac-alpha-Tocopherylacetat (3a700)"],
)  # fmt: skip
def test_a_feed_code_fixes_the_form_and_not_what_is_counted(reference: Reference, name: str) -> None:
    # 3a700 is the all-rac acetate (source chem-s12), of which 0.911 is alpha-tocopherol (430.71 / 472.75).
    reading = read_fact_name(reference, name)
    assert reading.form is not None
    assert reading.form.id == "alpha-tocopheryl-acetate"
    assert (reading.share_low, reading.share_high) == (D("0.911081"), D(1))
    assert (reading.basis, reading.flags) == ("ambiguous", ("salt_or_base_ambiguous",))


def test_a_feed_code_of_a_plain_vitamin_leaves_nothing_open(reference: Reference) -> None:
    assert read_fact_name(reference, "Vitamin D3 (3a671)").flags == ()
    assert read_fact_name(reference, "all-rac-alpha-Tocopherylacetat (3a700)").basis == "salt"


@pytest.mark.parametrize(
    "name", ["SAM-e (as S-adenosyl-L-methionine 1,4-butanedisulfonate)", "S-adenosyl-L-methionine butanedisulfonate"]
)
def test_sources_disagree_on_one_salt_of_same(reference: Reference, name: str) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.ingredient, reading.share_low, reading.flags) == (
        "s-adenosylmethionine",
        None,
        ("no_fixed_formula",),
    )
