"""Lines that total several substances."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.answer import Blend
from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import at, plain


def _blend(reference: Reference, text: str) -> Blend:
    (blend,) = read_label(reference, text).blends
    return blend


@pytest.mark.parametrize(
    "text",
    [
        "Joint blend 1,200 mg: MSM, yucca, turmeric", "Joint blend (1.2 g): MSM, yucca, turmeric",
        "Joint blend 1,200 mg (MSM, yucca, turmeric)", "Joint blend 1200 mg:\n  MSM, yucca\n  turmeric",
        "JOINT BLEND 1.2 G: MSM; YUCCA; TURMERIC", "Joint blend 1.2 g: [MSM, yucca, turmeric]",
    ],
)  # fmt: skip
def test_members_get_bounds_from_the_total_and_the_order(reference: Reference, text: str) -> None:
    blend = _blend(reference, text)
    assert blend.mg == 1200
    assert [one.ingredient for one in blend.members] == ["msm", "yucca", "turmeric"]
    assert plain([(one.mg_low, one.mg_high) for one in blend.members]) == [(400, 1200), (0, 600), (0, 400)]
    assert {"amounts_undisclosed", "descending_order"} <= set(blend.flags)


def test_a_disclosed_member_keeps_its_amount_and_narrows_the_others(reference: Reference) -> None:
    # 700 mg are left for two; the first holds at least the 500 mg after it, the last at most 200 mg.
    blend = _blend(reference, "Joint blend (1.2 g): MSM, glucosamine HCl 500 mg, yucca")
    assert plain([(one.mg, one.mg_low, one.mg_high) for one in blend.members]) == [
        (None, 500, 700), (500, 500, 500), (None, 0, 200),
    ]  # fmt: skip


def test_what_the_others_leave_settles_the_last(reference: Reference) -> None:
    blend = _blend(reference, "Joint blend 800 mg: MSM 500 mg, yucca")
    assert [one.mg for one in blend.members] == [500, 300]


@pytest.mark.parametrize(
    "text", ["Proprietary blend (MSM 200 mg, xylitol)", "Joint blend: xylitol, yucca", "Blend\nMSM, xylitol"]
)
def test_without_a_total_nothing_is_credited_and_hazards_are_named(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert [one.hazard for one in answer.hazards] == ["xylitol"]
    assert {fact.ingredient for fact in answer.facts} <= {"msm"}
    assert all(member.mg_high is None for blend in answer.blends for member in blend.members)


def test_a_blend_inside_a_blend(reference: Reference) -> None:
    blend = _blend(
        reference, "Total complex 800 mg: [Joint blend 500 mg: glucosamine HCl, MSM], [Herbal blend 300 mg: yucca]"
    )
    assert blend.mg == 800
    assert [one.mg for one in blend.members] == [500, 300]
    assert plain([(one.mg_low, one.mg_high) for one in blend.members[0].members]) == [(250, 500), (0, 250)]
    assert "nested_blend" in blend.flags


def test_a_hazard_among_members_is_named(reference: Reference) -> None:
    text = "Joint blend 500 mg: MSM, xylitol"
    answer = read_label(reference, text)
    member = answer.blends[0].members[1]
    assert member.hazard == "xylitol"
    assert at(text, member.span) == "xylitol"
    assert [one.hazard for one in answer.hazards] == ["xylitol"]


def test_the_product_carries_the_hidden_members_in_the_name(reference: Reference) -> None:
    answer = read_label(reference, "Joint blend (1.2 g): MSM, glucosamine HCl 500 mg, yucca")
    assert [(fact.name, fact.amount) for fact in answer.product.facts] == [
        ("Joint blend: MSM, yucca", "1.2 g"), ("glucosamine HCl", "500 mg"),
    ]  # fmt: skip


def test_every_fact_of_the_product_has_a_name(reference: Reference) -> None:
    answer = read_label(reference, "Joint blend 1 g: MSM\n 5 mg")
    assert all(fact.name.strip() for fact in answer.product.facts)


def test_an_activity_is_no_mass(reference: Reference) -> None:
    blend = _blend(reference, "Probiotic blend 5 x 10^9 CFU: Bacillus coagulans, Lactobacillus acidophilus")
    assert blend.mg is None
    assert "activity_unit" in blend.flags
    assert all(one.mg_high is None for one in blend.members)


def test_the_unit_of_the_blend(reference: Reference) -> None:
    blend = _blend(reference, "Amount per 2 chews\nJoint blend 500 mg: MSM, yucca")
    assert blend.per is not None
    assert (blend.per.kind, blend.per.count, blend.per.unit) == ("unit", Decimal(2), "chew")
