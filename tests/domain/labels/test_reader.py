"""The order in which recognisers are tried, and what is left unread."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import LONGEST_LABEL, read_label
from service.domain.labels.reader import MOST_LINES, read_tokens, unread
from service.reference.release import Reference
from tests.domain.labels.laws import vanished_characters
from tests.domain.labels.reading import at


@pytest.mark.parametrize("text", ["qwrtz plonk 7 vrr", "Suite 200", "blorb"])
def test_what_nobody_understands_is_unread(reference: Reference, text: str) -> None:
    (one,) = read_label(reference, text).unread
    assert (one.text, one.start, one.end, one.why) == (text, 0, len(text), "not_understood")
    assert "unread_text" in read_label(reference, text).flags


def test_signs_alone_are_no_text(reference: Reference) -> None:
    assert unread(read_tokens(reference, "--- *** ... ___", None)) == () or all(
        "*" in one.text for one in unread(read_tokens(reference, "--- *** ... ___", None))
    )


def test_an_unread_part_beside_a_fact_points_to_its_place(reference: Reference) -> None:
    text = "MSM 500 mg\nqwrtz plonk vrr\nZinc oxide 5 mg"
    answer = read_label(reference, text)
    assert len(answer.facts) == 2
    (one,) = answer.unread
    assert text[one.start : one.end] == "qwrtz plonk vrr"


def test_lines_beyond_the_most_are_unread_and_do_not_vanish(reference: Reference) -> None:
    text = "\n".join("MSM 5 mg" for _ in range(MOST_LINES + 5))
    answer = read_label(reference, text)
    assert answer.unread[-1].end == len(text)
    assert vanished_characters(text, answer) == []


@pytest.mark.parametrize(
    "text",
    [
        "MSM 500 mg\nServing size: 2 chews\n90 chews", "90 chews\nMSM 500 mg\nServing size: 2 chews",
        "Serving size: 2 chews\n90 chews\nMSM 500 mg", "MSM 500 mg; 90 chews; Serving size: 2 chews",
        "90 chews \u2022 Serving size: 2 chews \u2022 MSM 500 mg",
    ],
)  # fmt: skip
def test_any_order_of_lines(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert [fact.mg_per_unit for fact in answer.facts] == [250]
    assert answer.product.unit_count == 90


@pytest.mark.parametrize(
    "piece",
    [
        "(", ")", "((((", "[(", "MSM 5 mg (", "1 ", "1,", "5 x 10^", "- ", "; ", "\n", "per ", "per 2 ", "of which ",
        "blend: ", "a, ", "xylitol ", "no ", "\u00bd", "\u00b9", "\u200b", "\u0301", "$", "5 mg ", "Ingredients: ",
    ],
)  # fmt: skip
def test_the_longest_text_of_one_piece_is_read_without_losing_any_of_it(reference: Reference, piece: str) -> None:
    text = (piece * LONGEST_LABEL)[:LONGEST_LABEL]
    answer = read_label(reference, text)
    # Speed is measured elsewhere; here nothing may be lost, however long it is.
    assert vanished_characters(text, answer)[:3] == []


def test_a_price_in_the_middle_of_a_line_is_read_by_itself(reference: Reference) -> None:
    text = "Lot 24C118  \u00a314.95"
    answer = read_label(reference, text)
    assert answer.price is not None
    assert at(text, answer.price.spans[0]) == "\u00a314.95"
    assert [one.kind for one in answer.statements] == ["identity"]


def test_a_bracket_around_a_line_hides_nothing(reference: Reference) -> None:
    answer = read_label(reference, "(90 tablets)")
    assert answer.container is not None
    assert answer.container.unit_count == 90
