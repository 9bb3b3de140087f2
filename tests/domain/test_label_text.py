"""Printed text made plain, cut into words and items; each oddity is one that labels really print."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.label_text import Item, clean, fold, split_list, words


@pytest.mark.parametrize(
    ("printed", "plain"),
    [
        ("500mg\u200b per\u00ad chew", "500mg per chew"),
        # A raised digit is a footnote; compatibility folding alone would make 5001 of it.
        ("500¹ mg", "500 mg"),
        ("MSM™ 500 mg†", "MSM 500 mg"),
        # After 10 it is an exponent and must not vanish.
        ("5×10⁸ CFU", "5×10^8 CFU"),
        ("2½ tsp", "2.5 tsp"),
        ("½ tablet", "0.5 tablet"),
        ("1 ¼ g", "1.25 g"),
        ("⅓ scoop", "0.3333 scoop"),
        ("ＭＳＭ ５００ｍｇ", "MSM 500mg"),
        # Micro sign and Greek mu are one letter afterwards.
        ("µg", "μg"),
    ],
)
def test_cleaning(printed: str, plain: str) -> None:
    assert clean(printed) == plain


@given(st.text(max_size=60))
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    assert clean(clean(clean(text))) == clean(clean(text))


@pytest.mark.parametrize(
    ("printed", "folded"),
    [("Méthylsulfonylméthane", "methylsulfonylmethane"), ("œuf", "oeuf"), ("SÜẞHOLZ", "sussholz"), ("cæcum", "caecum")],
)
def test_case_and_accents_do_not_tell_words_apart(printed: str, folded: str) -> None:
    assert fold(printed) == folded


@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ("E 967", ("e967",)),
        ("INS-967", ("e967",)),
        ("E967", ("e967",)),
        ("Sweetener (E967)", ("sweetener", "e967")),
        ("E450(i)", ("e450i",)),
        ("3a671", ("3a671",)),
        ("3b607 quelato de cinc", ("3b607", "quelato", "de", "cinc")),
        ("CAS 87-99-0", ("cas", "87-99-0")),
        ("Glucosamine HCl", ("glucosamine", "hydrochloride")),
        ("Glucosamine sulphate 2 KCl", ("glucosamine", "sulfate", "2kcl")),
        ("glucosamine sulfate·2KCl", ("glucosamine", "sulfate", "2kcl")),
        ("natural flavouring", ("natural", "flavoring")),
        ("Devil's claw", ("devils", "claw")),
        ("Devil’s claw", ("devils", "claw")),
        ("dl-α-tocopherol", ("dl", "alpha", "tocopherol")),
        ("N-Acetyl-D-glucosamine", ("n", "acetyl", "d", "glucosamine")),
        ("Glucosamin-HCl", ("glucosamin", "hydrochloride")),
        ("", ()),
    ],
)
def test_words(printed: str, expected: tuple[str, ...]) -> None:
    assert words(printed) == expected


@given(st.lists(st.sampled_from(["xylitol", "E967", "oat flour", "vitamin D3 (3a671)"]), min_size=1, max_size=6))
def test_every_item_of_a_plain_list_comes_back(names: list[str]) -> None:
    assert [item.text for item in split_list(", ".join(names))] == names


@pytest.mark.parametrize(
    ("printed", "texts"),
    [
        ("Ingredients: oats, honey.", ["oats", "honey"]),
        ("Other ingredients : oats; honey", ["oats", "honey"]),
        ("Zusammensetzung: Bierhefe, Glycerin", ["Bierhefe", "Glycerin"]),
        ("Composición: levadura\nglicerina", ["levadura", "glicerina"]),
        ("oats • honey | rice", ["oats", "honey", "rice"]),
        # A comma inside a number or a bracket separates nothing.
        ("moisture 8,5 %, oats", ["moisture 8,5 %", "oats"]),
        ("1,2-propanediol, oats", ["1,2-propanediol", "oats"]),
        ("preservative (E211), oats", ["preservative (E211)", "oats"]),
        # A bracket with several members is opened.
        ("vitamins (A, D3), oats", ["vitamins", "vitamin A", "vitamin D3", "oats"]),
        ("minerals (zinc (as oxide), iron)", ["minerals", "zinc (as oxide)", "iron"]),
        ("a sweetener [xylitol, stevia]", ["a sweetener", "xylitol", "stevia"]),
        # A full stop ends a sentence, an abbreviation does not.
        ("oats. Contains fish.", ["oats", "Contains fish"]),
        ("vit. D3, oats", ["vit. D3", "oats"]),
        ("oats,, ,honey,", ["oats", "honey"]),
        ("", []),
    ],
)
def test_splitting(printed: str, texts: list[str]) -> None:
    assert [item.text for item in split_list(printed)] == texts


def test_text_nested_deeper_than_any_label_stays_one_item() -> None:
    deep = "a (b, " * 50 + "c" + ")" * 50
    assert len(split_list(deep)) <= 10


@pytest.mark.parametrize(
    ("printed", "carried"),
    [
        ("contains no corn, soy or xylitol", ["soy or xylitol"]),
        ("No artificial flavors, colors, or xylitol", ["colors", "or xylitol"]),
        ("frei von Gluten, Soja oder Xylit", ["Soja oder Xylit"]),
        ("Free from: gluten, soy, xylitol", ["soy", "xylitol"]),
        # No "or": each item speaks for itself, and xylitol is reported.
        ("no corn, soy, xylitol", []),
        # It reaches the "or" and no further.
        ("free from gluten, soy or dairy, garlic powder", ["soy or dairy"]),
        # One item that denies, in the middle of a list, says nothing about the next.
        ("oats, no added salt, garlic powder, sunflower or canola oil", []),
        ("avoine, sans sucre ajouté, ail en poudre, huile de colza ou de tournesol", []),
        # The next sentence begins anew.
        ("contains no corn or soy. Garlic, honey or molasses", []),
    ],
)
def test_how_far_a_denial_reaches(printed: str, carried: list[str]) -> None:
    assert [item.text for item in split_list(printed) if item.carried_negation] == carried


def test_an_item_is_not_denied_unless_told() -> None:
    assert Item("xylitol") == Item("xylitol", carried_negation=False)
