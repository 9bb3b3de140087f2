"""The mass of one unit."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import only_fact, plain


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [
        ("Tablet weight 2 g", 2), ("Tablet weight: 2000 mg", 2), ("each chew 4g", 4), ("1 chew weighs 4 g", 4),
        ("chew size 4 g", 4), ("Chew wt 4 g", 4), ("Weight per chew: 4 g", 4), ("Gewicht je Tablette 2 g", 2),
        ("Average chew weight: 3.5 g", 3.5), ("Weight of one tablet: 1500 mg", 1.5),
        ("Poids d'un comprim\u00e9 : 2 g", 2), ("Each soft chew is approximately 4 grams", 4),
    ],
)  # fmt: skip
def test_the_mass_of_a_unit_is_no_fact(reference: Reference, text: str, mass_g: float) -> None:
    answer = read_label(reference, text)
    assert (answer.facts, answer.serving, answer.unread) == ((), None, ())
    assert plain(answer.product.unit_mass_g) == mass_g


def test_it_ends_before_the_next_sentence(reference: Reference) -> None:
    answer = read_label(reference, "Per tablet\nMSM 150 mg\nTablet weight 2 g. 300 tablets.")
    assert [fact.name for fact in answer.facts] == ["MSM"]
    assert plain((answer.product.unit_mass_g, answer.product.unit_count)) == (2, 300)


def test_an_amount_of_a_substance_is_no_mass_of_a_unit(reference: Reference) -> None:
    assert read_label(reference, "Each capsule: 500 mg").product.unit_mass_g is None
    assert only_fact(reference, "Each tablet 2 g MSM").ingredient == "msm"
