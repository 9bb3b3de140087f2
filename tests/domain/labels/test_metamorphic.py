"""What must not change a reading: case, blanks, order of lines, units, language, typography.

The reading is the ingredient, the form and the mg. Units are restated by their definitions (ounce: source chem-s63).
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.labels.assembling import read_label
from service.reference.releases import load_working_tables
from tests.domain.labels.reading import plain, told

REFERENCE = load_working_tables()
OUNCE_MG = Decimal("28349.523125")

FACTS = (
    "Glucosamine HCl 500 mg", "Chondroitin sulfate 400 mg", "MSM 1,000 mg", "Vitamin D3 400 IU", "Biotin 300 mcg",
    "Green lipped mussel powder 250 mg", "Glucosamine sulfate 2KCl 750 mg", "Manganese (as manganese sulfate) 5 mg",
    "Vitamin E (d-alpha-tocopheryl acetate) 30 IU", "Crude protein 31.5 %", "Devil's claw extract 100 mg",
    "Hyaluronic acid 10 mg", "Zinc oxide 15 mg", "Glucosamine HCl not less than 500 mg", "Krill oil 500 mg",
)  # fmt: skip
some_facts = st.lists(st.sampled_from(FACTS), min_size=1, max_size=6, unique=True)


def _sorted(text: str) -> list[str]:
    return sorted(map(str, told(read_label(REFERENCE, text))))


@given(some_facts)
def test_upper_and_lower_case(facts: list[str]) -> None:
    text = "\n".join(facts)
    assert told(read_label(REFERENCE, text.upper())) == told(read_label(REFERENCE, text))
    assert told(read_label(REFERENCE, text.lower())) == told(read_label(REFERENCE, text))


@given(some_facts, st.integers(1, 4), st.sampled_from((" ", "\t", "\u00a0", "\u2009")))
def test_extra_blanks(facts: list[str], count: int, blank: str) -> None:
    text = "\n".join(facts)
    spaced = "\n".join(f"{blank * count}{fact.replace(' ', blank * count)}{blank * count}" for fact in facts)
    assert told(read_label(REFERENCE, spaced)) == told(read_label(REFERENCE, text))


@given(st.permutations(FACTS))
def test_order_of_lines(facts: list[str]) -> None:
    assert _sorted("\n".join(facts)) == _sorted("\n".join(FACTS))


@given(some_facts, st.sampled_from(("\n", "\r\n", "; ", "\n\n", " \u2022 ", " | ")))
def test_what_parts_the_facts(facts: list[str], between: str) -> None:
    assert told(read_label(REFERENCE, between.join(facts))) == told(read_label(REFERENCE, "\n".join(facts)))


@given(some_facts, st.sampled_from((": ", " - ", " \u2013 ", " ..... ", " = ", "  ", "\t", ", ")))
def test_what_parts_name_and_amount(facts: list[str], between: str) -> None:
    plain = [fact for fact in facts if "not less" not in fact]
    parted = [between.join(_name_and_amount(fact)) for fact in plain]
    assert told(read_label(REFERENCE, "\n".join(parted))) == told(read_label(REFERENCE, "\n".join(plain)))


@given(some_facts)
def test_the_amount_may_stand_first(facts: list[str]) -> None:
    plain = [fact for fact in facts if "not less" not in fact and "%" not in fact]
    turned = [" ".join(reversed(_name_and_amount(fact))) for fact in plain]
    assert told(read_label(REFERENCE, "\n".join(turned))) == told(read_label(REFERENCE, "\n".join(plain)))


def _name_and_amount(fact: str) -> tuple[str, str]:
    *name, number, unit = fact.split(" ")
    return " ".join(name), f"{number} {unit}"


@given(st.integers(1, 400))
def test_milligrams_micrograms_and_grams(milligrams: int) -> None:
    grams = Decimal(milligrams) / 1000
    readings = [
        told(read_label(REFERENCE, f"Glucosamine HCl {printed}"))
        for printed in (
            f"{milligrams} mg", f"{milligrams}mg", f"{milligrams} milligrams", f"{milligrams * 1000} mcg",
            f"{milligrams * 1000} \u00b5g", f"{milligrams * 1000} \u03bcg", f"{grams:f} g", f"{grams:f} grams",
            f"{milligrams} MG", f"{milligrams}.0 mg",
        )
    ]  # fmt: skip
    assert all(reading == readings[0] for reading in readings), readings
    assert readings[0][0][2] == milligrams


@given(st.integers(1, 40))
def test_ounces_and_grams_of_the_pack(ounces: int) -> None:
    in_ounces = read_label(REFERENCE, f"Net wt {ounces} oz").container
    in_grams = read_label(REFERENCE, f"Net wt {ounces * OUNCE_MG / 1000:.6f} g").container
    assert in_ounces is not None
    assert in_grams is not None
    assert float(in_ounces.net_g or 0) == pytest.approx(float(in_grams.net_g or 0), rel=1e-6)


@pytest.mark.parametrize(
    ("text", "restated"),
    [
        ("Glucosamine HCl 8000 mg/kg", "Glucosamine HCl 0.8 %"), ("Glucosamine HCl 8000 mg/kg",
        "Glucosamine HCl 8 g/kg"),
        ("Zinc oxide 40 ppm", "Zinc oxide 40 mg/kg"),
    ],
)  # fmt: skip
def test_shares_of_the_product(text: str, restated: str) -> None:
    one, other = (read_label(REFERENCE, f"{label}\nEach chew weighs 6 g").facts[0] for label in (text, restated))
    assert one.mg_per_unit is not None
    assert (one.mg_per_unit, one.mg_per_kg, one.form) == (other.mg_per_unit, other.mg_per_kg, other.form)


# One label in five languages: the same facts, serving, pack and hazards.
LANGUAGES = {
    "en": """Serving size: 2 tablets
