"""Totals per day, published maxima, what is given twice, what tastes like food."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

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


def test_over_the_published_maximum(reference: Reference) -> None:
    # 370 mg/kg^0.75: for 16 kg 370 x 8 = 2,960 mg EPA and DHA a day.
    at_limit = ask(reference, None, product("a", ("EPA", "1960 mg"), ("DHA", "1000 mg")), kg="16")
    assert at_limit.totals[0].limit_mg_per_day == D(2960)
    assert at_limit.totals[0].share_of_limit == D(1)
    assert of_kind(at_limit, "over_limit") == []
    over = ask(reference, None, product("a", ("EPA", "1961 mg"), ("DHA", "1000 mg")), kg="16")
    finding = of_kind(over, "over_limit")[0]
    assert (finding.level, finding.subjects, finding.record_ids) == ("veterinarian", ("epa-dha",), ("epa-dha-dog-nrc",))
    assert over.verdict == "ask_veterinarian"


def test_a_recalled_maximum_is_only_to_watch(reference: Reference) -> None:
    # 2.6 ug/kg^0.75: for 16 kg 20.8 ug a day, 832 IU.
    answer = ask(reference, None, product("a", ("Vitamin D3", "900 IU")), kg="16")
    assert answer.totals[0].limit_mg_per_day == D("0.0208")
    assert [finding.level for finding in of_kind(answer, "over_limit")] == ["watch"]


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


def test_chews_are_kept_out_of_reach(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("MSM", "400 mg"), unit="soft chew"))
    assert [(f.level, f.subjects) for f in of_kind(answer, "presentation")] == [("note", ("a",))]
    assert of_kind(ask(reference, None, product("a", ("MSM", "400 mg"))), "presentation") == []
