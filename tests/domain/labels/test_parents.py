"""Which lines are parts of the line above. The amounts are invented."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import only_fact, plain


def test_omegas_stand_beside_one_another(reference: Reference) -> None:
    answer = read_label(reference, "Omega 3 500 mg\nOmega 6 100 mg\nOmega 9 50 mg")
    assert [(fact.name, fact.constituents) for fact in answer.facts] == [
        ("Omega 3", ()),
        ("Omega 6", ()),
        ("Omega 9", ()),
    ]


def test_an_oil_holds_them(reference: Reference) -> None:
    oil = only_fact(reference, "Fish oil 1000 mg\n Total omega-3 300 mg\n EPA 180 mg\n DHA 100 mg")
    assert [part.name for part in oil.constituents] == ["Total omega-3", "EPA", "DHA"]
    # The total is no further part: 180 + 100.
    assert plain((oil.ingredient, oil.moiety_low_mg, oil.moiety_high_mg)) == ("epa-dha", 280, 280)


def test_esters_leave_open_what_is_counted(reference: Reference) -> None:
    oil = only_fact(reference, "Omega-3 600 mg\n EPA (as ethyl ester) 270 mg\n DHA (as ethyl ester) 180 mg")
    # 270 x 0.91512 + 180 x 0.921318 = 412.92 as esters, 450 as acids (source chem-pkg).
    assert (f"{oil.moiety_low_mg:.2f}", plain(oil.moiety_high_mg), plain(oil.mg)) == ("412.92", 450, 600)
    assert "ester_or_acid_ambiguous" in oil.flags


def test_more_than_the_whole_is_what_it_was_made_from(reference: Reference) -> None:
    herb = only_fact(reference, "Hawthorn berry 5:1 50 mg (yields 250 mg berry)")
    assert herb.constituents == ()
    assert plain((herb.mg, [(one.kind, one.value) for one in herb.second_figures])) == (50, [("equivalent", 250)])


def test_more_of_a_part_than_of_the_whole_is_inconsistent(reference: Reference) -> None:
    assert "label_inconsistent" in only_fact(reference, "Omega-3 100 mg (EPA 200 mg)").flags


@pytest.mark.parametrize(
    "text", ["DHA (from algal oil) 100 mg", "Omega-3 (from flaxseed) 300 mg", "DHA (Algenöl) 100 mg"]
)
def test_named_sources_bring_no_fish(reference: Reference, text: str) -> None:
    assert read_label(reference, text).allergens == ()
