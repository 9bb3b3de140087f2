"""Codes of additives in all the ways that labels print them."""

from __future__ import annotations

import pytest

from service.domain.additive_codes import bare_codes, ends_with_code, names_additive_class, with_codes
from service.domain.label_text import fold, words
from service.domain.resolving import resolver_for
from service.reference.release import Reference


@pytest.mark.parametrize(
    "printed",
    [
        "E-Nr. 967",
        "E-Nr.: 967",
        "E n\u00b0 967",
        "E-Nummer 967",
        "E number 967",
        "SIN 967",
        "INS No. 967",
        "e967(i)",
        "Zusatzstoff Nr. 967",
        "S\u00fc\u00dfungsmittel (E-Nr. 967)",
        "Feuchthaltemittel: 967",
        "humectant 967",
        "additive 967",
        "INS 955, 967",
        "E-Nummern 965, 967",
        "E 965-967",
        "E965 to E967",
        "E 966-968",
    ],
)
def test_xylitol_by_its_number(reference: Reference, printed: str) -> None:
    items = resolver_for(reference).resolve_list(printed)
    assert "xylitol" in {meaning.hazard for item in items for meaning in item.resolution.meanings}


@pytest.mark.parametrize("printed", ["Nr. 967", "Nr", "glucosamine 967 mg", "INS 955, 967 mg MSM", "sin 967 g"])
def test_numbers_that_are_no_codes(reference: Reference, printed: str) -> None:
    items = resolver_for(reference).resolve_list(printed)
    named = {meaning.ingredient for item in items for meaning in item.resolution.meanings}
    assert named.isdisjoint({"xylitol", "vitamin-b3"})


@pytest.mark.parametrize(
    ("folded", "expected"),
    [
        ("e 965-967", "e965 and e966 and e967"),
        # A wide range names its ends.
        ("e 900-967", "e900 and e967"),
        ("e 955, 967.", "e955 , e967 ."),
        ("vitamin e 400 iu", "vitamin e 400 iu"),
        ("e 955, 500 mg", "e955 , 500 mg"),
    ],
)
def test_runs_of_codes(folded: str, expected: str) -> None:
    assert with_codes(folded).split() == expected.split()


@pytest.mark.parametrize(
    ("text", "class_before", "code"),
    [
        ("(967)", False, "E967"),
        ("967", True, "E967"),
        ("Nr. 967", True, "E967"),
        ("967", False, None),
        ("(40)", False, None),
        ("967 g", True, None),
    ],
)
def test_a_number_alone(text: str, class_before: bool, code: str | None) -> None:
    assert bare_codes(fold(text), class_before) == code


def test_a_class_of_additives() -> None:
    assert names_additive_class(fold("S\u00fc\u00dfungsmittel"))
    assert not names_additive_class("cellulose")


@pytest.mark.parametrize(("text", "ends"), [("ins 955", True), ("sweetener (e955)", True), ("955", False)])
def test_an_item_that_ends_with_a_code(text: str, ends: bool) -> None:
    assert ends_with_code(text) is ends


def test_a_vitamin_is_no_code() -> None:
    assert words("Vitamin E 400 IU") == ("vitamin", "e", "400", "iu")
