"""Amounts that nothing could be held against are listed, never passed over."""

from __future__ import annotations

import pytest

from service.domain.screening import ScreenAnswer
from service.reference.release import Reference
from tests.domain.screening_requests import ask, hazards, product


def _open(answer: ScreenAnswer) -> set[str]:
    return {gap.a for gap in answer.not_assessed if gap.reason == "no_limit_recorded"}


@pytest.mark.parametrize(
    ("fact", "species", "kg", "ingredient"),
    [
        (("Salt", "8 g"), "cat", "4", "sodium-chloride"),
        (("Potassium chloride", "5 g"), "cat", "4", "potassium"),
        (("Magnesium", "5 g"), "dog", "5", "magnesium"),
        (("EPA + DHA", "1500 mg"), "cat", "4", "epa-dha"),
        (("MSM", "400 mg"), "dog", "10", "msm"),
    ],
)
def test_a_total_without_a_limit_is_listed(
    reference: Reference, fact: tuple[str, str], species: str, kg: str, ingredient: str
) -> None:
    assert _open(ask(reference, None, product("a", fact), species=species, kg=kg)) == {ingredient}


@pytest.mark.parametrize(
    "facts",
    [
        (("Zinc", "5 mg"),),
        (("EPA + DHA", "300 mg"),),
        # Compared with the highest recorded amount, and with thresholds.
        (("Glucosamine HCl", "500 mg"),),
        (("Alpha-lipoic acid", "10 mg"),),
        # Screened as EPA and DHA, of which the amounts are given; and potassium only comes along.
        (("Fish oil", "1000 mg"), ("EPA", "180 mg"), ("DHA", "120 mg")),
        (("Glucosamine sulfate 2KCl", "500 mg"),),
    ],
)
def test_what_was_compared_is_not(reference: Reference, facts: tuple[tuple[str, str], ...]) -> None:
    assert _open(ask(reference, None, product("a", *facts))) == set()


def test_without_a_weight_the_caution_tells(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("MSM", "400 mg")), kg=None)
    assert _open(answer) == set()
    assert "weight_not_given" in {caution.code for caution in answer.cautions}


def test_a_blend_that_hides_its_members_is_incomplete(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Glucosamine blend", "1.5 g")))
    assert (answer.verdict, answer.totals) == ("incomplete", ())
    assert [(one.text, one.where) for one in answer.unrecognised] == [("Glucosamine blend", "product:a")]
    assert "give the members" in (answer.unrecognised[0].advice or "")
    assert ("a", "Glucosamine blend", "amount_hidden_in_blend") in {
        (gap.a, gap.b, gap.reason) for gap in answer.not_assessed
    }


def test_a_blend_with_members_tells_whose_amount_is_hidden(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Proprietary blend (glucosamine, MSM)", "1.5 g")))
    assert answer.unrecognised == ()
    assert {gap.b for gap in answer.not_assessed if gap.reason == "amount_hidden_in_blend"} == {"glucosamine", "msm"}


@pytest.mark.parametrize(
    ("fact", "species", "kg", "hazard", "level"),
    [
        # 2,000 mg/kg: moderate signs in dogs from there on.
        (("Salt", "8 g"), "cat", "4", "salt", "veterinarian"),
        (("Potassium chloride", "5 g"), "cat", "4", "potassium", "veterinarian"),
        (("Magnesium", "5 g"), "dog", "5", "magnesium", "veterinarian"),
        (("Magnesium", "50 mg"), "dog", "10", "magnesium", "watch"),
        (("Copper", "0.2 mg"), "cat", "4", "copper", "note"),
        (("Glucosamine sulfate 2KCl", "500 mg"), "dog", "10", "potassium", "note"),
    ],
)
def test_a_known_amount_without_a_threshold(
    reference: Reference, fact: tuple[str, str], species: str, kg: str, hazard: str, level: str
) -> None:
    answer = ask(reference, None, product("a", fact), species=species, kg=kg)
    assert hazards(answer)[hazard] == level
