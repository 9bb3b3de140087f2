"""What a frightened reader is told to do."""

from __future__ import annotations

import pytest

from service.reference.release import Reference
from tests.domain.exposure_requests import ask, codes

NOW = "Contact a veterinarian or an animal poison line now."


@pytest.mark.parametrize(
    ("substance", "amount", "species"),
    [
        ("caffeine", "200 mg", "dog"),
        ("caffeine", "450 mg", "dog"),
        ("caffeine", "2 g", "dog"),
        ("raisins", "1 g", "dog"),
        ("ibuprofen", "1 mg", "dog"),
        ("five-htp", "1 mg", "cat"),
    ],
)
def test_the_first_words_are_whom_to_contact(reference: Reference, substance: str, amount: str, species: str) -> None:
    assert ask(reference, substance, amount, species=species).action.startswith(NOW)


def test_nothing_is_to_be_tried_alone(reference: Reference) -> None:
    action = ask(reference, "dark chocolate", "100 g").action
    assert "Do not make the animal vomit" in action
    assert "Do not wait for signs" in action
    assert "Onset of signs, as published: 6-12 h" in action


def test_below_is_told_with_what_to_watch(reference: Reference) -> None:
    answer = ask(reference, "milk chocolate", "1 g")
    assert answer.action.startswith("Below the published thresholds does not mean harmless.")
    assert "if signs appear" in answer.action
    assert answer.signs == "vomiting, diarrhoea, thirst, restlessness"


def test_how_a_value_is_known_is_told(reference: Reference) -> None:
    assert "from_memory" in codes(ask(reference, "onion powder", "1 g"))
    assert "from_memory" not in codes(ask(reference, "milk chocolate", "1 g"))


def test_an_approximate_amount_and_a_concentrate_are_told(reference: Reference) -> None:
    assert "approximate" in codes(ask(reference, "milk chocolate", "about 50 g"))
    assert "concentrate" in codes(ask(reference, "guarana extract", "1 g"))
    assert "stomach_upset_possible" in codes(ask(reference, "iron", "50 mg"))
