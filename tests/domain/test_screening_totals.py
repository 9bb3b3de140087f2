"""Totals per day, published maxima, what is given twice, what tastes like food."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

import pytest

from service.domain.screening import ScreenAnswer
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product, with_row


def test_totals_add_products_and_supplements(reference: Reference) -> None:
    one = product("a", ("MSM", "400 mg"), units_per_day="2")
    other = product("b", ("MSM", "500 mg"), serving_units="2", units_per_day="1")
    total = ask(reference, None, one, supplements=(other,)).totals[0]
    # 2 x 400 + 1 x 250.
    assert (total.ingredient, total.low_mg_per_day, total.high_mg_per_day) == ("msm", D(1050), D(1050))
    assert total.mg_per_kg_high == D(105)
    assert total.products == ("a", "b")


def test_open_forms_keep_both_readings(reference: Reference) -> None:
    total = ask(reference, None, product("a", ("Glucosamine", "1000 mg"))).totals[0]
    # From the sulfate with two potassium chlorides to the free base.
    assert (total.moiety, total.low_mg_per_day, total.high_mg_per_day) == ("glucosamine", D("591.803"), D(1000))


def test_without_units_per_day_one_serving_counts(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("MSM", "400 mg"), serving_units="2", units_per_day=None))
    assert answer.totals[0].high_mg_per_day == D(400)
    assert "one_serving_a_day_assumed" in {caution.code for caution in answer.cautions}


def test_a_whole_and_its_parts_are_not_added(reference: Reference) -> None:
    facts = (("Omega-3 fatty acids", "500 mg"), ("EPA", "300 mg"), ("DHA", "150 mg"))
    total = ask(reference, None, product("a", *facts)).totals[0]
    assert (total.ingredient, total.high_mg_per_day) == ("epa-dha", D(500))
    parts = ask(reference, None, product("a", *facts[1:])).totals[0]
    assert parts.high_mg_per_day == D(450)


def test_a_vague_total_is_not_added_to_what_it_holds(reference: Reference) -> None:
    facts = (("Omega-3 fatty acids", "1000 mg"), ("EPA + DHA", "600 mg"))
    total = ask(reference, None, product("a", *facts)).totals[0]
    assert (total.low_mg_per_day, total.high_mg_per_day) == (D(600), D(1000))


def test_over_the_published_maximum(reference: Reference) -> None:
    # 370 mg/kg^0.75: for 16 kg 370 x 8 = 2,960 mg EPA and DHA a day.
    at_limit = ask(reference, None, product("a", ("EPA", "1960 mg"), ("DHA", "1000 mg")), kg="16")
    assert at_limit.totals[0].limit_mg_per_day == D(2960)
    assert at_limit.totals[0].share_of_limit == D(1)
    assert [one.level for one in of_kind(at_limit, "over_limit")] == ["watch"]
    over = ask(reference, None, product("a", ("EPA", "1961 mg"), ("DHA", "1000 mg")), kg="16")
    finding = of_kind(over, "over_limit")[0]
    assert (finding.level, finding.subjects, finding.record_ids) == ("veterinarian", ("epa-dha",), ("epa-dha-dog-nrc",))
    assert over.verdict == "ask_veterinarian"


def test_a_stricter_limit_that_does_not_decide_is_watched(reference: Reference) -> None:
    # 310 and 370 mg/kg^0.75: for 16 kg 2,480 and 2,960 mg.
    between = ask(reference, None, product("a", ("EPA", "1500 mg"), ("DHA", "1000 mg")), kg="16")
    (finding,) = of_kind(between, "over_limit")
    assert (finding.level, between.highest_level, between.verdict) == ("watch", "watch", "nothing_found")
    assert "2480 mg" in finding.effect
    assert "2960 mg" in finding.effect
    assert finding.record_ids[1] == "epa-dha-dog-nrc"
    below = ask(reference, None, product("a", ("EPA", "1400 mg"), ("DHA", "1000 mg")), kg="16")
    assert of_kind(below, "over_limit") == []


def test_a_recalled_maximum_is_named_as_such(reference: Reference) -> None:
    # 2.6 ug/kg^0.75: for 16 kg 20.8 ug a day, 832 IU.
    answer = ask(reference, None, product("a", ("Vitamin D3", "900 IU")), kg="16")
    assert answer.totals[0].limit_mg_per_day == D("0.0208")
    finding = of_kind(answer, "over_limit")[0]
    assert finding.level == "veterinarian"
    assert "above the recalled maximum of 0.0208 mg" in finding.effect
    assert "published maximum" not in finding.effect
    assert "from_memory" in {caution.code for caution in answer.cautions}


def _untested(answer: ScreenAnswer) -> set[tuple[str, str]]:
    return {(gap.a, gap.b) for gap in answer.not_assessed if gap.reason == "amount_not_stated"}


def test_a_maximum_that_cannot_be_tested_is_said(reference: Reference) -> None:
    oil = ask(reference, None, product("a", ("Fish oil", "1000 mg")))
    assert _untested(oil) == {("fish-oil", "epa-dha-dog-nrc")}
    assert "limit_not_tested" in {caution.code for caution in oil.cautions}
    stated = ask(reference, None, product("a", ("Fish oil", "1000 mg"), ("EPA", "180 mg"), ("DHA", "120 mg")))
    assert _untested(stated) == set()
    assert "limit_not_tested" not in {caution.code for caution in stated.cautions}
    assert _untested(ask(reference, "fish oil")) == {("fish-oil", "epa-dha-dog-nrc")}
    assert _untested(ask(reference, "MSM, may contain traces of fish oil")) == set()


def test_more_glucosamine_than_ever_recorded(reference: Reference) -> None:
    # 3,000 mg hydrochloride a day for 12 kg: 250 mg/kg, of which 83.0923 % is glucosamine.
    at_most = ask(reference, None, product("a", ("Glucosamine HCl", "2500 mg")))
    assert of_kind(at_most, "over_limit") == []
    over = ask(reference, None, product("a", ("Glucosamine HCl", "2501 mg")))
    finding = of_kind(over, "over_limit")[0]
    assert (finding.level, finding.origin) == ("veterinarian", "common_practice")
    assert "rule of ours" in finding.effect
    assert over.verdict == "ask_veterinarian"
    assert of_kind(ask(reference, None, product("a", ("Glucosamine HCl", "9 g")), kg=None), "over_limit") == []


def test_a_salt_brings_its_metal(reference: Reference) -> None:
    # 1,000 mg hold 129.141 mg potassium.
    answer = ask(reference, None, product("a", ("Glucosamine sulfate 2KCl", "1000 mg")), conditions=("kidney disease",))
    assert {total.ingredient: total.high_mg_per_day for total in answer.totals}["potassium"] == D("129.141")
    assert ("potassium", "kidney-disease") in {finding.subjects for finding in of_kind(answer, "condition")}
    assert answer.verdict == "ask_veterinarian"
    sodium = ask(reference, "glucosamine sulfate 2NaCl", conditions=("heart failure",))
    assert ("sodium", "heart-failure") in {finding.subjects for finding in of_kind(sodium, "condition")}
    assert sodium.verdict == "stop"
    hydrochloride = ask(reference, "glucosamine HCl", conditions=("heart failure", "kidney disease"))
    assert {f.subjects[0] for f in of_kind(hydrochloride, "condition")} <= {"glucosamine"}


def test_what_a_salt_brings_is_no_duplicate_and_no_gap(reference: Reference) -> None:
    salt = ("Glucosamine sulfate 2KCl", "500 mg")
    twice = ask(reference, None, product("a", salt), product("b", salt), conditions=("asthma",))
    assert [finding.subjects for finding in of_kind(twice, "duplicate")] == [("glucosamine",)]
    assert not [gap for gap in twice.not_assessed if "potassium" in (gap.a, gap.b)]


def test_nutrients_of_two_forms_count_as_one(reference: Reference) -> None:
    facts = (("Vitamin D", "400 IU"), ("Vitamin D3", "440 IU"))
    answer = ask(reference, None, product("a", facts[0]), product("b", facts[1]), kg="16")
    assert [total.high_mg_per_day for total in answer.totals] == [D("0.021")]
    assert len(of_kind(answer, "over_limit")) == 1


def test_a_maximum_per_energy_counts_only_alone(reference: Reference) -> None:
    row = next(row for row in reference.tables["limits"] if row.id == "epa-dha-dog-nrc")
    energy = replace(row, id="invented", ingredient_id="msm", basis="per_1000_kcal", amount=D(100))
    # 16 kg need 130 x 8 = 1,040 kcal a day: 104 mg.
    changed = with_row(reference, "limits", energy)
    total = ask(changed, None, product("a", ("MSM", "52 mg")), kg="16").totals[0]
    assert (total.limit_mg_per_day, total.share_of_limit) == (D(104), D("0.5"))
    both = with_row(changed, "limits", replace(energy, id="other", basis="per_kg075_per_day", amount=D(50)))
    assert ask(both, None, product("a", ("MSM", "52 mg")), kg="16").totals[0].limit_mg_per_day == D(400)


def test_no_limit_without_a_weight(reference: Reference) -> None:
    total = ask(reference, None, product("a", ("EPA", "99 g")), kg=None).totals[0]
    assert (total.limit_mg_per_day, total.mg_per_kg_high, total.share_of_limit) == (None, None, None)


def test_duplicates_over_products_and_in_a_text(reference: Reference) -> None:
    msm = ("MSM", "400 mg")
    two = ask(reference, None, product("a", msm), product("b", msm))
    assert [(f.subjects, f.level) for f in of_kind(two, "duplicate")] == [(("msm",), "watch")]
    assert "product:a" in of_kind(two, "duplicate")[0].effect
    assert two.verdict == "nothing_found"
    assert len(of_kind(ask(reference, "MSM, methylsulfonylmethane"), "duplicate")) == 1
    same = product("a", msm, other="methylsulfonylmethane, cellulose")
    assert of_kind(ask(reference, None, same), "duplicate") == []


def test_parts_and_additives_are_no_duplicates(reference: Reference) -> None:
    assert of_kind(ask(reference, "EPA, DHA, omega-3"), "duplicate") == []
    assert of_kind(ask(reference, None, product("a"), product("b")), "duplicate") == []


def test_two_herbs_under_one_heading_are_no_duplicate(reference: Reference) -> None:
    assert of_kind(ask(reference, "lemon balm, passionflower"), "duplicate") == []
    assert len(of_kind(ask(reference, "passionflower, passionflower"), "duplicate")) == 1
    facts = (("Lemon balm", "100 mg"), ("Passionflower", "200 mg"))
    assert ask(reference, None, product("a", *facts)).totals == ()


def test_an_oil_is_not_all_vitamin(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Cod liver oil", "1000 mg")), species="cat", kg="4")
    assert [total.ingredient for total in answer.totals] == ["cod-liver-oil"]
    assert {f.level for f in of_kind(answer, "hazard")} == {"note"}


def test_an_unknown_amount_makes_a_lower_bound(reference: Reference) -> None:
    stated = product("a", ("EPA", "180 mg"), ("DHA", "120 mg"))
    hidden = product("b", ("Fish oil", "1000 mg"))
    answer = ask(reference, None, stated, supplements=(hidden,))
    total = next(total for total in answer.totals if total.ingredient == "epa-dha")
    assert (total.high_mg_per_day, total.lower_bound, total.unknown_in) == (D(300), True, ("b",))
    text = next(caution.text for caution in answer.cautions if caution.code == "totals_are_lower_bounds")
    assert "EPA and DHA" in text
    alone = ask(reference, None, stated).totals[0]
    assert (alone.lower_bound, alone.unknown_in) == (False, ())


def test_a_list_below_or_beside_counts_as_unknown(reference: Reference) -> None:
    stated = product("a", ("Zinc", "5 mg"))
    in_text = ask(reference, "zinc oxide", stated).totals[0]
    assert (in_text.lower_bound, in_text.unknown_in) == (True, ("ingredients_text",))
    # The list of the same product names what its panel states.
    below = ask(reference, None, product("a", ("Zinc", "5 mg"), other="zinc oxide, cellulose")).totals[0]
    assert below.lower_bound is False
    traces = ask(reference, "may contain traces of zinc", stated).totals[0]
    assert traces.lower_bound is False


def test_not_less_than_is_a_lower_bound(reference: Reference) -> None:
    total = ask(reference, None, product("a", ("Glucosamine HCl", "min. 500 mg"))).totals[0]
    assert (total.lower_bound, total.unknown_in) == (True, ("a",))


def test_the_lines_behind_a_total_are_named(reference: Reference) -> None:
    one = product("a", ("Manganese (as manganese gluconate)", "5 mg"))
    two = product("b", ("Manganese ascorbate", "20 mg"))
    total = next(t for t in ask(reference, None, one, supplements=(two,)).totals if t.ingredient == "manganese")
    assert [(part.product, part.name) for part in total.parts] == [
        ("a", "Manganese (as manganese gluconate)"),
        ("b", "Manganese ascorbate"),
    ]
    # 20 mg x 54.938 / 405.17 (manganese in its ascorbate).
    assert float(total.high_mg_per_day) == pytest.approx(5 + 2.7118, rel=1e-4)


def test_every_recorded_limit_is_shown_with_its_rule(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("EPA", "500 mg")), kg="16")
    limits = {limit.limit_id: limit for limit in answer.totals[0].limits}
    assert limits["epa-dha-dog-nrc"].rule == "amount x kg^0.75"
    per_energy = limits["epa-dha-dog-per-1000-kcal"]
    # 2,800 mg per 1,000 kcal at 1,040 kcal a day.
    assert (per_energy.limit_mg_per_day, per_energy.covers) == (D(2912), "intake")
    assert "130 kcal x kg^0.75" in per_energy.rule
    assert set(per_energy.source_ids) <= set(answer.source_ids)


def test_what_counts_as_one_is_a_duplicate_across_products(reference: Reference) -> None:
    def duplicates(one: str, other: str) -> list[tuple[str, ...]]:
        answer = ask(reference, None, product("a", (one, "100 mg")), supplements=(product("b", (other, "100 mg")),))
        return [finding.subjects for finding in of_kind(answer, "duplicate")]

    assert duplicates("Fish oil", "Krill oil") == [("fish-oil", "krill-oil")]
    assert duplicates("Turmeric", "Curcumin") == [("turmeric", "curcumin")]
    assert duplicates("Glucosamine HCl", "N-acetylglucosamine") == [("glucosamine", "n-acetylglucosamine")]
    assert duplicates("Fish oil", "Turmeric") == []
    one_recipe = ask(reference, "turmeric, curcumin")
    assert of_kind(one_recipe, "duplicate") == []


def test_salt_makes_the_sodium_a_lower_bound(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Sodium ascorbate", "500 mg"), ("Salt", "300 mg")))
    total = next(total for total in answer.totals if total.ingredient == "sodium")
    assert (total.lower_bound, total.unknown_in) == (True, ("a",))


def test_cod_liver_oil_holds_vitamin_d_beside_the_one_that_is_stated(reference: Reference) -> None:
    facts = (("Cod liver oil", "1 g"), ("Vitamin D3", "300 IU"))
    totals = {total.ingredient: total for total in ask(reference, None, product("a", *facts)).totals}
    assert (totals["vitamin-d"].lower_bound, totals["vitamin-d"].unknown_in) == (True, ("a",))
    alone = {total.ingredient: total for total in ask(reference, None, product("a", facts[1])).totals}
    assert not alone["vitamin-d"].lower_bound
