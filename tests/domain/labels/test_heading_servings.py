"""The serving and the size of a unit that a heading tells."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.laws import vanished_characters
from tests.domain.labels.reading import plain


@pytest.mark.parametrize(
    "heading",
    [
        "Par comprim\u00e9 de 2 g :", "Pro Tablette \u00e0 2 g:", "Por comprimido de 2 g:", "Per tablet of 2 g:",
        "Per 2 g tablet:", "Je 2-g-Tablette:", "Per tablet (2 g):", "Each 2 g tablet contains:",
        "Each tablet of 2 g contains:", "Amounts per tablet of 2 g", "(Per tablet of 2 g)",
    ],
)  # fmt: skip
def test_a_heading_with_a_size_ends_amounts_per_kilogram(reference: Reference, heading: str) -> None:
    text = f"Additives per kg: vitamin C 500 mg\n{heading}\nMSM 150 mg"
    answer = read_label(reference, text)
    assert [fact.name for fact in answer.facts] == ["vitamin C", "MSM"]
    assert answer.product.unit_mass_g == 2
    # 500 mg in 1,000 g are 1 mg in 2 g.
    assert plain([fact.mg_per_unit for fact in answer.facts]) == [1, 150]
    assert vanished_characters(text, answer) == []


@pytest.mark.parametrize(
    ("text", "units", "unit", "mass_g", "volume_ml"),
    [
        ("Per 4 g scoop", 1, "scoop", 4, None), ("Je 5-g-Portion:", None, None, 5, None),
        ("Per serving of 2 chews:", 2, "chew", None, None), ("Per fl oz (30 mL):", 30, "millilitre", None, 30),
        ("Each 5ml pump contains:", 1, "pump", None, 5), ("Per pump (5 ml):", 1, "pump", None, 5),
        ("1 pump (5 ml) contains:", 1, "pump", None, 5), ("Per 5 ml (1 pump):", 1, "pump", None, 5),
        ("Amount per serving (1 packet)", 1, "sachet", None, None), ("Per serving (5 g):", None, None, 5, None),
        ("Zutaten pro Tagesportion (1 Messl\u00f6ffel = 4 g):", 1, "scoop", 4, None),
        ("Feeding guide (1 level scoop = 5 g):", 1, "scoop", 5, None),
    ],
)  # fmt: skip
def test_a_serving_in_a_heading(
    reference: Reference, text: str, units: int | None, unit: str | None, mass_g: int | None, volume_ml: int | None
) -> None:
    answer = read_label(reference, f"{text}\nMSM 100 mg")
    found = answer.serving
    assert found is not None
    assert plain((found.units, found.unit, found.mass_g, found.volume_ml)) == (units, unit, mass_g, volume_ml)
    assert plain([(fact.name, fact.mg_per_serving) for fact in answer.facts]) == [("MSM", 100)]
    assert (answer.directions, answer.unread) == ((), ())


def test_the_volume_of_a_unit_counts_the_units_of_a_bottle(reference: Reference) -> None:
    # 500 ml in pumps of 5 ml are 100 pumps.
    answer = read_label(reference, "Per pump (5 ml):\nMSM 100 mg\n500 ml bottle")
    assert plain((answer.product.unit, answer.product.unit_count)) == ("pump", 100)


def test_two_sizes_of_one_unit_that_differ_are_told(reference: Reference) -> None:
    answer = read_label(reference, "Per tablet of 2 g: MSM 100 mg\nPer tablet (3 g): MSM 100 mg")
    assert answer.product.unit_mass_g == 2
    assert "label_inconsistent" in answer.flags
