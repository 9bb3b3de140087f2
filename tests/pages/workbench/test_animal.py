"""Whom the answers are for, in a sentence."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.common import Animal
from service.pages.workbench.animal import animal_sentence


@pytest.mark.parametrize(
    ("animal", "medications", "conditions", "sentence"),
    [
        (Animal("dog", D("34.0194")), (), (), "For a dog of 34.02 kg."),
        (Animal("cat", D(4), D(1)), ("carprofen",), (), "For a cat of 4 kg, 1 year old, that takes carprofen."),
        (Animal("dog", D(9), D("2.5")), (), ("gout", "bloat"), "For a dog of 9 kg, 2.5 years old, with gout, bloat."),
        (None, ("carprofen",), (), ""),
        (Animal("dog"), (), (), ""),
    ],
)
def test_in_a_sentence(
    animal: Animal | None, medications: tuple[str, ...], conditions: tuple[str, ...], sentence: str
) -> None:
    assert animal_sentence(animal, medications, conditions) == sentence
