"""What to watch for."""

from __future__ import annotations

from decimal import Decimal as D

from service.domain.care.answer import Told
from service.domain.care.watching import is_advice, watch_for
from service.domain.common import Animal
from service.domain.screening_answers import TakenAs
from tests.domain.care.making import DOG, REFERENCE, finding, given, note


def own(*findings: object) -> list[tuple[str, str]]:
    signs = watch_for(REFERENCE, findings, (), DOG)  # type: ignore[arg-type]
    return [(sign.text, sign.action) for sign in signs if not sign.general]


def test_a_pair_to_be_careful_with() -> None:
    assert own(finding()) == [("First herb with second medicine: Ulcer or bleeding.", "Ask first.")]
    assert own(finding(level="watch")) == own(finding())


def test_what_is_not_to_be_watched() -> None:
    assert own(finding(level="avoid")) == []
    assert own(finding(level="note")) == []
    assert own(finding(favourable=True)) == []
    assert own(finding(topic="duplication", level="watch")) == []
    assert own(finding(kind="duplicate", level="watch")) == []


def test_a_hazard_is_watched_by_its_recorded_signs_and_onset() -> None:
    # The row of the table of tiers: "low glucose, then liver injury possible", onset "15-60 min".
    hazard = finding(
        kind="hazard",
        level="avoid",
        effect="Xylitol: no amount is known to be harmless.",
        action="Contact a veterinarian now.",
        record_ids=("xylitol", "xylitol-dog-any-exposure-1"),
        subject_names=("xylitol",),
    )
    assert own(hazard) == [
        ("Xylitol: low glucose, then liver injury possible (onset 15-60 min).", "Contact a veterinarian now.")
    ]
    unknown = finding(kind="hazard", level="watch", effect="Something: it can harm.", record_ids=("no-such-row",))
    assert own(unknown) == [("Something: it can harm.", "Ask first.")]


def test_general_signs_are_common_practice_and_fit_the_species() -> None:
    for species, word in (("dog", "stairs"), ("cat", "jumping")):
        general = [sign for sign in watch_for(REFERENCE, (), (), Animal(species, D(4))) if sign.general]
        assert len(general) == 4
        assert {sign.origin for sign in general} == {"common_practice"}
        assert {sign.source_ids for sign in general} == {("common-practice",)}
        assert word in general[-1].text
    assert "common-practice" in REFERENCE.sources


def test_the_record_of_a_condition_tells_what_to_look_at() -> None:
    # Notes of the table: diabetes says what to watch, shellfish allergy only what it is.
    written = note(given("1"), conditions=("diabetes", "shellfish allergy"))
    signs = [
        (sign.text, sign.action, sign.source_ids)
        for sign in written.watch_for
        if sign.subjects == ("diabetes-mellitus",)
    ]
    assert signs == [
        (
            "With diabetes mellitus.",
            "Watch for changes in glucose control when any supplement starts or stops.",
            REFERENCE.conditions["diabetes-mellitus"].source_ids,
        )
    ]
    assert not [sign for sign in written.watch_for if sign.text == "With shellfish allergy."]
    assert is_advice("Mind sodium, potassium and magnesium")
    assert not is_advice("Crustaceans and molluscs are different allergens")


def test_a_word_that_names_no_condition_is_let_be() -> None:
    medicine = TakenAs("x", "conditions", "disease", "no-such-condition", "x", "name", "Watch it")
    assert [s for s in watch_for(REFERENCE, (), (Told("x", True, (medicine,)),), DOG) if not s.general] == []
