"""Names of medicines and conditions, and plants of which only the name is known."""

from __future__ import annotations

import pytest

from service.domain.screening_names import (
    denied,
    fold_name,
    key_of,
    longest_name,
    name_words,
    nearest_names,
    parts_of,
    to_suggest,
)
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product


@pytest.mark.parametrize(
    ("text", "medicine"),
    [
        ("Carprofen 50 mg", "carprofen"),
        ("carprofen 50mg twice daily", "carprofen"),
        ("Meloxicam 1.5 mg/ml", "meloxicam"),
        ("Meloxicam oral suspension, 0.5 mg/ml", "meloxicam"),
        ("Fluoxetine 20 mg tablets", "fluoxetine"),
        ("low dose aspirin", "aspirin"),
        ("prednisolone (oral)", "prednisolone"),
        ("tramadol hydrochloride", "tramadol"),
        ("gabapentin 100mg capsules q8h", "gabapentin"),
        ("potassium bromide 250 mg", "potassium-bromide"),
        ("NSAID tablets", "nsaid"),
    ],
)
def test_strength_and_shape_are_no_part_of_a_name(reference: Reference, text: str, medicine: str) -> None:
    answer = ask(reference, "MSM", medications=(text,))
    found = [one for one in answer.recognised if one.where == "medications"]
    assert [(one.text, one.id) for one in found] == [(text, medicine)]
    assert answer.unrecognised == ()


@pytest.mark.parametrize(
    "text", ["carpro", "prednis", "invented brand 50 mg", "50 mg", "tablets", "aspirin-like thing"]
)
def test_nothing_is_guessed_from_a_part(reference: Reference, text: str) -> None:
    answer = ask(reference, "MSM", medications=(text,))
    assert [one.text for one in answer.unrecognised] == [text]
    assert "medicine_not_recognised" in {caution.code for caution in answer.cautions}
    assert answer.verdict == "incomplete"


@pytest.mark.parametrize("text", ["-", "none", "None", "n/a", "nil", "--", "keine"])
def test_no_medicine_is_a_statement(reference: Reference, text: str) -> None:
    answer = ask(reference, "MSM", medications=(text,), conditions=(text,))
    assert answer.unrecognised == ()
    assert [(one.text, one.where, one.negates) for one in answer.statements] == [
        (text, "medications", ()),
        (text, "conditions", ()),
    ]
    assert answer.verdict == "nothing_found"


def test_a_scrap_suggests_nothing(reference: Reference) -> None:
    answer = ask(reference, "MSM", medications=("zz", "5 mg"), conditions=("x",))
    assert {one.nearest for one in answer.unrecognised} == {()}


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("arthritis", "osteoarthritis"),
        ("DJD", "osteoarthritis"),
        ("degenerative joint disease", "osteoarthritis"),
        ("Arthrose", "osteoarthritis"),
        ("hip dysplasia", "hip-dysplasia"),
        ("elbow dysplasia", "hip-dysplasia"),
        ("cruciate rupture", "cruciate-disease"),
        ("Cushing\u2019s disease", "hyperadrenocorticism"),
        ("Cushings", "hyperadrenocorticism"),
        ("heart murmur", "heart-murmur"),
        ("atopic dermatitis", "atopic-dermatitis"),
        ("hypothyroid", "hypothyroidism"),
        ("diarrhea", "enteropathy"),
        ("diarrhoea", "enteropathy"),
        ("struvite", "struvite-stones"),
        ("Niereninsuffizienz", "kidney-disease"),
        ("insuffisance r\u00e9nale", "kidney-disease"),
        ("insuffisance renale", "kidney-disease"),
        ("insuficiencia renal", "kidney-disease"),
        ("Epilepsie", "epilepsy"),
        ("\u00e9pilepsie", "epilepsy"),
        ("Zuckerkrankheit", "diabetes-mellitus"),
        ("diab\u00e8te", "diabetes-mellitus"),
    ],
)
def test_conditions_in_plain_words(reference: Reference, text: str, condition: str) -> None:
    answer = ask(reference, "MSM", conditions=(text,))
    assert [one.id for one in answer.recognised if one.where == "conditions"] == [condition]


