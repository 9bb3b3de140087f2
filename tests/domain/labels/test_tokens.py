"""Plain text cut into tokens."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given

from service.domain.labels.plain_text import TRADEMARK, plain_text
from service.domain.labels.tokens import Token, folded, tokenise
from tests.domain.labels.invented_labels import mangled


def _tokens(text: str) -> tuple[Token, ...]:
    return tokenise(plain_text(text))


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("1,000.5 mg", ["1,000.5", "mg"]),
        ("500mg", ["500", "mg"]),
        ("1'500 g", ["1'500", "g"]),
        ("devil's claw", ["devil's", "claw"]),
        ("3b607", ["3", "b607"]),
        ("MSM\u00ae500", ["MSM", "500"]),
        ("EPA\u2020 20", ["EPA", "\u2020", "20"]),
        ("** DV", ["**", "DV"]),
        ("a\n\nb", ["a", "\n", "\n", "b"]),
        ("25\u00b0C", ["25", "\u00b0", "C"]),
        ("12.", ["12", "."]),
    ],
)
def test_pieces(text: str, pieces: list[str]) -> None:
    assert [token.text for token in _tokens(text)] == pieces


def test_kinds() -> None:
    assert [token.kind for token in _tokens("MSM* 500\n(mg)")] == [
        "word", "mark", "number", "newline", "sign", "word", "sign",
    ]  # fmt: skip


def test_glued_says_that_no_blank_stands_before() -> None:
    assert [token.glued for token in _tokens("500mg per\nchew")] == [False, True, False, True, False]


def test_a_word_is_compared_in_lower_case_without_accents() -> None:
    (word,) = _tokens("Comprim\u00c9")
    assert (word.text, word.fold) == ("Comprim\u00c9", "comprime")
    assert folded("MSM") == "msm"


@given(mangled)
def test_only_blanks_and_trademarks_are_left_out(text: str) -> None:
    plain = plain_text(text)
    tokens = tokenise(plain)
    assert all(plain.text[token.start : token.end] == token.text for token in tokens)
    assert all(left.end <= right.start for left, right in pairwise(tokens))
    told = "".join(token.text for token in tokens)
    kept = "".join(char for char in plain.text if (char == "\n" or not char.isspace()) and char != TRADEMARK)
    assert "".join(char for char in told if char == "\n" or not char.isspace()) == kept
