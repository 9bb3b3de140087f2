"""A care note as the sheet shows it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

import pytest

from service.domain.care.request import PhaseTold, ProductTold
from service.domain.products import LabelFact
from service.domain.screening import verdict_of
from service.pages.care_note import Sheet, sheet_of, told_once
from service.pages.care_note_given import beside_view, given_view
from service.pages.care_note_words import (
    EVIDENCE,
    LEVELS,
    POSITIONS,
    REASONS,
    VERDICTS,
    count_of,
    milligrams,
    told,
    when,
)
from service.schemas.care_note_answer import CareAmountSchema, CareEvidenceSchema
from service.schemas.screen import VERDICTS as ALL_VERDICTS
from service.schemas.screen import NotAssessedSchema
from tests.domain.care.making import REFERENCE, START, finding, given, in_phases, note, tablet, units


def sheet(*products: ProductTold, **more: object) -> Sheet:
    written = note(*products, **more)
    return sheet_of(written, REFERENCE.stamp, REFERENCE.sources)


def test_who_and_when() -> None:
    shown = sheet(name="Bramble", identification="cage 4", start_date=START, note_date=date(2027, 2, 26))
    assert shown.title == "Care note: Bramble"
    assert shown.facts == (
        ("Identification", "cage 4"),
        ("Animal", "dog, 34 kg, 4 years"),
        ("Note of", "2027-02-26"),
        ("Course begins", "2027-03-01"),
    )
    assert sheet().title == "Care note"
    assert sheet().facts == (("Animal", "dog, 34 kg, 4 years"),)


def test_amounts_with_their_range_and_where_it_is_from() -> None:
    (row,) = sheet(given("1.5")).amounts
    assert (row.name, row.counted_as, row.amount, row.range) == (
        "Glucosamine",
        "hydrochloride",
        "750 mg",
        "500 to 1000 mg, maintenance",
    )
    assert (row.known_by, row.position, row.evidence) == ("common practice", "within", "against it")


def test_one_stretch_is_named_once_and_several_in_their_rows() -> None:
    assert sheet(given("1")).amounts_when == "from day 1 on"
    several = sheet(in_phases(units("2", days=7), units("1")))
    assert several.amounts_when == ""
    assert [row.when for row in several.amounts] == ["day 1 to 7", "from day 8 on"]


def test_amounts_that_are_not_known_are_no_zero() -> None:
    (row,) = sheet(given(None)).amounts
    assert (row.amount, row.position) == ("not known", "not known")
    hidden = LabelFact("Joint blend: glucosamine HCl, MSM", "900 mg")
    rows = sheet(given("1", facts=(LabelFact("Glucosamine HCl", "500 mg"), hidden))).amounts
    assert rows[0].amount == "at least 500 mg"


def test_a_form_that_says_no_more_than_the_name_is_left_out() -> None:
    oil = given("5", facts=(LabelFact("Fish oil", "1000 mg (EPA 300 mg, DHA 200 mg)"),))
    assert [(row.name, row.counted_as) for row in sheet(oil).amounts] == [("EPA and DHA", "")]


def test_words_told_are_shown_with_what_they_were_taken_as() -> None:
    shown = sheet(medications=("thiamazole", "nosuchpill", "carprofen"), conditions=("arthritis", "no diabetes"))
    assert shown.medications == ("thiamazole (taken as methimazole)", "nosuchpill (not understood)", "carprofen")
    assert shown.conditions == (
        "arthritis (taken as osteoarthritis). Inflamed joints of immune or infectious cause are other diseases; ask "
        "which it is.",
        "no diabetes",
    )


def test_advice_of_a_condition_stands_with_what_to_watch_for_only() -> None:
    shown = sheet(conditions=("diabetes mellitus",))
    assert shown.conditions == ("diabetes mellitus",)
    assert [sign.action for sign in shown.watch_for if not sign.general] == [
        "Watch for changes in glucose control when any supplement starts or stops."
    ]


def test_findings_by_level_and_products_by_name() -> None:
    shown = sheet(
        given("1", other_ingredients="birch sugar", facts=(LabelFact("Devil's claw", "150 mg"),)),
        medications=("carprofen",),
    )
    assert shown.verdict == "stop"
    assert [(one.level, one.level_words) for one in shown.findings[:2]] == [
        ("avoid", "Do not give"),
        ("veterinarian", "Ask first"),
    ]
    assert "Named as: birch sugar (Invented tablet)." in shown.findings[0].text
    assert "product:" not in str(shown)


def test_a_duplication_is_told_once() -> None:
    duplicate = finding(kind="duplicate", level="watch", subjects=("glucosamine",), topic=None)
    record = finding(level="watch", subjects=("glucosamine", "glucosamine"), topic="duplication")
    other = finding(level="watch", subjects=("fish-oil", "krill-oil"), topic="duplication")
    assert told_once((duplicate, record, other)) == (duplicate, other)
    assert told_once((record,)) == (record,)


def test_remarks_on_the_presentation_of_several_products_are_one() -> None:
    chews = [given("1", id=f"p{number}", name=f"Invented chew {number}", unit="chew") for number in (1, 2)]
    remarks = [remark for remark in sheet(*chews).remarks if "tastes like food" in remark]
    assert len(remarks) == 1
    assert remarks[0].startswith("Invented chew 1, Invented chew 2: It tastes like food")


def test_gaps_are_counted_in_words() -> None:
    facts = (LabelFact("Glucosamine HCl", "500 mg"), LabelFact("MSM", "200 mg"))
    shown = sheet(given("1", facts=facts, other_ingredients="zorbex"))
    assert shown.gaps == (
        "Not understood, so not judged: \u201czorbex\u201d.",
        "Not assessed: 1 pair without any record and 1 amount without a recorded maximum.",
    )


def test_reassessments_of_one_day_stand_together() -> None:
    facts = (LabelFact("Glucosamine HCl", "500 mg"), LabelFact("MSM", "200 mg"))
    assert sheet(given("1", facts=facts), start_date=START).reassess == (
        ("2027-05-10", "after 70 days: glucosamine and MSM"),
    )
    assert sheet().reassess == (("day 71", "after 70 days: glucosamine"),)
    early = ProductTold(tablet("1"), from_date=date(2026, 1, 1))
    assert sheet(early, start_date=START).reassess == (("2026-03-12", "after 70 days: glucosamine"),)


def test_few_sources_and_the_number_of_the_others() -> None:
    shown = sheet()
    assert len(shown.sources) == 12
    assert shown.more_sources > 0
    assert shown.dataset == REFERENCE.stamp
    assert shown.checksum == "0" * 64


def test_a_line_of_a_label() -> None:
    (view,) = sheet(in_phases(units("3", weeks=6, name="loading"), units("1.5"))).given
    (table,) = view.tables
    assert [(one.much, one.doses, one.when, one.name) for one in table.phases] == [
        ("3 tablets a day", "1.5 + 1.5", "day 1 to 42", "loading"),
        ("1.5 tablets a day", "1 + 0.5", "from day 43 on", ""),
    ]
    (line,) = table.lines
    # 1500 mg of the hydrochloride hold 1246.4 mg of the base, 750 hold 623.2; three digits.
    assert (line.form, line.unit) == ("glucosamine hydrochloride", "500 mg (415 mg glucosamine)")
    assert line.days == ("1500 mg (1250 mg glucosamine)", "750 mg (623 mg glucosamine)")


def test_more_phases_than_fit_go_on_in_a_further_table() -> None:
    (view,) = sheet(in_phases(*(units(str(number), days=7) for number in (1, 2, 3, 4)), units("5"))).given
    assert [len(table.phases) for table in view.tables] == [3, 2]
    assert [line.days for line in view.tables[1].lines] == [
        ("2000 mg (1660 mg glucosamine)", "2500 mg (2080 mg glucosamine)")
    ]


def test_amounts_are_kept_on_one_line_where_they_fit() -> None:
    def fits(*phases: PhaseTold, name: str = "Glucosamine HCl") -> bool:
        (view,) = sheet(in_phases(*phases, facts=(LabelFact(name, "500 mg"),))).given
        return view.tables[0].fits

    one, two, three = units("1", days=7), units("2", days=7), units("3")
    assert fits(one, three)
    assert not fits(one, two, three)
    # "500 mg (10 to 500 mg undenatured type II collagen (as stated))" is wider than a column.
    assert not fits(three, name="Undenatured type II collagen")


def test_a_line_that_is_not_understood_or_hides_what_it_holds() -> None:
    facts = (LabelFact("Zorbex", "5 mg"), LabelFact("Joint blend: MSM, boswellia", "900 mg"), LabelFact("MSM", None))
    (view,) = sheet(given("1", facts=facts)).given
    unknown, blend, without = view.tables[0].lines
    assert (unknown.form, unknown.unit) == ("not understood", "5 mg")
    assert (blend.form, blend.left_open) == ("", ("a blend hides this amount",))
    assert (without.unit, without.days, without.left_open) == (
        "not known",
        ("not known",),
        ("a name without an amount",),
    )


def test_a_pause_and_an_unknown_amount() -> None:
    (view,) = sheet(in_phases(units("1", days=7), PhaseTold(units_per_day=D(0), days=7), units("1"))).given
    assert view.tables[0].phases[1].much == "nothing"
    (unknown,) = sheet(given(None)).given
    assert unknown.tables[0].phases[0].much == "amount not told"


def test_what_else_is_given_in_one_line() -> None:
    written = note(other_supplements=(tablet("2", id="s1"), tablet(None, id="s2", name=None, facts=())))
    assert [beside_view(one) for one in written.other_supplements] == [
        "Invented tablet: 2 tablets a day; in each tablet: Glucosamine HCl 500 mg (415 mg glucosamine)",
        "s2: amount not told",
    ]


def test_units_of_vitamins_without_a_mass_are_not_known() -> None:
    (view,) = sheet(given("1", facts=(LabelFact("Vitamin E", "10 CFU"),))).given
    assert view.tables[0].lines[0].unit == "not known"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("  two\n lines\tof   it ", "two lines of it"),
        ("line\u2028separator\u2029and\x85next", "line separator and next"),
        ("turned \u202etxt.exe\u202c around \u2066x\u2069\u200f", "turned txt.exe around x"),
    ],
)
def test_every_told_text_is_one_line_that_runs_one_way(text: str, line: str) -> None:
    assert told(text) == line


@pytest.mark.parametrize(
    ("units", "unit", "text"),
    [
        ("1", "tablet", "1 tablet"),
        ("0.5", "tablet", "0.5 tablet"),
        ("2", "tablet", "2 tablets"),
        ("2", "pouch", "2 pouches"),
        ("5", "ml", "5 ml"),
        ("3", "Messl\u00f6ffel", "3 Messl\u00f6ffel"),
        ("3", "soft chew", "3 soft chew"),
    ],
)
def test_counts(units: str, unit: str, text: str) -> None:
    assert count_of(D(units), unit) == text


def test_days_and_amounts() -> None:
    assert when(1, 42, None, None) == "day 1 to 42"
    assert when(1, None, START, None) == "from 2027-03-01 on"
    assert when(None, None, None, None) == "all along"
    assert milligrams(None, None) == "\u2013"


def test_there_is_a_word_for_every_word_of_the_answer() -> None:
    def among(schema: type, name: str) -> set[str]:
        (check,) = schema().fields[name].validators
        return {*check.choices}

    assert {*POSITIONS} == among(CareAmountSchema, "position")
    assert {*EVIDENCE} == among(CareEvidenceSchema, "verdict")
    assert {*REASONS} == among(NotAssessedSchema, "reason")
    assert {*VERDICTS} == {*ALL_VERDICTS}
    assert {*LEVELS} == {"avoid", "veterinarian", "watch", "note"}
    assert verdict_of((), ()) in VERDICTS


def test_no_word_promises_safety() -> None:
    words = (*VERDICTS.values(), *POSITIONS.values(), *LEVELS.values())
    assert not [word for word in words if "safe" in word.casefold()]


def test_a_product_without_a_name_goes_by_its_id() -> None:
    (product,) = note(given("1", name=None)).given
    assert given_view(product).name == "p1"
