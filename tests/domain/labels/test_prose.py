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
