"""Every rule by which a note asks the veterinarian, and when it does not."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.common import Animal
from service.domain.products import LabelFact
from tests.domain.care.making import codes, given, in_phases, note, text_of, units

GLUCOSAMINE = LabelFact("Glucosamine HCl", "500 mg")
OIL = LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)")


def dog(age: str | None = "4", weight: str | None = "34") -> Animal:
    return Animal("dog", D(weight) if weight else None, D(age) if age else None)


def test_a_plain_note_asks_about_the_evidence_alone() -> None:
    # Fish oil in its range, whose evidence is supported, raises nothing at all.
    assert codes(note(given("1"))) == ["evidence"]
    assert codes(note(given("5", facts=(OIL,)))) == []


def test_what_must_not_be_given_comes_first() -> None:
    written = note(given("1", other_ingredients="birch sugar", facts=(LabelFact("Devil's claw", "150 mg"),)),
                   medications=("carprofen",))  # fmt: skip
    assert codes(written)[:2] == ["finding_avoid", "finding_veterinarian"]
    assert text_of(written, "finding_avoid").startswith("Must it be stopped? Xylitol:")
    assert text_of(written, "finding_veterinarian") == (
        "May it be given, and on what terms? Devil's claw with carprofen: Ulcer or bleeding."
    )
    assert written.questions[0].subjects == ("xylitol",)
    assert written.questions[0].source_ids


def test_an_amount_above_a_maximum_asks_whether_it_is_meant() -> None:
    written = note(in_phases(units("12"), facts=(OIL,)))
    assert text_of(written, "finding_veterinarian").startswith("Is this amount meant? EPA and DHA")


def test_what_was_not_understood_is_asked_for_by_place() -> None:
    written = note(
        given("1", other_ingredients="cellulose, zorbex"), medications=("nosuchpill",), conditions=("zz syndrome",)
    )
    texts = [question.text for question in written.questions if question.code == "not_understood"]
    assert sorted(texts) == [
        "Not understood as a condition: \u201czz syndrome\u201d. What is it, and does it change what may be given?",
        "Not understood as a medicine: \u201cnosuchpill\u201d. What is it, and does it change what may be given?",
        "Not understood on the label of Invented tablet: \u201czorbex\u201d. Can it harm this animal?",
    ]


def test_amounts_hidden_in_a_blend() -> None:
    written = note(given("1", facts=(LabelFact("Joint blend: glucosamine HCl, MSM", "900 mg"),)))
    assert text_of(written, "amount_hidden") == (
        "How much glucosamine and MSM is in Invented tablet? A blend on its label hides the amounts."
    )


def test_an_open_form_asks_with_both_readings() -> None:
    # 887.7 to 1500 mg, to three digits inside.
    written = note(given("0.5", facts=(LabelFact("Glucosamine", "1500 mg"),)))
    assert text_of(written, "form_open") == (
        "Which form of glucosamine is in Invented tablet? Its label leaves 888 to 1500 mg of glucosamine per tablet."
    )


def test_missing_figures() -> None:
    assert text_of(note(given(None)), "units_not_told") == (
        "How much of Invented tablet is to be given a day? Its carer has not said."
    )
    assert "weight_not_told" in codes(note(animal=dog(weight=None)))
    assert "age_not_told" in codes(note(animal=dog(age=None)))


def test_amounts_above_guidance_are_asked_about_once() -> None:
    # 5 x 500 = 2500 mg are above loading (1000 to 2000), 3 x 500 = 1500 above maintenance (500 to 1000), open-ended.
    written = note(in_phases(units("5", weeks=4), units("3")))
    assert text_of(written, "above_guidance") == (
        "Is so much glucosamine meant? A day, counted as glucosamine hydrochloride: 2500 mg, above 1000 to 2000 mg "
        "(loading), then 1500 mg, above 500 to 1000 mg (maintenance); no end is told."
    )
    ended = note(in_phases(units("3", weeks=10)))
    assert text_of(ended, "above_guidance").endswith("1500 mg, above 500 to 1000 mg (maintenance).")
    hidden = LabelFact("Joint blend: glucosamine HCl, MSM", "900 mg")
    assert "at least 1500 mg" in text_of(note(given("3", facts=(GLUCOSAMINE, hidden))), "above_guidance")


@pytest.mark.parametrize("per_day", ["0.5", "1", "2"])
def test_amounts_below_or_within_are_not(per_day: str) -> None:
    assert "above_guidance" not in codes(note(given(per_day)))


@pytest.mark.parametrize(
    ("species", "age", "code"),
    [
        ("dog", "0.9", "young_animal"),
        ("dog", "1", None),
        ("dog", "5.9", None),
        # From six years, the earliest age of the list of source insur.
        ("dog", "6", "senior_animal"),
        ("cat", "9.9", None),
        # From ten years in cats: common practice.
        ("cat", "10", "senior_animal"),
        ("cat", "0.5", "young_animal"),
    ],
)
def test_age(species: str, age: str, code: str | None) -> None:
    weight = D(34) if species == "dog" else D(4)
    asked = {"young_animal", "senior_animal"} & {*codes(note(animal=Animal(species, weight, D(age))))}
    assert asked == ({code} if code else set())


def test_evidence_is_asked_about_in_one_question() -> None:
    facts = (GLUCOSAMINE, LabelFact("MSM", "400 mg"), LabelFact("Devil's claw", "480 mg"), OIL)
    written = note(given("1", facts=facts))
    assert text_of(written, "evidence") == (
        "Is it worth going on with, and by what is that to be judged? On record, the evidence is against glucosamine; "
        "the evidence for devil's claw is weak; MSM was not tested alone."
    )


def test_what_keeps_an_oil_fresh_is_not_asked_about() -> None:
    written = note(given("5", facts=(OIL, LabelFact("Vitamin E", "5 mg"))))
    assert {"evidence", "no_guidance"} & {*codes(written)} == set()


def test_a_cat_is_asked_about_amounts_and_time() -> None:
    written = note(animal=Animal("cat", D(4), D(4)))
    assert (
        text_of(written, "no_guidance")
        == "Which amount is right? This release holds none for this animal of glucosamine."
    )
    assert "no_reassessment" in codes(written)


def test_pairs_without_a_record_are_said_together() -> None:
    facts = (GLUCOSAMINE, LabelFact("MSM", "400 mg"))
    written = note(given("1", facts=facts), medications=("carprofen",), conditions=("shellfish allergy",))
    # On record are glucosamine and shellfish allergy (ix037), nothing else of the four pairs.
    assert text_of(written, "no_record") == (
        "Is anything known against these? No record of this release speaks of glucosamine with carprofen; "
        "MSM with carprofen and shellfish allergy."
    )


def test_what_it_is_given_for_is_no_gap() -> None:
    assert "no_record" not in codes(note(given("1"), conditions=("osteoarthritis",)))


def test_the_carers_own_questions_come_last_as_told() -> None:
    written = note(given("1"), questions=("Shall we go on?", "Shall we go on?"))
    assert [(one.code, one.asked_by, one.text) for one in written.questions[-2:]] == [
        ("own", "carer", "Shall we go on?")
    ] * 2
