"""Printed text made plain, cut into words and items; each oddity is one that labels really print."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.label_text import clean, fold, words


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


@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ("E\u2013967", ("e967",)),
        ("Sweetener 967", ("sweetener", "e967")),
        ("sweeteners (420, 967)", ("sweeteners", "e420", "e967")),
        ("Preservatives 202 and 211", ("preservatives", "e202", "and", "e211")),
        # An amount is none, and neither is a number of something else.
        ("antioxidant 500 mg", ("antioxidant", "500", "mg")),
        ("Vitamin C 500", ("vitamin", "c", "500")),
    ],
)
def test_numbers_of_a_class_of_additives_are_codes(printed: str, expected: tuple[str, ...]) -> None:
    assert words(printed) == expected
