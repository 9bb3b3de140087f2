"""Words and amounts in sentences."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.care.naming import name_of
from service.domain.care.wording import about, in_a_sentence, in_short, listed, milligrams, sentence, short_name
from tests.domain.care.making import REFERENCE, finding


def test_names_are_listed() -> None:
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert listed(["a", "b"], "or") == "a or b"


def test_sentences_begin_large_and_end_once() -> None:
    assert sentence("ask first") == "Ask first."
    assert sentence(" Is it? ") == "Is it?"
    assert sentence("Done.") == "Done."


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        ("750", "750", "750 mg"),
        # Three digits that stay inside: 1495.65 becomes 1500, 2233.11 becomes 2230.
        ("1495.65", "2233.11", "1500 to 2230 mg"),
        ("0.5", "0.5", "0.5 mg"),
        # Nothing of three digits lies between the two: the nearest to the lower end.
        ("100.1", "100.2", "100 mg"),
    ],
)
def test_amounts_keep_three_digits_inside_their_ends(low: str, high: str, text: str) -> None:
    assert milligrams(D(low), D(high)) == text


@pytest.mark.parametrize(
    ("name", "short"),
    [
        ("methylsulfonylmethane (MSM)", "MSM"),
        ("S-adenosylmethionine (SAMe)", "SAMe"),
        ("vitamin E (alpha-tocopherol)", "vitamin E"),
        ("EPA and DHA (marine omega-3)", "EPA and DHA"),
        ("carprofen", "carprofen"),
        ("vitamin D (D3, D2)", "vitamin D"),
    ],
)
def test_names_are_shortened(name: str, short: str) -> None:
    assert short_name(name) == short


def test_forms_inside_a_sentence() -> None:
    assert in_a_sentence("Glucosamine hydrochloride") == "glucosamine hydrochloride"
    assert in_a_sentence("EPA plus DHA, as labelled") == "EPA plus DHA"
    assert in_a_sentence("Chondroitin sulfate, as labelled (sodium salt, dried)") == "chondroitin sulfate"


def test_a_pair_is_named_before_what_can_happen() -> None:
    assert about(finding()) == "First herb with second medicine: Ulcer or bleeding."
    assert about(finding(kind="presentation", subject_names=("Chew",), effect="Tasty")) == "Chew: Tasty."


def test_other_findings_name_what_they_are_about_themselves() -> None:
    hazard = finding(kind="hazard", effect="Xylitol: none is harmless. Named as: birch sugar (0.5 g).")
    assert about(hazard) == "Xylitol: none is harmless. Named as: birch sugar (0.5 g)."
    assert in_short(hazard) == "Xylitol: none is harmless."
    assert in_short(finding(kind="over_limit", effect="up to 1.5 mg a day")) == "Up to 1.5 mg a day."


def test_names_of_ids() -> None:
    assert name_of(REFERENCE, "msm") == "methylsulfonylmethane (MSM)"
    assert name_of(REFERENCE, "carprofen") == "carprofen"
    assert name_of(REFERENCE, "xylitol") == REFERENCE.ingredients["xylitol"].name
    assert name_of(REFERENCE, "p1", {"p1": "Invented tablet"}) == "Invented tablet"
    assert name_of(REFERENCE, "daily_maximum") == "daily maximum"
