"""Sentences without facts."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import at, plain


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Keep out of reach of children", "warning"), ("Achtung: nur f\u00fcr Tiere", "warning"),
        ("Tenir hors de port\u00e9e des enfants", "warning"), ("Mantener fuera del alcance", "warning"),
        ("Store below 25 \u00b0C", "storage"), ("K\u00fchl und trocken lagern", "storage"), ("Lot 24C118", "identity"),
        ("Best before 05/2027", "identity"), ("Supports healthy joints", "claim"), ("Unterst\u00fctzt die Gelenke",
        "claim"),
        ("100 % satisfaction guaranteed", "claim"),
        ("Amount per serving   % Daily Value", "heading"), ("Supplement facts", "heading"),
    ],
)  # fmt: skip
def test_kinds(reference: Reference, text: str, kind: str) -> None:
    answer = read_label(reference, text)
    assert [one.kind for one in answer.statements] == [kind]
    assert at(text, answer.statements[0].span) == text
    assert (answer.facts, answer.unread) == ((), ())


@pytest.mark.parametrize(
    ("text", "type_", "species"),
    [
        ("Complementary feed for dogs", "complementary feed", ("dog",)),
        ("Complementary feed for dogs and cats", "complementary feed", ("dog", "cat")),
        ("Erg\u00e4nzungsfuttermittel f\u00fcr Hunde", "complementary feed", ("dog",)),
        ("Aliment compl\u00e9mentaire pour chats", "complementary feed", ("cat",)),
        ("Pienso complementario para perros", "complementary feed", ("dog",)),
        ("Alleinfuttermittel f\u00fcr Katzen", "complete feed", ("cat",)),
        ("Dietary supplement", "dietary supplement", ()),
    ],
)
def test_the_statutory_kind_of_product(reference: Reference, text: str, type_: str, species: tuple[str, ...]) -> None:
    answer = read_label(reference, text)
    assert (answer.product_type, answer.species) == (type_, species)


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("** Daily Value not established", "daily_value_not_established"),
        ("\u2020 Daily Value (DV) not established.", "daily_value_not_established"),
        ("*Values are averages at time of manufacture; \u00b1 10 %", "tolerance"),
        ("Percent Daily Values are based on a 2,000 calorie diet", "daily_value_basis"),
    ],
)
def test_footnotes(reference: Reference, text: str, meaning: str) -> None:
    found = [one.meaning for one in read_label(reference, text).statements if one.kind == "footnote"]
    assert meaning in found


def test_a_tolerance_is_kept_as_a_share(reference: Reference) -> None:
    (one,) = [one for one in read_label(reference, "*Average values, \u00b1 10 %").statements if one.value is not None]
    assert (one.value, one.unit) == (Decimal("0.1"), "fraction")


def test_a_sum_of_actives_is_no_ingredient(reference: Reference) -> None:
    answer = read_label(reference, "Our 7-in-1 formula: 2,100 mg actives per scoop")
    (one,) = answer.statements
    assert plain((one.kind, one.meaning, one.value, one.unit)) == ("claim", "not_an_ingredient", 2100, "mg per scoop")
    assert answer.facts == ()
    assert "not_an_ingredient" in answer.flags


def test_a_warning_runs_to_the_end_of_its_block(reference: Reference) -> None:
    answer = read_label(reference, "Warning:\nNot for cats\nAsk your veterinarian\n\nMSM 500 mg")
    assert {one.kind for one in answer.statements} <= {"warning", "heading"}
    assert [fact.ingredient for fact in answer.facts] == ["msm"]


def test_a_hazard_in_a_claim_is_still_told(reference: Reference) -> None:
    assert [one.hazard for one in read_label(reference, "With delicious xylitol sweetness").hazards] == ["xylitol"]


@pytest.mark.parametrize(
    "text",
    [
        "Not for cats under 1 kg.", "5 mg of zinc per day must not be exceeded.", "Do not exceed 2 g of MSM daily",
        "Ne pas d\u00e9passer 2 g de MSM par jour", "5 mg Zink pro Tag nicht \u00fcberschreiten",
        "Not recommended for dogs under 5 kg", "Never exceed 4 tablets per day",
    ],
)  # fmt: skip
def test_a_limit_is_no_content(reference: Reference, text: str) -> None:
    answer = read_label(reference, f"Each tablet contains: MSM 150 mg. {text}")
    assert plain([(fact.name, fact.mg_per_unit) for fact in answer.facts]) == [("MSM", 150)]
    assert [one.kind for one in answer.statements] == ["heading", "warning"]
    assert (answer.directions, answer.other_ingredients) == ((), ())


@pytest.mark.parametrize(
    ("text", "claim"),
    [
        ("MAXIMUM STRENGTH - 650 mg glucosamine HCl", "MAXIMUM STRENGTH"),
        ("Extra strength: 650 mg glucosamine HCl and 300 mg MSM", "Extra strength"),
        ("Hip & Joint Support: 650 mg glucosamine HCl, 300 mg MSM", "Hip & Joint Support"),
        ("High potency \u2013 650 mg glucosamine HCl", "High potency"),
        ("2X STRENGTH: 650 mg glucosamine HCl", "2X STRENGTH"),
        ("Extra strength 650 mg glucosamine HCl per chew", "Extra strength"),
    ],
)
def test_praise_takes_no_amount(reference: Reference, text: str, claim: str) -> None:
    answer = read_label(reference, text)
    assert plain((answer.facts[0].name, answer.facts[0].mg)) == ("glucosamine HCl", 650)
    assert ("claim", claim) in [(one.kind, one.text) for one in answer.statements]
    assert (answer.other_ingredients, answer.unread) == ((), ())


@pytest.mark.parametrize("text", ["Turmeric - 500 mg", "MSM: 500 mg, glucosamine HCl 300 mg", "Maximum 2 g MSM"])
def test_names_and_bounds_are_no_praise(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert [one.kind for one in answer.statements] == []
    assert answer.facts[0].ingredient in ("turmeric", "msm")


def test_a_total_of_a_blend_is_not_that_of_its_first_member(reference: Reference) -> None:
    assert read_label(reference, "Super blend: 500 mg glucosamine HCl, MSM").facts == ()
