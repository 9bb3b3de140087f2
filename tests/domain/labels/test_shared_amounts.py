"""Amounts and bases that several names share. The amounts are invented."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import only_fact, plain


@pytest.mark.parametrize(
    "text",
    [
        "Glucosamine HCl\u2020 500 mg, MSM\u2020 250 mg (\u2020per 2 tablets)",
        "Glucosamine HCl* 500 mg, MSM* 250 mg\n*per 2 tablets",
        "Glucosamine HCl* 500 mg\nMSM* 250 mg\n* per 2 tablets",
    ],
)
def test_a_footnote_says_what_all_marked_amounts_are_for(reference: Reference, text: str) -> None:
    facts = read_label(reference, text).facts
    assert plain([fact.mg_per_unit for fact in facts]) == [250, 125]
    assert plain([fact.per.count for fact in facts if fact.per]) == [2, 2]


def test_an_unmarked_amount_is_left_alone(reference: Reference) -> None:
    first, second = read_label(reference, "MSM* 500 mg\nYucca 100 mg\n* per 2 tablets").facts
    assert plain((first.mg_per_unit, second.mg_per_unit)) == (250, 100)


def test_each_of_two_slashed_names_keeps_its_bracket(reference: Reference) -> None:
    first, second = read_label(reference, "Glucosamine HCl (shellfish)/MSM 500/400 mg").facts
    assert (first.name, first.amount) == ("Glucosamine HCl (shellfish)", "500 mg")
    assert (second.name, second.amount) == ("MSM", "400 mg")


def test_an_amount_without_a_name_of_its_own_is_another_column(reference: Reference) -> None:
    assert "several_columns" in only_fact(reference, "MSM 500 mg/250 mg").flags
