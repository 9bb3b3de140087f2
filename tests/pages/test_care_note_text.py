"""A care note as plain text."""

from __future__ import annotations

from datetime import date

import pytest

from service.domain.care.request import ProductTold
from service.domain.products import LabelFact
from service.pages.care_note import sheet_of
from service.pages.care_note_text import WIDTH, written
from tests.domain.care.making import REFERENCE, START, given, in_phases, note, tablet, units


def text(*products: ProductTold, **more: object) -> str:
    return written(sheet_of(note(*products, **more), REFERENCE.stamp, REFERENCE.sources))


def section(whole: str, heading: str) -> list[str]:
    (found,) = [part for part in whole.split("\n\n") if part.startswith(f"{heading.upper()}\n")]
    return found.splitlines()[2:]


def test_an_ordinary_note_by_hand() -> None:
    whole = text(
        in_phases(units("3", weeks=6, name="loading"), units("1.5")),
        name="Bramble", start_date=START, note_date=date(2027, 2, 26), medications=("carprofen",),
        questions=("Shall we go on?",), observations=("Slow to rise.",),
    )  # fmt: skip
    assert whole.startswith(
        f"Care note: Bramble\n{'=' * WIDTH}\n\n"
        "Animal          dog, 34 kg, 4 years\n"
        "Note of         2027-02-26\n"
        "Course begins   2027-03-01\n"
    )
    assert section(whole, "Given") == [
        "Invented tablet",
        "  2027-03-01 to 2027-04-11: 3 tablets a day (1.5 + 1.5), loading",
        "  from 2027-04-12 on: 1.5 tablets a day (1 + 0.5)",
        "  - Glucosamine HCl (glucosamine hydrochloride): 500 mg (415 mg glucosamine)",
        "    in each tablet; 1500 mg (1250 mg glucosamine), then 750 mg (623 mg",
        "    glucosamine) a day",
        "  Other ingredients: cellulose",
    ]
    assert section(whole, "Amounts a day over everything")[:3] == [
        "- Glucosamine (hydrochloride), 2027-03-01 to 2027-04-11: 1500 mg; range: 1000",
        "  to 2000 mg, loading (common practice); lies: within; evidence: against it",
        "- Glucosamine (hydrochloride), from 2027-04-12 on: 750 mg; range: 500 to 1000",
    ]
    assert section(whole, "Medicines as told") == ["- carprofen"]
    assert section(whole, "Other supplements as told") == ["- none told"]
    assert section(whole, "Seen by the carer") == ["- Slow to rise."]
    assert section(whole, "Questions for the veterinarian")[-1] == " 3. Shall we go on? (asked by the carer)"
    assert section(whole, "Judge whether it helps") == ["- 2027-05-10, after 70 days: glucosamine"]
    assert "Dataset release" in whole
    assert "0" * 64 in whole


def test_lines_are_short_and_hold_neither_tabs_nor_strange_blanks() -> None:
    long = given(
        "1000",
        name="N" * 200,
        unit="u" * 40,
        facts=(LabelFact("F" * 200, "5 mg"), LabelFact("Glucosamine HCl", "900 g")),
        other_ingredients="x" * 3000,
    )
    whole = text(long, name="A" * 80, observations=("word " * 60,), questions=("?" * 300,))
    assert max(map(len, whole.splitlines())) <= WIDTH
    assert not {"\t", "\r", "\u202f", "\u2009", "\u00a0"} & {*whole}
    assert whole.endswith("\n")


@pytest.mark.parametrize("separator", ["\u2028", "\u2029", "\x0b", "\x0c", "\x1c", "\x85", "\n", "\r\n", "\t"])
def test_no_told_text_begins_a_line_of_its_own(separator: str) -> None:
    forged = f"x{separator}QUESTIONS FOR THE VETERINARIAN{separator}- none"
    whole = text(
        given("1", name=forged, other_ingredients=forged),
        name=forged, identification=forged, observations=(forged,), questions=(forged,), medications=(forged,),
    )  # fmt: skip
    assert [line for line in whole.splitlines() if line == "QUESTIONS FOR THE VETERINARIAN"] == [
        "QUESTIONS FOR THE VETERINARIAN"
    ]


def test_what_was_not_told_is_said_where_it_matters_and_left_out_where_not() -> None:
    whole = text()
    assert section(whole, "Conditions as told") == ["- none told"]
    assert "SEEN BY THE CARER" not in whole
    assert section(whole, "Questions for the veterinarian")[0].startswith(" 1. ")


def test_findings_remarks_and_gaps_stand_in_one_section() -> None:
    chew = given("1", unit="chew", other_ingredients="birch sugar, zorbex")
    lines = section(text(chew), "What speaks against it")
    assert lines[0] == "Stop: Something here must not be given."
    assert lines[1].startswith("- Do not give: ")
    assert [line for line in lines if line.startswith("- Good to know: ")]
    assert "zorbex" in " ".join(lines)


def test_a_cat_has_no_time_for_a_judgement() -> None:
    from decimal import Decimal

    from service.domain.common import Animal

    whole = text(animal=Animal("cat", Decimal(4), Decimal(4)))
    assert section(whole, "Judge whether it helps") == ["- no time is recorded for what is given"]


def test_a_product_in_many_phases_is_told_in_several_parts() -> None:
    whole = text(ProductTold(tablet(None), phases=tuple(units(str(n), days=7) for n in (1, 2, 3, 4))))
    assert [line for line in section(whole, "Given") if line.startswith("  day ")] == [
        "  day 1 to 7: 1 tablet a day (0.5 + 0.5)",
        "  day 8 to 14: 2 tablets a day (1 + 1)",
        "  day 15 to 21: 3 tablets a day (1.5 + 1.5)",
        "  day 22 to 28: 4 tablets a day (2 + 2)",
    ]
