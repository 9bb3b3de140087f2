"""Lines that name a blend, and the lines below it that name its members."""

from __future__ import annotations

import pytest

from service.domain.labels.answer import Blend
from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import plain


def _blend(reference: Reference, text: str) -> Blend:
    (blend,) = read_label(reference, text).blends
    return blend


def _bounds(blend: Blend) -> list[tuple[object, object, object]]:
    return [(one.name, one.mg_low, one.mg_high) for one in blend.members]


@pytest.mark.parametrize(
    "text",
    [
        "Joint blend 1,000 mg: MSM, yucca",
        "Joint blend: 1,000 mg\nMSM\nyucca",
        "Joint blend 1,000 mg\n- MSM\n- yucca",
        "Joint blend 1,000 mg\n  MSM\n  yucca",
        "Joint blend: MSM, yucca ... 1,000 mg",
    ],
)
def test_wherever_the_members_stand(reference: Reference, text: str) -> None:
    # Of two members in descending order the first weighs half of the whole at least (21 CFR 101.36(c)).
    assert plain(_bounds(_blend(reference, text))) == [("MSM", 500, 1000), ("yucca", 0, 500)]


def test_indented_members_with_and_without_amounts(reference: Reference) -> None:
    answer = read_label(reference, "Joint blend 1,000 mg\n  Glucosamine HCl 500 mg\n  MSM 300 mg\n  Turmeric")
    assert answer.facts == ()
    assert [one.mg for one in answer.blends[0].members] == [500, 300, 200]


def test_parts_of_a_blend_are_other_substances(reference: Reference) -> None:
    blend = _blend(reference, "Herb mix 100 mg containing nettle, devil's claw 40 mg")
    assert [one.mg for one in blend.members] == [60, 40]


def test_shares_of_a_blend(reference: Reference) -> None:
    blend = _blend(reference, "Active blend 1 g: glucosamine 50 %, MSM 30 %, chondroitin 20 %")
    assert [one.mg for one in blend.members] == [500, 300, 200]


def test_a_sentence_below_is_no_member(reference: Reference) -> None:
    answer = read_label(reference, "Joint blend: 1,000 mg\nMSM\nSupports healthy joints")
    assert [one.name for one in answer.blends[0].members] == ["MSM"]
    assert "Supports healthy joints" in [one.text for one in answer.statements]


@pytest.mark.parametrize("text", ["Joint Complex: supports mobility and flexibility", "Mix: with food, or give alone"])
def test_sentences_that_begin_like_a_blend(reference: Reference, text: str) -> None:
    assert read_label(reference, text).blends == ()


@pytest.mark.parametrize(
    "text",
    [
        "Joint blend 900 mg: MSM & glucosamine HCl",
        "Joint blend 900 mg (MSM and glucosamine HCl)",
        "Mischung 900 mg: MSM und Glucosamin HCl",
        "Mélange 900 mg (MSM et glucosamine HCl)",
        "Joint blend 900 mg:\nMSM + glucosamine HCl",
    ],
)
def test_a_joining_word_makes_two_members(reference: Reference, text: str) -> None:
    members = _blend(reference, text).members
    assert [one.ingredient for one in members] == ["msm", "glucosamine"]
    # Two members in descending order: the first weighs at least half (21 CFR 101.36(c)).
    assert plain([(one.mg_low, one.mg_high) for one in members]) == [(450, 900), (0, 450)]


def test_one_recorded_name_is_one_member(reference: Reference) -> None:
    members = _blend(reference, "Oil blend 900 mg: EPA and DHA omega-3 fatty acids, yucca").members
    assert [one.name for one in members] == ["EPA and DHA omega-3 fatty acids", "yucca"]


def test_a_recorded_name_that_lists_substances_is_a_blend(reference: Reference) -> None:
    blend = _blend(reference, "Mushroom complex 300 mg (reishi, shiitake, maitake)")
    assert plain(_bounds(blend)) == [("reishi", 100, 300), ("shiitake", 0, 150), ("maitake", 0, 100)]
