"""Lines and sentences."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.domain.labels.segments import segments
from service.reference.release import Reference
from tests.domain.labels.reading import plain, sheet


def _texts(reference: Reference, text: str) -> list[str]:
    cut = sheet(reference, text)
    return [cut.text(one.start, one.end) for one in segments(cut)]


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("a\nb", ["a", "b"]),
        ("MSM 5 mg; EPA 3 mg", ["MSM 5 mg", "EPA 3 mg"]),
        ("90 ct \u2022 4 g ea", ["90 ct", "4 g ea"]),
        ("a | b", ["a", "b"]),
        ("a (b; c) d", ["a (b; c) d"]),
        ("weighs approx. 6 g", ["weighs approx. 6 g"]),
        ("min 8000 mg/kg. Each treat weighs 6 g.", ["min 8000 mg/kg", "Each treat weighs 6 g"]),
        ("Good. Better! Best? Yes", ["Good", "Better", "Best", "Yes"]),
        ("St. John's wort", ["St. John's wort"]),
        ("0.5 g", ["0.5 g"]),
        ("Protein ..... 5 %", ["Protein ..... 5 %"]),
        ("", []),
    ],
)
def test_where_a_label_is_cut(reference: Reference, text: str, parts: list[str]) -> None:
    assert _texts(reference, text) == parts


def test_lines_blocks_and_indents_are_told_apart(reference: Reference) -> None:
    found = segments(sheet(reference, "a; b\n  c\n\nd"))
    assert [one.new_line for one in found] == [True, False, True, True]
    assert [one.new_block for one in found] == [True, False, False, True]
    assert [one.indent for one in found] == [0, 0, 2, 0]


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("MSM 100 mg *  *Daily Value not established.", ["MSM 100 mg *", "*Daily Value not established"]),
        ("MSM 100 mg* Daily Value not established", ["MSM 100 mg*", "Daily Value not established"]),
        ("MSM 100 mg ** ** Daily Value (DV) not established", ["MSM 100 mg **", "** Daily Value (DV) not established"]),
        ("MSM 5 mg Directions: 1 daily", ["MSM 5 mg", "Directions: 1 daily"]),
        ("yeast Additives per kg: zinc", ["yeast", "Additives per kg: zinc"]),
        ("List of Ingredients: yeast", ["List of Ingredients: yeast"]),
        ("Feline Ingredients: yeast", ["Feline Ingredients: yeast"]),
        ("* Ingredients: yeast", ["* Ingredients: yeast"]),
        ("MSM 150 mg. Not for cats", ["MSM 150 mg", "Not for cats"]),
        ("Serv. Size: 2 tabs", ["Serv. Size: 2 tabs"]),
        ("Weight | Initial | Maintenance", ["Weight | Initial | Maintenance"]),
    ],
)  # fmt: skip
def test_what_is_printed_in_one_line(reference: Reference, text: str, parts: list[str]) -> None:
    assert _texts(reference, text) == parts


@pytest.mark.parametrize("mark", ["*  *", "\u2020 \u2020", "", "* "])
def test_daily_values_are_no_time(reference: Reference, mark: str) -> None:
    answer = read_label(reference, f"MSM 100 mg {mark}Daily Value not established.")
    assert plain([(fact.name, fact.mg_per_serving, fact.flags) for fact in answer.facts]) == [("MSM", 100, ())]
    assert [one.kind for one in answer.statements] == ["footnote"]
