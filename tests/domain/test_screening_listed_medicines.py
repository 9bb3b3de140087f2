"""Medicines that stand on a list of ingredients."""

from __future__ import annotations

import pytest

from service.domain.common import Animal
from service.domain.screening_answers import ScreenRequest, Unrecognised
from service.domain.screening_listed_medicines import listed_medicines, with_medicine_advice
from service.domain.screening_subjects import read_subjects
from service.reference.release import Reference
from tests.domain.screening_requests import ask


def test_a_listed_medicine_is_known_as_one(reference: Reference) -> None:
    subjects = read_subjects(reference, ScreenRequest(Animal("dog"), "fish oil, aspirin, hops"))
    assert set(listed_medicines(reference, subjects.mentions).values()) == {"aspirin"}


@pytest.mark.parametrize(
    ("text", "record"),
    [
        # Rows of the interaction notes: fish oil with aspirin, willow bark with any NSAID.
        ("fish oil, aspirin", "ix009"),
        ("willow bark, ibuprofen", "ix145"),
    ],
)
def test_the_records_on_the_medicine_are_found(reference: Reference, text: str, record: str) -> None:
    answer = ask(reference, text)
    assert record in {id_ for finding in answer.findings for id_ in finding.record_ids}
    assert "no_record" not in {gap.reason for gap in answer.not_assessed}


@pytest.mark.parametrize("name", ["fluoxetine", "tramadol", "warfarin"])
def test_an_unknown_ingredient_that_is_a_medicine_is_to_be_given_as_one(reference: Reference, name: str) -> None:
    (found,) = ask(reference, f"fish oil, {name}").unrecognised
    assert found.text == name
    assert "medications" in (found.advice or "")


def test_other_unknown_words_get_no_such_advice(reference: Reference) -> None:
    texts = (Unrecognised("zorblax", "ingredients_text", ()), Unrecognised("tramadol", "medications", ()))
    assert with_medicine_advice(reference, texts) == texts