Per tablet: glucosamine hydrochloride 1,000 mg, chondroitin sulfate 800 mg, fish oil 12.5 mg
Ingredients: cellulose, xylitol
Contents: 60 tablets""",
    "de": """Portionsgr\u00f6\u00dfe: 2 Tabletten
Pro Tablette: Glucosaminhydrochlorid 1.000 mg, Chondroitinsulfat 800 mg, Fisch\u00f6l 12,5 mg
Zusammensetzung: Cellulose, Xylit
Inhalt: 60 Tabletten""",
    "fr": """Portion : 2 comprim\u00e9s
Par comprim\u00e9 : chlorhydrate de glucosamine 1 000 mg, sulfate de chondro\u00eftine 800 mg, huile de poisson 12,5 mg
Composition : cellulose, xylitol
Contenu : 60 comprim\u00e9s""",
    "es": """Tama\u00f1o de la porci\u00f3n: 2 comprimidos
Por comprimido: clorhidrato de glucosamina 1.000 mg, sulfato de condroitina 800 mg, aceite de pescado 12,5 mg
Composici\u00f3n: celulosa, xilitol
Contenido: 60 comprimidos""",
    "it": """Porzione: 2 compresse
Per compressa: glucosamina cloridrato 1.000 mg, solfato di condroitina 800 mg, olio di pesce 12,5 mg
Composizione: cellulosa, xilitolo
Contenuto: 60 compresse""",
}


@pytest.mark.parametrize("language", [one for one in LANGUAGES if one != "en"])
def test_one_label_in_another_language(language: str) -> None:
    english, other = read_label(REFERENCE, LANGUAGES["en"]), read_label(REFERENCE, LANGUAGES[language])
    assert other.locale == language
    assert told(other) == told(english)
    assert [fact.mg_per_unit for fact in other.facts] == [1000, 800, Decimal("12.5")]
    assert [one.hazard for one in other.hazards] == [one.hazard for one in english.hazards] == ["xylitol"]
    assert other.product.unit_count == english.product.unit_count == 60
    assert other.serving is not None
    assert plain((other.serving.units, other.serving.unit)) == (2, "tablet")


@pytest.mark.parametrize(
    ("straight", "typographic"),
    [
        ("Devil's claw extract 100 mg", "Devil\u2019s claw extract 100 mg"),
        ("Omega-3 500 mg", "Omega\u20103 500 mg"), ("Omega-3 500 mg", "Omega\u20113 500 mg"),
        ("Omega-3 500 mg", "Omega\u22123 500 mg"), ("MSM - 500 mg", "MSM \u2013 500 mg"),
        ("MSM - 500 mg", "MSM \u2014 500 mg"), ("Calcium 10-14 mg", "Calcium 10\u201314 mg"),
        ("Biotin 300 \u00b5g", "Biotin 300 \u03bcg"), ("Biotin 300 mcg", "Biotin 300 \u00b5g"),
        ("MSM 1 500 mg", "MSM 1\u202f500\u00a0mg"), ("MSM 1 500 mg", "MSM 1\u2009500\u2009mg"),
        ("MSM 500 mg", "\uff2d\uff33\uff2d \uff15\uff10\uff10\uff4d\uff47"), ("MSM 500 mg", "MSM\u00ae 500 mg"),
        ("MSM 500 mg", "MSM\u2122 500\u200bmg"), ("Fish oil 500 mg", "\ufb01sh oil 500 mg"),
        ("MSM 0.5 mg", "MSM \u00bd mg"), ("MSM 2.5 mg", "MSM 2\u00bd mg"), ("MSM 500 mg", "MSM 500\u00b9 mg"),
        ("Vitamin E 10 mg/kg", "Vitamin E 10 mg\u2044kg"), ("MSM 500 mg", "M\u00adSM 500 mg"),
        ("Bacillus coagulans 5 x 10^8 CFU", "Bacillus coagulans 5 \u00d7 10\u2078 CFU"),
        ("Chondro\u00eftine 800 mg", "Chondroi\u0308tine 800 mg"), ("Hyaluronic acid 5 mg", "Hyalu-\nronic acid 5 mg"),
    ],
)  # fmt: skip
def test_typography(straight: str, typographic: str) -> None:
    one, other = read_label(REFERENCE, straight), read_label(REFERENCE, typographic)
    assert len(one.facts) == 1
    assert told(one) == told(other)
    assert [(fact.value, fact.unit, fact.mg_per_kg) for fact in one.facts] == [
        (fact.value, fact.unit, fact.mg_per_kg) for fact in other.facts
    ]


@given(some_facts)
def test_sentences_between_facts_change_no_fact(facts: list[str]) -> None:
    said = "\nSupports healthy joints.\n"
    assert told(read_label(REFERENCE, said.join(facts))) == told(read_label(REFERENCE, "\n".join(facts)))


@given(some_facts)
def test_a_fact_printed_twice_is_two_facts(facts: list[str]) -> None:
    once = told(read_label(REFERENCE, "\n".join(facts)))
    assert told(read_label(REFERENCE, "\n".join((*facts, *facts)))) == [*once, *once]