def test_a_dog_is_no_cat(reference: Reference) -> None:
    for text in ("cat", "species-cat", "feline"):
        answer = ask(reference, "garlic", conditions=(text,))
        assert [(one.text, one.nearest) for one in answer.unrecognised] == [(text, ())]
        assert of_kind(answer, "condition") == []
    assert ask(reference, "MSM", species="cat", conditions=("Greyhound",)).unrecognised != ()
    assert ask(reference, "MSM", species="cat", conditions=("cat",)).unrecognised == ()


def test_several_medicines_are_not_compared(reference: Reference) -> None:
    codes = [
        {caution.code for caution in ask(reference, "MSM", medications=given).cautions}
        for given in (("carprofen",), ("carprofen", "prednisolone"), ("carprofen", "nsaid"))
    ]
    assert ["medicines_not_compared" in one for one in codes] == [False, True, True]


def test_every_screen_says_where_spellings_come_from(reference: Reference) -> None:
    caution = next(one for one in ask(reference, "MSM").cautions if one.code == "names_from_memory")
    assert caution.level == "info"


@pytest.mark.parametrize("text", ["astragalus", "Passionflower extract", "lemon balm", "reishi"])
def test_a_plant_known_by_name_only_leaves_a_screen_incomplete(reference: Reference, text: str) -> None:
    answer = ask(reference, f"MSM, {text}", medications=("levothyroxine",), conditions=("epilepsy",))
    assert answer.verdict == "incomplete"
    assert [(one.text, one.nearest) for one in answer.unrecognised] == [(text, ())]
    assert {(gap.a, gap.b) for gap in answer.not_assessed if gap.reason == "recognised_by_name_only"} == {
        (text, "levothyroxine"),
        (text, "epilepsy"),
    }


def test_on_a_facts_panel_too(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Ashwagandha", "100 mg")))
    assert [(one.text, one.where) for one in answer.unrecognised] == [("Ashwagandha", "product:p")]


def test_ordinary_food_stays_recognised(reference: Reference) -> None:
    answer = ask(reference, "carrots, blueberries, chicken, sunflower oil, rice flour, parsley, chamomile")
    assert answer.unrecognised == ()
    assert answer.verdict == "nothing_found"


def test_words_parts_and_keys() -> None:
    assert fold_name("  Cushing\u2019s-Syndrome\u00a0 D\u00c9 ") == "cushings syndrome de"
    assert name_words("Amoxicillin/clavulanic acid (250 mg).") == ("amoxicillin", "clavulanic", "acid", "250", "mg")
    assert key_of(("sodium", "warfarin")) == key_of(("warfarin", "sodium"))
    assert parts_of("kidney disease and a weak heart") == ("kidney disease", "a weak heart")
    assert parts_of("kidney disease") == ()
    assert parts_of("a, " * 13) == ()
    assert denied("no heart trouble") == "heart trouble"
    assert denied("nobody") is None


def test_the_longest_name_wins_and_nothing_else_may_stand_beside() -> None:
    names = {key_of(("in", "pup")): "pregnancy", "pup": "growth"}
    assert longest_name(names, ("in", "pup", "known"), {"known", "in"}.__contains__) == "pregnancy"
    assert longest_name(names, ("pup", "known"), {"known"}.__contains__) == "growth"
    assert longest_name(names, ("pup", "food"), {"known"}.__contains__) is None
    assert longest_name(names, (), {"known"}.__contains__) is None


def test_suggestions_name_each_thing_once() -> None:
    known = to_suggest((("carprofen", "carprofen"), ("carprof\u00e8ne", "carprofen"), ("ASA", "aspirin")))
    assert nearest_names("carprofn", known, 70) == ("carprofen",)
    assert nearest_names("as", known, 10) == ()
    assert nearest_names("zzyzx blorb", known, 70) == ()
