"""From what a request names to what is screened."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.screening_answers import ScreenRequest
from service.domain.screening_subjects import read_labels, read_subjects
from service.reference.release import Reference
from tests.domain.screening_requests import product

DOG = Animal("dog", Decimal(10))


def test_places_tell_products_from_supplements(reference: Reference) -> None:
    request = ScreenRequest(DOG, products=(product("a"),), other_supplements=(product("b"),))
    assert [label.place for label in read_labels(reference, request)] == ["product:a", "supplement:b"]


def test_a_denied_name_is_a_statement_and_a_slip_only_possible(reference: Reference) -> None:
    found = read_subjects(reference, ScreenRequest(DOG, ingredients_text="xylitoll; no garlic"))
    assert [statement.negates for statement in found.statements] == [("garlic",)]
    assert [one.hazard for one in found.possible] == ["xylitol"]
    assert found.mentions == ()


def test_species_and_age_imply_conditions(reference: Reference) -> None:
    kitten = Animal("cat", Decimal(1), Decimal("0.5"))
    assert read_subjects(reference, ScreenRequest(kitten)).implied_conditions == ("species-cat", "growth")
    assert read_subjects(reference, ScreenRequest(DOG)).implied_conditions == ()


def test_a_sweetener_that_is_named_answers_the_class_word(reference: Reference) -> None:
    named = read_subjects(reference, ScreenRequest(DOG, ingredients_text="sweetener, erythritol"))
    assert "unspecified-sweetener" not in {mention.hazard for mention in named.mentions}
    bare = read_subjects(reference, ScreenRequest(DOG, ingredients_text="sweetener"))
    assert "unspecified-sweetener" in {mention.hazard for mention in bare.mentions}


def test_a_label_that_states_nothing_is_not_understood(reference: Reference) -> None:
    found = read_subjects(reference, ScreenRequest(DOG, products=(product("a", other=None),)))
    assert [(one.text, one.where) for one in found.unrecognised] == [("a", "product:a")]
