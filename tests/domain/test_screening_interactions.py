"""Interaction records: how they match, which win, and what no record speaks of."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.domain.screening import ScreenAnswer
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product, with_row


def _pair(answer: ScreenAnswer, *subjects: str) -> dict[str, str]:
    return {
        f.topic or "": f.level
        for f in answer.findings
        if f.kind in ("interaction", "condition") and set(f.subjects) == set(subjects)
    }


def test_the_subject_is_what_stands_on_the_label(reference: Reference) -> None:
    answer = ask(reference, "turmeric", medications=("warfarin",))
    assert _pair(answer, "turmeric", "warfarin")["bleeding"] == "veterinarian"


def test_a_named_drug_wins_over_its_class_and_hides_no_other_topic(reference: Reference) -> None:
    # Aspirin: its own record (bleeding) beats that of its class; the class record on pain relief stays.
    answer = ask(reference, "krill oil", medications=("aspirin",))
    assert _pair(answer, "krill-oil", "aspirin") == {"bleeding": "veterinarian", "pain relief": "note"}


def test_among_equals_the_highest_level_is_shown(reference: Reference) -> None:
    # Warfarin is a vitamin K antagonist (veterinarian) and an anticoagulant (watch).
    answer = ask(reference, "chondroitin sulfate", medications=("warfarin",))
    assert _pair(answer, "chondroitin-sulfate", "warfarin") == {"bleeding": "veterinarian"}


def test_any_medicine_given_by_mouth(reference: Reference) -> None:
    by_mouth = ask(reference, "psyllium", medications=("carprofen",))
    assert _pair(by_mouth, "psyllium", "carprofen") == {"absorption": "watch"}
    injected = ask(reference, "psyllium", medications=("heparin",))
    assert _pair(injected, "psyllium", "heparin") == {}


def test_a_class_as_medicine_matches_only_its_own_records(reference: Reference) -> None:
    answer = ask(reference, "chondroitin sulfate", medications=("NSAID",))
    assert _pair(answer, "chondroitin-sulfate", "nsaid") == {"bleeding": "note"}
    assert _pair(ask(reference, "psyllium", medications=("NSAID",)), "psyllium", "nsaid") == {}


def test_a_record_for_dogs_says_nothing_about_cats(reference: Reference) -> None:
    dog = ask(reference, "magnesium", medications=("levothyroxine",))
    cat = ask(reference, "magnesium", medications=("levothyroxine",), species="cat")
    assert _pair(dog, "magnesium", "levothyroxine") == {"absorption": "watch"}
    assert _pair(cat, "magnesium", "levothyroxine") == {}
    assert ("magnesium", "levothyroxine", "no_record") in {(n.a, n.b, n.reason) for n in cat.not_assessed}


def test_a_cat_is_a_trait_that_nobody_has_to_name(reference: Reference) -> None:
    answer = ask(reference, "garlic", species="cat")
    assert _pair(answer, "garlic", "species-cat") == {"red cells": "avoid"}
    assert answer.verdict == "stop"
    plain = ask(reference, "MSM", species="cat")
    assert plain.not_assessed == ()


def test_an_age_under_one_year_is_growth(reference: Reference) -> None:
    assert _pair(ask(reference, "calcium", age_years="0.9"), "calcium", "growth") == {"bone growth": "avoid"}
    assert _pair(ask(reference, "calcium", age_years="1"), "calcium", "growth") == {}
    named = ask(reference, "calcium", age_years="0.5", conditions=("puppy",))
    assert len(of_kind(named, "condition")) == 1


def test_groups_match_on_both_sides(reference: Reference) -> None:
    answer = ask(reference, "ginger, ginkgo")
    assert _pair(answer, "ginger", "ginkgo") == {"bleeding": "note"}


def test_what_is_screened_as_one_is_no_pair(reference: Reference) -> None:
    answer = ask(reference, None, product("p", ("Fish oil", "1000 mg"), ("EPA", "180 mg"), ("DHA", "120 mg")))
    assert of_kind(answer, "interaction") == []
    assert answer.not_assessed == ()


def test_the_same_ingredient_twice(reference: Reference) -> None:
    def duplication(answer: ScreenAnswer) -> dict[str, str]:
        return _pair(answer, "glucosamine")

    assert duplication(ask(reference, "glucosamine")) == {}
    assert duplication(ask(reference, "glucosamine, glucosamine HCl")) == {"duplication": "watch"}
    one, other = product("a", ("Glucosamine HCl", "500 mg")), product("b", ("Glucosamine sulfate", "500 mg"))
    assert duplication(ask(reference, None, one)) == {}
    assert duplication(ask(reference, None, one, supplements=(other,))) == {"duplication": "watch"}
    below = product("c", ("Glucosamine HCl", "500 mg"), other="glucosamine hydrochloride, cellulose")
    assert duplication(ask(reference, None, below)) == {}


def test_another_form_of_the_moiety_counts_as_the_same(reference: Reference) -> None:
    answer = ask(reference, "glucosamine HCl, N-acetylglucosamine")
    assert _pair(answer, "glucosamine", "n-acetylglucosamine") == {"duplication": "watch"}


def test_helpful_records_keep_their_level_and_their_word(reference: Reference) -> None:
    answer = ask(reference, "zinc", conditions=("copper storage disease",))
    finding = of_kind(answer, "condition")[0]
    assert (finding.finding, finding.level) == ("helpful", "veterinarian")


@pytest.mark.parametrize("word", ["studied_none_found", "no_signal"])
def test_tested_without_a_problem_never_raises_the_verdict(reference: Reference, word: str) -> None:
    assert {row.level for row in reference.interactions if row.finding == word} == {"note"}


def test_pairs_without_a_record_are_listed(reference: Reference) -> None:
    answer = ask(reference, "yucca, MSM, cellulose", medications=("meloxicam",), conditions=("asthma",))
    pairs = {(gap.a, gap.b) for gap in answer.not_assessed}
    assert pairs == {
        ("yucca", "meloxicam"),
        ("yucca", "asthma"),
        ("yucca", "msm"),
        ("msm", "meloxicam"),
        ("msm", "asthma"),
    }
    assert answer.verdict == "nothing_found"


def test_a_pair_with_a_recalled_record_only_is_shown_and_not_assessed(reference: Reference) -> None:
    answer = ask(reference, "feverfew", conditions=("pregnancy",))
    assert _pair(answer, "feverfew", "pregnancy") == {"uterus": "avoid"}
    assert [(gap.a, gap.b, gap.reason) for gap in answer.not_assessed] == [
        ("feverfew", "pregnancy", "unsourced_record_only")
    ]
    assert "from_memory" in {caution.code for caution in answer.cautions}


def test_a_trace_is_no_subject(reference: Reference) -> None:
    answer = ask(reference, "may contain traces of garlic", medications=("warfarin",))
    assert of_kind(answer, "interaction") == []


def test_the_more_specific_record_wins_even_if_it_is_lower(reference: Reference) -> None:
    row = next(
        r for r in reference.interactions if r.a_id == "chondroitin-sulfate" and r.b_id == "vitamin-k-antagonist"
    )
    named = replace(row, id="invented", b_kind="medication", b_id="warfarin", level="note")
    answer = ask(with_row(reference, "interactions", named), "chondroitin sulfate", medications=("warfarin",))
    assert _pair(answer, "chondroitin-sulfate", "warfarin") == {"bleeding": "note"}


def test_the_record_on_the_named_medicine_wins_even_if_it_was_recalled(reference: Reference) -> None:
    # Rule 3 of the interaction notes: for one pair and topic the most specific record wins.
    answer = ask(reference, "willow bark", medications=("grapiprant",))
    shown = [f.record_ids for f in answer.findings if f.subjects == ("willow-bark", "grapiprant")]
    assert shown == [("ix146",)]
    assert ("ix145", "ix146") in {(one.record_id, one.by) for one in answer.overruled}


def test_a_recalled_record_hides_what_is_no_higher(reference: Reference) -> None:
    row = next(
        r for r in reference.interactions if r.a_id == "chondroitin-sulfate" and r.b_id == "vitamin-k-antagonist"
    )
    named = replace(row, id="invented", b_kind="medication", b_id="warfarin", origin="memory")
    answer = ask(with_row(reference, "interactions", named), "chondroitin sulfate", medications=("warfarin",))
    found = [f.record_ids for f in answer.findings if f.topic == "bleeding"]
    assert found == [("invented",)]


def test_every_record_can_be_reached(reference: Reference) -> None:
    groups = {group for row in reference.ingredients.values() for group in row.group_ids}
    known = {
        "ingredient": set(reference.ingredients),
        "ingredient_group": groups,
        "medication": set(reference.medications),
        "drug_class": set(reference.drug_classes),
        "condition": set(reference.conditions),
    }
    for row in reference.interactions:
        assert row.a_id in known[row.a_kind]
        assert row.b_id in known[row.b_kind]


def _overruled(answer: ScreenAnswer) -> dict[str, tuple[str, str]]:
    return {one.record_id: (one.by, one.reason) for one in answer.overruled}


def test_what_does_not_win_is_named_with_what_beat_it(reference: Reference) -> None:
    # Bentonite and diazepam have a record of their own (note); bentonite and any medicine by mouth is a watch.
    answer = ask(reference, "bentonite", medications=("diazepam",))
    assert _pair(answer, "bentonite", "diazepam") == {"absorption": "note"}
    assert _overruled(answer) == {"ix287": ("ix289", "less_specific")}
    (lost,) = answer.overruled
    assert (lost.level, lost.topic, lost.subjects) == ("watch", "absorption", ("bentonite", "diazepam"))
    assert lost.evidence
    assert set(lost.source_ids) <= set(answer.source_ids)


def test_as_specific_but_lower_is_named_too(reference: Reference) -> None:
    # Warfarin is a vitamin K antagonist (veterinarian) and an anticoagulant (watch).
    answer = ask(reference, "chondroitin sulfate", medications=("warfarin",))
    assert _overruled(answer) == {"ix003": ("ix002", "not_higher")}


def test_a_class_beats_a_group(reference: Reference) -> None:
    # St John's wort and serotonin-raising medicines beats serotonin-raising ingredients and the same medicines.
    answer = ask(reference, "St John's wort", medications=("fluoxetine",))
    assert _overruled(answer) == {"ix210": ("ix211", "less_specific")}


def test_a_named_pair_beats_a_class_and_a_class_the_widest_class(reference: Reference) -> None:
    row = next(row for row in reference.interactions if row.id == "ix281")
    of_class = replace(row, id="of-class", b_id="nsaid", level="note")
    named = replace(row, id="named", b_kind="medication", b_id="carprofen", level="note")
    with_class = with_row(reference, "interactions", of_class)
    by_class = ask(with_class, "psyllium", medications=("carprofen",))
    assert _overruled(by_class) == {"ix281": ("of-class", "less_specific")}
    by_name = ask(with_row(with_class, "interactions", named), "psyllium", medications=("carprofen",))
    assert _overruled(by_name) == {"ix281": ("named", "less_specific"), "of-class": ("named", "less_specific")}


def test_another_topic_is_never_overruled(reference: Reference) -> None:
    answer = ask(reference, "krill oil", medications=("aspirin",))
    assert all(one.topic == "bleeding" for one in answer.overruled)
    assert "pain relief" in _pair(answer, "krill-oil", "aspirin")


def test_direction_and_whether_it_speaks_for_the_pair(reference: Reference) -> None:
    def only(answer: ScreenAnswer) -> tuple[str | None, str | None, bool | None]:
        (finding,) = of_kind(answer, "interaction") + of_kind(answer, "condition")
        return finding.finding, finding.direction, finding.favourable

    assert only(ask(reference, "milk thistle", conditions=("liver disease",))) == ("helpful", "helps", True)
    assert only(ask(reference, "quercetin", medications=("sulfasalazine",))) == (
        "studied_none_found",
        "no change",
        True,
    )
    assert only(ask(reference, "glucosamine", conditions=("diabetes",))) == ("no_signal", "no change", True)
    assert only(ask(reference, "garlic", conditions=("anaemia",))) == ("interaction", "raises", False)
