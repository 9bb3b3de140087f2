"""Names and amounts that the print has torn apart."""

from __future__ import annotations

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import at, plain


def test_an_amount_below_its_name(reference: Reference) -> None:
    answer = read_label(reference, "Glucosamine HCl\n500 mg\nMSM\n400 mg")
    assert plain([(fact.ingredient, fact.mg) for fact in answer.facts]) == [("glucosamine", 500), ("msm", 400)]


def test_a_name_over_two_lines(reference: Reference) -> None:
    answer = read_label(reference, "Chondroitin\nSulfate 200 mg")
    assert plain([(fact.ingredient, fact.mg) for fact in answer.facts]) == [("chondroitin-sulfate", 200)]


def test_as_many_names_as_amounts_are_paired_in_order(reference: Reference) -> None:
    answer = read_label(reference, "Glucosamine HCl\nChondroitin sulfate\nMSM\n500 mg\n400 mg\n300 mg")
    assert plain([(fact.ingredient, fact.mg) for fact in answer.facts]) == [
        ("glucosamine", 500), ("chondroitin-sulfate", 400), ("msm", 300),
    ]  # fmt: skip
    assert "columns_paired_by_order" in answer.flags


def test_columns_that_do_not_match_give_no_amount_to_any_name(reference: Reference) -> None:
    text = "Glucosamine HCl\nChondroitin sulfate\nMSM\n500 mg\n400 mg"
    answer = read_label(reference, text)
    assert [(fact.ingredient, fact.mg) for fact in answer.facts] == [
        ("glucosamine", None), ("chondroitin-sulfate", None), ("msm", None),
    ]  # fmt: skip
    assert "columns_not_paired" in answer.flags
    assert [one.text for one in answer.unread] == ["500 mg", "400 mg"]


def test_the_span_of_a_torn_fact_holds_its_name_and_its_number(reference: Reference) -> None:
    text = "Glucosamine HCl\nMSM\n500 mg\n300 mg"
    first, second = read_label(reference, text).facts
    assert (at(text, first.name_span), at(text, first.amount_span)) == ("Glucosamine HCl", "500 mg")
    assert (at(text, second.name_span), at(text, second.amount_span)) == ("MSM", "300 mg")
