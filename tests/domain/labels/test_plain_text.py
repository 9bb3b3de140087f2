"""Printed characters made plain. The expected plain text is written by hand from what the print means."""

from __future__ import annotations

import pytest
from hypothesis import given

from service.domain.labels.plain_text import FOOTNOTE_DIGITS, TRADEMARK, plain_text
from tests.domain.labels.invented_labels import mangled


@pytest.mark.parametrize(
    ("printed", "plain"),
    [
        ("MSM 500 mg", "MSM 500 mg"),
        ("\u00bd tsp", "0.5 tsp"),
        ("2\u00bd chews", "2.5 chews"),
        ("1 \u00be tablets", "1.75 tablets"),
        ("\u2153 scoop", "0.3333 scoop"),
        ("5 \u00d7 10\u2078 CFU", "5 \u00d7 10^8 CFU"),
        ("10\u00b9\u00b2", "10^12"),
        ("\uff2d\uff33\uff2d \uff15\uff10\uff10\uff4d\uff47", "MSM 500mg"),
        ("\ufb01sh oil", "fish oil"),
        ("300 \u00b5g", "300 \u03bcg"),
        ("300 \u03bcg", "300 \u03bcg"),
        ("devil\u2019s claw", "devil's claw"),
        ("omega\u20113", "omega-3"),
        ("per\u00ad chew", "per chew"),
        ("500\u200bmg", "500mg"),
        ("1\u202f500\u2009mg", "1 500 mg"),
        ("gluco-\nsamine", "glucosamine"),
        ("gluco-\r\nsamine", "glucosamine"),
        ("omega-\n3", "omega-\n3"),
        ("MSM\r\nEPA\rDHA", "MSM\nEPA\nDHA"),
        ("e\u0301nergie", "\u00e9nergie"),
        ("\u0153uf", "oeuf"),
        ("MSM\u00ae", f"MSM{TRADEMARK}"),
    ],
)
def test_what_the_print_means(printed: str, plain: str) -> None:
    assert plain_text(printed).text == plain


def test_a_footnote_digit_never_joins_the_number() -> None:
    plain = plain_text("500\u00b9 mg")
    assert plain.text == f"500{FOOTNOTE_DIGITS[1]} mg"
    assert plain.marks == (("superscript_footnote", 3),)


@pytest.mark.parametrize(
    ("printed", "flag"),
    [
        ("1\u2009500", "thin_space"), ("1\u202f500", "narrow_nbsp"), ("1\u00a0500", "no_break_space"),
        ("5 \u03bcg", "greek_mu"), ("\ufb02our", "ligature"), ("\uff15", "fullwidth"), ("a\u200bb", "zero_width"),
        ("a\u00adb", "soft_hyphen"), ("\u00bd", "vulgar_fraction"), ("a-\nb", "hyphen_at_line_end"),
    ],
)  # fmt: skip
def test_what_is_unusual_is_told(printed: str, flag: str) -> None:
    assert flag in {mark for mark, _ in plain_text(printed).marks}


def test_every_plain_character_knows_where_it_stood() -> None:
    # The ligature stands at 0, the fraction with its whole number at 4 to 5.
    plain = plain_text("\ufb01sh 2\u00bd g")
    assert plain.text == "fish 2.5 g"
    assert list(zip(plain.starts, plain.ends, strict=True))[:2] == [(0, 1), (0, 1)]
    assert [plain.starts[at] for at in (5, 6, 7)] == [4, 4, 4]
    assert [plain.ends[at] for at in (5, 6, 7)] == [6, 6, 6]


def test_a_number_that_has_decimals_takes_no_fraction() -> None:
    assert plain_text("1.5 \u00bd").text == "1.5 0.5"


@given(mangled)
def test_places_run_forward_and_stay_inside(printed: str) -> None:
    plain = plain_text(printed)
    assert len(plain.text) == len(plain.starts) == len(plain.ends)
    assert list(plain.starts) == sorted(plain.starts)
    assert all(0 <= start <= end <= len(printed) for start, end in zip(plain.starts, plain.ends, strict=True))
    assert all(0 <= at <= len(plain.text) for _, at in plain.marks)
