"""Texts: printable on one line, measured, shortened."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pages.charts.plotting import LOCK, prepare
from service.pages.charts.text import clean, shorten, width, wrap
from tests.pages.charts.inventing import HOSTILE


@pytest.fixture(autouse=True)
def _ready() -> None:
    with LOCK:
        prepare()


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ("Plain  tablet\n500 mg", "Plain tablet 500 mg"),
        ("a\x00b\x1bc", "a b c"),
        # Right-to-left override: what follows would be shown backwards.
        ("safe\u202etxet", "safetxet"),
        ("half \ud800 pair \ufffe", "half pair"),
        ("\u00a0\u2028", "(no name)"),
        ("", "(no name)"),
        # A family of joined pictures and combining accents are texts like others.
        ("\U0001f468\u200d\U0001f469 e\u0301", "\U0001f468\u200d\U0001f469 e\u0301"),
    ],
)
def test_clean(given: str, expected: str) -> None:
    assert clean(given) == expected


@given(st.text())
def test_clean_text_can_stand_in_xml(text: str) -> None:
    cleaned = clean(text)
    assert cleaned
    assert clean(cleaned) == cleaned
    # XML 1.0, production 2 (Char), but for blanks other than the space.
    for char in cleaned:
        code = ord(char)
        assert 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or 0x10000 <= code


def test_width_grows_with_size_and_weight() -> None:
    assert width("Glucosamine", 24) == pytest.approx(2 * width("Glucosamine", 12))
    assert width("Glucosamine", 12, bold=True) > width("Glucosamine", 12)
    assert width("", 12) == 0
    # DejaVu Serif's digits are 0.636 em wide each (1303 units of 2048, from its own table of widths).
    assert width("0123456789", 10) == pytest.approx(63.6, abs=0.1)


def test_width_of_what_the_font_lacks_is_not_nothing() -> None:
    assert width("\u8edf\u9aa8", 10) >= 20
    assert width("\U0001f436", 10) >= 13


@given(st.text(), st.floats(20, 300))
def test_shortened_text_fits(text: str, room: float) -> None:
    shown = shorten(clean(text), room, 12)
    assert width(shown, 12) <= room
    assert shown == clean(text) or shown.endswith("\u2026")


def test_shortening_leaves_no_stray_joiner_or_blank() -> None:
    family = "\U0001f468\u200d\U0001f469\u200d\U0001f467"
    # Room for the first picture and its joiner.
    assert shorten(family, 2.6 * 10 + width("\u2026", 10), 10) == "\U0001f468\u2026"
    assert shorten("Plain tablet", width("Plain tab", 10), 10) in ("Plain t\u2026", "Plain ta\u2026")
    assert shorten("Plain tablet", width("Plain ", 10) + width("\u2026", 10), 10) == "Plain\u2026"


@given(st.text(max_size=200), st.floats(30, 400))
def test_wrapped_lines_fit(text: str, room: float) -> None:
    lines = wrap(clean(text), room, 11)
    assert all(width(line, 11) <= room for line in lines)
    assert lines


def test_wrap_keeps_the_words() -> None:
    words = "Information, not a prescription: ask a veterinarian"
    assert " ".join(wrap(words, 120, 11)) == words
    assert len(wrap(words, 120, 11)) > 2


def test_hostile_name_is_text() -> None:
    assert "<script>" in clean(HOSTILE)
    assert "\x00" not in clean(HOSTILE)
