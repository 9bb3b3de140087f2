"""Packs that taste like food, and what a whole pack eaten at once would mean."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.domain.products import Product
from service.domain.screening import Finding, ScreenAnswer
from service.reference.release import Reference
from tests.domain.exposure_requests import ask as expose
from tests.domain.screening_requests import ask, of_kind, product

WHOLE_PACK = "whole_pack"


def _pack(*facts: tuple[str, str], count: str | None = "100", other: str = "cellulose") -> Product:
    return replace(product("a", *facts, other=other), unit_count=Decimal(count) if count else None)


def _packs(answer: ScreenAnswer) -> list[Finding]:
    return [finding for finding in of_kind(answer, "presentation") if finding.topic == WHOLE_PACK]


def _gaps(answer: ScreenAnswer) -> set[tuple[str, str, str]]:
    return {(gap.a, gap.b, gap.reason) for gap in answer.not_assessed}


@pytest.mark.parametrize("unit", ["soft chew", "chewable tablet", "treat", "Gummies", "Kausnack", "bouchee a croquer"])
def test_a_pack_that_tastes_like_food_is_noted(reference: Reference, unit: str) -> None:
    answer = ask(reference, None, product("a", ("MSM", "400 mg"), unit=unit))
    assert [(one.level, one.subjects) for one in of_kind(answer, "presentation")] == [("note", ("a",))]


def test_a_plain_tablet_is_not(reference: Reference) -> None:
    assert of_kind(ask(reference, None, product("a", ("MSM", "400 mg"))), "presentation") == []


def test_what_whole_packs_of_joint_chews_have_done_is_told_for_dogs(reference: Reference) -> None:
    finding = of_kind(ask(reference, None, product("a", ("Glucosamine HCl", "500 mg"), unit="chew")), "presentation")[0]
    assert finding.record_ids == ("joint-chew-overdose-dog-caution-1",)
    assert "liver injury" in finding.effect
    plain = of_kind(ask(reference, None, product("a", ("Turmeric", "500 mg"), unit="chew")), "presentation")[0]
    assert plain.record_ids == ()


@pytest.mark.parametrize(
    ("fact", "count", "kg", "tier", "row"),
    [
        # 30 mg iron x 100 in 10 kg: 300 mg/kg; deaths from above 100 mg/kg.
        (("Iron", "30 mg"), "100", "10", "life threatening", "iron-dog-potentially-lethal-1"),
        # 400 IU x 120 = 1.2 mg in 10 kg: 0.12 mg/kg; mild signs from 0.1 mg/kg.
        (("Vitamin D3", "400 IU"), "120", "10", "mild", "vitamin-d3-dog-signs-mild-1"),
        # 10 mg zinc x 60 in 12 kg: 50 mg/kg.
        (("Zinc", "10 mg"), "60", "12", "severe", "zinc-dog-signs-severe-1"),
        # 5 mg x 100 in 5 kg: 100 mg/kg.
        (("Alpha-lipoic acid", "5 mg"), "100", "5", "life threatening", "alpha-lipoic-acid-dog-potentially-lethal-1"),
    ],
)
def test_a_whole_pack_is_judged_by_the_tier_it_reaches(
    reference: Reference, fact: tuple[str, str], count: str, kg: str, tier: str, row: str
) -> None:
    found = _packs(ask(reference, None, _pack(fact, count=count), kg=kg))
    level = "watch" if tier == "mild" else "veterinarian"
    assert [(one.level, one.record_ids[1]) for one in found] == [(level, row)]
    assert f"reaches the tier {tier}:" in found[0].effect
    assert set(found[0].source_ids) <= set(reference.sources)
    assert "poison line now" in found[0].action


def test_it_is_what_an_exposure_answers(reference: Reference) -> None:
    found = _packs(ask(reference, None, _pack(("Zinc", "10 mg"), count="60"), kg="12"))[0]
    answer = expose(reference, "zinc", "600 mg", weight="12 kg")
    assert answer.tier == "severe"
    assert f"{(answer.mg_per_kg or Decimal(0)).normalize():f} mg/kg for this animal" in found.effect


def test_the_pack_counts_units_not_servings(reference: Reference) -> None:
    # 20 mg zinc per serving of two: 60 tablets hold 600 mg, however many are given a day.
    for units_per_day in ("1", "4", None):
        one = product("a", ("Zinc", "20 mg"), serving_units="2", units_per_day=units_per_day)
        pack = replace(one, unit_count=Decimal(60))
        assert len(_packs(ask(reference, None, pack, kg="12"))) == 1
        assert _packs(ask(reference, None, replace(pack, unit_count=Decimal(59)), kg="12")) == []


def test_a_slip_of_the_hand_that_could_kill_is_told(reference: Reference) -> None:
    # 50 mg/kg a day: two days' amount reaches the 100 mg/kg of deaths, one day's amount does not.
    pack = _pack(("Alpha-lipoic acid", "500 mg"), count="30")
    told = {kg: _packs(ask(reference, None, pack, kg=kg)) for kg in ("10", "11")}
    assert [[one.level for one in found] for found in told.values()] == [["veterinarian"], ["veterinarian"]]
    assert ["Twice the amount of one day" in found[0].effect for found in told.values()] == [True, False]
    # A pack of one unit cannot be given twice.
    assert _packs(ask(reference, None, replace(pack, unit_count=Decimal(1)), kg="10")) == []


def test_an_ordinary_joint_product_does_not_alarm(reference: Reference) -> None:
    facts = (("Glucosamine HCl", "500 mg"), ("Chondroitin sulfate", "400 mg"), ("MSM", "250 mg"), ("Zinc", "1 mg"))
    answer = ask(reference, None, _pack(*facts, count="120"), kg="30")
    assert _packs(answer) == []
    assert answer.verdict == "nothing_found"
    heavy = ask(reference, None, _pack(*facts[:3], ("Zinc", "15 mg"), count="120"), kg="30")
    # 15 mg x 120 in 30 kg: 60 mg/kg, above the 50 mg/kg of severe signs. The daily amount itself is ordinary.
    assert [one.level for one in _packs(heavy)] == ["veterinarian"]
    assert (heavy.verdict, heavy.highest_level) == ("ask_veterinarian", "veterinarian")
    assert {one.level for one in heavy.findings if one.kind == "hazard"} == {"note"}


def test_plants_with_caffeine_are_converted(reference: Reference) -> None:
    # 2.2 % of 100 g kola nut is 2.2 g caffeine: 220 mg/kg in 10 kg.
    found = _packs(ask(reference, None, _pack(("Kola nut", "1 g"))))
    assert [one.record_ids for one in found] == [("kola", "methylxanthines-dog-ld50-1")]


def test_garlic_is_judged_like_onion(reference: Reference) -> None:
    # 600 mg dried x 100 stand for 600 g fresh: 60 g/kg in 10 kg; severe signs from 15 g/kg.
    found = _packs(ask(reference, None, _pack(("Garlic powder", "600 mg"))))
    assert [one.record_ids for one in found] == [("garlic", "allium-dog-signs-severe-1")]


def test_a_plant_without_a_content_factor_reaches_nothing(reference: Reference) -> None:
    answer = ask(reference, None, _pack(("Willow bark", "500 mg")))
    assert _packs(answer) == []
    assert ("a", "willow-bark", "amount_not_stated") in _gaps(answer)


def test_one_threshold_is_told_once(reference: Reference) -> None:
    found = _packs(ask(reference, None, _pack(("Caffeine", "20 mg"), ("Theobromine", "20 mg"))))
    assert len({one.record_ids[1] for one in found}) == len(found)


def test_an_unknown_pack_or_weight_is_said(reference: Reference) -> None:
    zinc = ("Zinc", "10 mg")
    assert ("a", WHOLE_PACK, "pack_size_not_given") in _gaps(ask(reference, None, _pack(zinc, count=None)))
    unweighed = _gaps(ask(reference, None, _pack(zinc), kg=None))
    assert ("a", WHOLE_PACK, "weight_not_given") in unweighed
    assert ("a", WHOLE_PACK, "pack_size_not_given") not in unweighed
    # Nothing in it has a threshold of one meal: there is nothing to miss.
    assert _gaps(ask(reference, None, _pack(("MSM", "400 mg"), count=None))) == {
        ("msm", "daily_maximum", "no_limit_recorded")
    }


def test_an_amount_that_is_not_stated_is_said(reference: Reference) -> None:
    answer = ask(reference, None, _pack(("MSM", "400 mg"), other="caffeine"))
    assert ("a", "caffeine", "amount_not_stated") in _gaps(answer)


def test_what_no_amount_is_harmless_of_is_left_to_the_hazard_finding(reference: Reference) -> None:
    answer = ask(reference, None, _pack(("Xylitol", "10 mg")))
    assert _packs(answer) == []
    assert answer.verdict == "stop"


def test_other_supplements_are_packs_too(reference: Reference) -> None:
    other = replace(product("b", ("Zinc", "10 mg")), unit_count=Decimal(60))
    found = _packs(ask(reference, None, product("a", ("MSM", "1 mg")), supplements=(other,), kg="12"))
    assert [one.subjects for one in found] == [("b", "zinc")]
