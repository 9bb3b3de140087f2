"""Words and numbers as people read them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pages.wording import (
    amount_for_people,
    brief,
    cited,
    evidence_words,
    given_only,
    level_words,
    number,
    origin_words,
    sentence_case,
    short_address,
    span,
    verdict_words,
    words,
)
from service.reference.records import Source


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Decimal("1000.00"), "1000"),
        (Decimal("1E+3"), "1000"),
        (Decimal("0.10"), "0.1"),
        (1234, "1234"),
        (12345, "12\u202f345"),
        (Decimal("-1234567.5"), "-1\u202f234\u202f567.5"),
        (0.1, "0.1"),
        (0, "0"),
        (None, "\u2013"),
    ],
)
def test_numbers(value: Decimal | float | int | None, written: str) -> None:
    assert number(value) == written


@pytest.mark.parametrize(
    ("low", "high", "written"),
    [
        (Decimal(500), Decimal(1000), "500 to 1000"),
        (Decimal(5), Decimal("5.0"), "5"),
        (Decimal(60), None, "60 or more"),
        (None, Decimal(5), "up to 5"),
        (None, None, "\u2013"),
    ],
)
def test_ranges(low: Decimal | None, high: Decimal | None, written: str) -> None:
    assert span(low, high) == written


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        # By hand: inwards to three digits, the nearest where both ends agree, as it is where three digits are too few.
        ("176.471", "352.941", ("177", "352")),
        ("1000", "2000", ("1000", "2000")),
        ("0.0123456", "0.0198765", ("0.0124", "0.0198")),
        ("123.46", "123.46", ("123", "123")),
        ("100.1", "100.9", ("100.1", "100.9")),
    ],
)
def test_amounts_for_people(low: str, high: str, shown: tuple[str, str]) -> None:
    assert amount_for_people(Decimal(low), Decimal(high)) == tuple(map(Decimal, shown))


@given(
    st.decimals("0.001", "100000", places=4, allow_nan=False),
    st.decimals("0", "100000", places=4, allow_nan=False),
)
def test_an_amount_for_people_never_leaves_its_range(low: Decimal, more: Decimal) -> None:
    shown_low, shown_high = amount_for_people(low, low + more)
    assert shown_low <= shown_high
    if more:
        assert low <= shown_low
        assert shown_high <= low + more
    assert shown_low > 0


def source(**changes: str | None) -> Source:
    """Give an invented source, changed."""
    plain: dict[str, str | None] = {"authors": None, "year": None, "container": None, "doi": None, "url": None}
    fixed = {"id": "s", "title": "An invented title", "seen_as": None, "origin": "read", "note": None}
    return Source(**{**plain, **fixed, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("authors", "year", "short"),
    [
        ("Invented A", "2001", "Invented 2001"),
        ("Invented AB, Other C", "2001", "Invented et al. 2001"),
        ("van Invented A; Other C", "2001 (recalled)", "van Invented et al. 2001"),
        ("Invented A et al", None, "Invented et al."),
        ("INV CVM", "2003", "INV CVM 2003"),
        ("Invented A (recalled)", "1999", "Invented 1999"),
        (None, "1999", "An invented title"),
    ],
)
def test_short_names_of_sources(authors: str | None, year: str | None, short: str) -> None:
    assert brief(source(authors=authors, year=year)) == short


def test_a_long_title_is_cut_at_a_word() -> None:
    short = brief(source(title="word " * 30))
    assert short.endswith("word \u2026")
    assert len(short) <= 50


def test_words_of_the_interface() -> None:
    assert words("nothing_found") == "nothing found"
    assert words(None) == "\u2013"
    assert sentence_case("msm") == "Msm"
    assert sentence_case("") == ""
    assert origin_words("memory") == "from memory"
    assert origin_words("new_word") == "new word"
    assert evidence_words(None) == "Not tested"
    assert evidence_words("new_word") == "new word"
    assert verdict_words("nothing_found") == "Nothing found"
    assert level_words("veterinarian") == "Ask a veterinarian first"


@pytest.mark.parametrize(
    ("url", "short"),
    [
        ("https://doi.org/10.1000/1", "doi.org/10.1000/1"),
        ("https://www.example.org/a/b?c", "example.org"),
        ("http://example.org", "example.org"),
    ],
)
def test_short_addresses(url: str, short: str) -> None:
    assert short_address(url) == short


def test_what_was_filled_in_and_what_is_cited() -> None:
    assert given_only({"a": "1", "b": ""}) == {"a": "1"}
    one: dict[str, str | None] = {"id": "s1"}
    assert cited(("s1", "s1"), {"s1": one}) == [one, one]
