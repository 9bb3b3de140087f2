"""Tokens with brackets, units and spans."""

from __future__ import annotations

import pytest

from service.domain.labels.sheet import Span
from service.reference.release import Reference
from tests.domain.labels.reading import at, sheet


@pytest.mark.parametrize(
    ("text", "insides"),
    [
        ("MSM (500 mg) x", ["500 mg"]),
        ("a [b (c) d]", ["b (c) d", "c"]),
        ("a (b", []),
        ("a (b] c", []),
        ("a (b\n\nc) d", []),
        ("a (b\nc) d", ["b c"]),
    ],
)
def test_brackets(reference: Reference, text: str, insides: list[str]) -> None:
    cut = sheet(reference, text)
    found = [cut.text(*inside) for place in range(len(cut.tokens)) if (inside := cut.inside(place))]
    assert found == insides


def test_a_bracket_that_runs_too_far_opens_nothing(reference: Reference) -> None:
    cut = sheet(reference, f"a ({'b ' * 500}) c")
    assert cut.closing == {}


def test_a_number_and_its_unit_are_joined_over_a_line_end(reference: Reference) -> None:
    assert [token.text for token in sheet(reference, "MSM 500\nmg\nEPA 5").tokens] == [
        "MSM",
        "500",
        "mg",
        "\n",
        "EPA",
        "5",
    ]
    assert "\n" in [token.text for token in sheet(reference, "EPA 90\nMSM 5 mg").tokens]


def test_spans_point_into_the_text_as_given(reference: Reference) -> None:
    text = "1\u202f000\u200b mg \ufb01sh"
    cut = sheet(reference, text)
    assert at(text, cut.span(0, 2)) == "1\u202f000\u200b"
    assert at(text, cut.span(3, 4)) == "\ufb01sh"
    assert cut.span(2, 2) == Span(0, 0)


def test_text_is_without_marks_and_line_ends(reference: Reference) -> None:
    cut = sheet(reference, "MSM\u00b2\u00ae (a\nb)")
    assert cut.text(0, len(cut.tokens)) == "MSM (a b)"
    assert cut.text(1, 1) == ""


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("MG", "milligram"),
        ("mg", "milligram"),
        ("\u00b5g", "microgram"),
        ("\u03bcg", "microgram"),
        ("fl oz", "fluid-ounce"),
    ],
)
def test_units_as_labels_print_them(reference: Reference, text: str, unit: str) -> None:
    cut = sheet(reference, text)
    hit = cut.units.find(cut.tokens, 0, len(cut.tokens))
    assert hit is not None
    assert (hit.meaning.unit, hit.end) == (unit, len(cut.tokens))


def test_a_name_is_looked_up_with_its_denial(reference: Reference) -> None:
    cut = sheet(reference, "xylitol")
    assert cut.exact("xylitol").hazard == "xylitol"
    assert cut.exact("xylitol", denied=True).negated
    assert not cut.exact("xylitol").negated
