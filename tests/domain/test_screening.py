"""The verdict, what is listed beside it, and the cautions."""

from __future__ import annotations

import pytest

from service.domain.errors import InvalidInput
from service.domain.screening_answers import LEVELS
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product


def _codes(reference: Reference, text: str, species: str = "dog") -> set[str]:
    return {caution.code for caution in ask(reference, text, species=species).cautions}


@pytest.mark.parametrize(
    ("text", "medicines", "verdict"),
    [
        ("MSM", (), "nothing_found"),
        ("MSM, moonflower resin", (), "incomplete"),
        ("MSM, moonflower resin, cocoa powder", (), "ask_veterinarian"),
        ("MSM, moonflower resin, cocoa powder, xylitol", (), "stop"),
        ("MSM, moonflower resin", ("warfarin",), "incomplete"),
        ("glucosamine, moonflower resin", ("warfarin",), "ask_veterinarian"),
        ("five unknown words in a row", (), "incomplete"),
    ],
)
def test_precedence(reference: Reference, text: str, medicines: tuple[str, ...], verdict: str) -> None:
    assert ask(reference, text, medications=medicines).verdict == verdict


@pytest.mark.parametrize("text", [None, "", "   ", " , ; "])
def test_nothing_to_screen_is_refused(reference: Reference, text: str | None) -> None:
    with pytest.raises(InvalidInput) as caught:
        ask(reference, text, medications=("carprofen",))
    assert caught.value.issues[0].where == "ingredients_text"


def test_a_product_that_states_nothing_is_not_screened(reference: Reference) -> None:
    answer = ask(reference, None, product("p1", other=None))
    assert answer.verdict == "incomplete"
    assert [(one.text, one.where) for one in answer.unrecognised] == [("p1", "product:p1")]


def test_facts_without_the_rest_of_the_list_are_cautioned(reference: Reference) -> None:
    answer = ask(reference, None, product("p1", ("MSM", "400 mg"), other=None))
    assert "other_ingredients_not_given" in {caution.code for caution in answer.cautions}


def test_an_amount_that_cannot_be_read_names_its_place(reference: Reference) -> None:
    with pytest.raises(InvalidInput) as caught:
        ask(reference, "MSM", product("a", ("MSM", "400 mg")), product("b", ("MSM", "lots")))
    assert caught.value.issues[0].where.startswith("products/1/facts/0")


def test_places_tell_products_from_supplements(reference: Reference) -> None:
    answer = ask(
        reference, "cellulose", product("a", ("MSM", "1 mg"), other=None), supplements=(product("a", other="yucca"),)
    )
    assert [(one.id, one.where) for one in answer.recognised] == [
        ("cellulose", "ingredients_text"),
        ("msm", "product:a"),
        ("yucca", "supplement:a"),
    ]


def test_recognised_kinds(reference: Reference) -> None:
    answer = ask(
        reference, "cocoa powder", medications=("Carprofen", "nsaid"), conditions=("Greyhound",), age_years="0.5"
    )
    assert [(one.text, one.kind, one.id, one.where) for one in answer.recognised] == [
        ("cocoa powder", "hazard", "cocoa", "ingredients_text"),
        ("Carprofen", "medication", "carprofen", "medications"),
        ("nsaid", "drug_class", "nsaid", "medications"),
        ("Greyhound", "condition", "sighthound", "conditions"),
        ("age under one year", "condition", "growth", "animal"),
    ]


@pytest.mark.parametrize("name", ["carprofen", "CARPROFEN ", "acetylsalicylic acid", "Addison\u2019s disease"])
def test_names_are_folded(reference: Reference, name: str) -> None:
    if "disease" in name:
        assert ask(reference, "MSM", conditions=(name,)).unrecognised == ()
    else:
        assert ask(reference, "MSM", medications=(name,)).unrecognised == ()


def test_a_medicine_is_never_guessed(reference: Reference) -> None:
    answer = ask(reference, "MSM", medications=("carprofenn", "inventazole"))
    assert [one.text for one in answer.unrecognised] == ["carprofenn", "inventazole"]
    assert "carprofen" in answer.unrecognised[0].nearest
    assert of_kind(answer, "interaction") == []
    assert answer.verdict == "incomplete"


def test_an_unknown_condition_is_listed(reference: Reference) -> None:
    answer = ask(reference, "MSM", conditions=("epilepsie-ish",))
    assert [(one.text, one.where) for one in answer.unrecognised] == [("epilepsie-ish", "conditions")]


def test_partly_understood_items_are_listed_too(reference: Reference) -> None:
    answer = ask(reference, "glucosamine moonflower")
    assert [one.id for one in answer.recognised] == ["glucosamine"]
    assert [one.text for one in answer.unrecognised] == ["glucosamine moonflower"]


def test_a_false_friend_is_understood_and_nothing_more(reference: Reference) -> None:
    answer = ask(reference, "caffeic acid, birch bark extract")
    assert [(one.text, one.kind, one.id) for one in answer.recognised] == [
        ("caffeic acid", "other", None),
        ("birch bark extract", "ingredient", "birch"),
    ]
    assert of_kind(answer, "hazard") == []
    assert answer.verdict == "nothing_found"


def test_standing_cautions(reference: Reference) -> None:
    assert _codes(reference, "MSM") >= {"levels_not_reviewed", "absence_is_not_evidence"}
    assert "little_evidence_in_cats" not in _codes(reference, "MSM")
    assert "little_evidence_in_cats" in _codes(reference, "MSM", "cat")


def test_a_medicine_of_another_species_is_cautioned(reference: Reference) -> None:
    answer = ask(reference, "MSM", medications=("ibuprofen",))
    assert "medicine_not_listed_for_species" in {caution.code for caution in answer.cautions}


def test_findings_come_highest_level_first(reference: Reference) -> None:
    answer = ask(reference, "xylitol, cocoa powder, sorbitol, calcium", medications=("levothyroxine",))
    ranks = [LEVELS.index(finding.level) for finding in answer.findings]
    assert ranks == sorted(ranks, reverse=True)


def test_the_order_of_products_does_not_matter(reference: Reference) -> None:
    one, other = product("a", ("MSM", "400 mg"), other="xylitol"), product("b", ("Caffeine", "90 mg"), other="cocoa")
    first, second = ask(reference, None, one, other), ask(reference, None, other, one)
    assert first.verdict == second.verdict
    levels = [[(f.kind, f.level, f.subjects) for f in answer.findings] for answer in (first, second)]
    assert levels[0] == levels[1]


def test_every_source_of_a_finding_exists(reference: Reference) -> None:
    answer = ask(
        reference,
        "MSM, MSM, xylitol, willow bark, salt",
        product("p", ("EPA", "9 g"), unit="chew"),
        medications=("KBr",),
    )
    assert {f.kind for f in answer.findings} >= {"hazard", "interaction", "duplicate", "over_limit", "presentation"}
    assert set(answer.source_ids) <= set(reference.sources)
    assert all(finding.source_ids for finding in answer.findings)
