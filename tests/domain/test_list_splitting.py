"""Lists as printed, cut into items, and how far a denial carries over their commas."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.list_splitting import Item, split_list


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
        # A word broken at the end of a line stays one item, and so does one with a soft hyphen there.
        ("oats, xyl-\nitol, honey", ["oats", "xyl-itol", "honey"]),
        ("oats, alpha-\r\n lipoic acid", ["oats", "alpha-lipoic acid"]),
        ("oats, xyl\u00ad\nitol", ["oats", "xylitol"]),
        # A dash that begins the next line lists it.
        ("oats\n- honey", ["oats", "- honey"]),
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
        ("Does not contain: gluten, soy, xylitol", ["soy", "xylitol"]),
        ("Enth\u00e4lt kein: Soja, Xylit", ["Xylit"]),
        ("ne contient ni: soja, xylitol", ["xylitol"]),
        ("Vrij van gluten, soja en xylitol", ["soja en xylitol"]),
        ("Free from corn, soy and xylitol", ["soy and xylitol"]),
        ("sans gluten, sucre ou xylitol", ["sucre ou xylitol"]),
        # A colon behind anything else lists what is there.
        ("No fillers: xylitol, soy or honey", ["soy or honey"]),
        ("No corn, soy, with honey or xylitol", []),
        ("No. 40 red, soy or xylitol", []),
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


@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ("sweeteners (420, 967)", ["sweeteners", "E420", "E967"]),
        ("sweeteners: 420, 967, cellulose", ["sweeteners: 420", "E967", "cellulose"]),
        ("salt, 967", ["salt", "967"]),
    ],
)
def test_numbers_behind_a_class_of_additives(printed: str, expected: list[str]) -> None:
    assert [item.text for item in split_list(printed)] == expected


def test_a_warning_with_a_colon_reaches_to_the_end_of_its_sentence() -> None:
    items = split_list("Cellulose. May contain: nuts, xylitol. Garlic")
    assert [item.text for item in items if item.carried_trace] == ["xylitol"]
    assert [item.sentence for item in items] == [0, 1, 1, 2]
