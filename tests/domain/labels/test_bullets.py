"""Marks that begin a line: bullets of a list, or footnotes."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.domain.labels.bullets import after_enumerator, is_bullet, is_symbol
from service.reference.release import Reference
from tests.domain.labels.laws import vanished_characters
from tests.domain.labels.reading import plain, sheet

SIGNS = "*#o\u25aa\u2713\u2714\u25ba\u2013\u00b7\u25b6\u25a0\u27a4\u25c6\u2605\u2022-\u00bb\u2192"


@pytest.mark.parametrize("sign", SIGNS)
def test_a_list_reads_like_its_lines_without_bullets(reference: Reference, sign: str) -> None:
    lines = ["Serving size: 2 chews", "Glucosamine HCl 500 mg", "60 chews", "$20"]
    text = "\n".join(f"{sign} {line}" for line in lines)
    answer, bare = read_label(reference, text), read_label(reference, "\n".join(lines))
    assert answer.product == bare.product
    assert plain([(fact.name, fact.mg) for fact in answer.facts]) == [("Glucosamine HCl", 500)]
    assert vanished_characters(text, answer) == []


@pytest.mark.parametrize(
    ("text", "bullet"),
    [
        ("* 180ct", True), ("* from shellfish", True), ("MSM* 5 mg\n* from shellfish", False),
        ("MSM 5 mg *\u2020\n\u2020 from shellfish", False), ("MSM** 5 mg\n* 60 chews", True),
        ("MSM* 5 mg\n* a\n* b\n* 60 chews", True), ("MSM 5 mg\n\u00b9 from shellfish", False),
        ("o MSM 5 mg\no 60 chews", True), ("MSM 5 mg\no 60 chews", False),
    ],
)  # fmt: skip
def test_a_mark_that_something_points_from_is_a_footnote(reference: Reference, text: str, bullet: bool) -> None:
    cut = sheet(reference, text)
    last = max((at + 1 for at, token in enumerate(cut.tokens) if token.kind == "newline"), default=0)
    assert is_bullet(cut, last) is bullet


def test_a_footnote_stays_one(reference: Reference) -> None:
    answer = read_label(reference, "Glucosamine HCl* 500 mg\nMSM 100 mg\n* from shellfish")
    assert [(one.kind, one.text) for one in answer.statements] == [("footnote", "* from shellfish")]


def test_the_usual_text_of_a_footnote_needs_nothing_that_points_at_it(reference: Reference) -> None:
    (one,) = read_label(reference, "* Daily value not established").statements
    assert (one.kind, one.text) == ("footnote", "* Daily value not established")


def test_ingredients_behind_a_bullet_are_listed(reference: Reference) -> None:
    answer = read_label(reference, "* Ingredients: salmon oil, xylitol")
    assert [one.text for one in answer.other_ingredients] == ["salmon oil", "xylitol"]
    assert [one.hazard for one in answer.hazards] == ["xylitol"]


@pytest.mark.parametrize(
    ("text", "after"), [("1) MSM", 2), ("12) MSM", 2), ("a) MSM", 2), ("123) MSM", 0), ("MSM) a", 0), ("1 MSM", 0)]
)
def test_numbers_of_a_list(reference: Reference, text: str, after: int) -> None:
    cut = sheet(reference, text)
    assert after_enumerator(cut, 0, len(cut.tokens)) == after


def test_pictures_and_arrows_say_nothing() -> None:
    assert [is_symbol(text) for text in ("\U0001f436", "\u2192", "\u00b0", "<", "(", "a", "5")] == [
        True, True, True, False, False, False, False,
    ]  # fmt: skip
