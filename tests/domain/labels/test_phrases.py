"""Phrases of several words found at a token."""

from __future__ import annotations

import pytest

from service.domain.labels.phrases import Phrases, any_of, by_meaning, phrase_key, split
from service.domain.labels.plain_text import plain_text
from service.domain.labels.tokens import tokenise

PHRASES = Phrases({"net": "a", "net wt": "b", "net wt.": "c", "t\u00e4glich": "d", "% dv": "e"})


@pytest.mark.parametrize(
    ("text", "meaning", "end"),
    [
        ("net 5 g", "a", 1), ("Net Wt 5 g", "b", 2), ("NET WT. 5 g", "c", 3), ("taglich", "d", 1),
        ("T\u00c4GLICH", "d", 1), ("%DV", "e", 2),
    ],
)  # fmt: skip
def test_the_longest_phrase_wins(text: str, meaning: str, end: int) -> None:
    tokens = tokenise(plain_text(text))
    assert PHRASES.find(tokens, 0, len(tokens)) == (meaning, end)


def test_a_phrase_must_end_in_time() -> None:
    tokens = tokenise(plain_text("net wt"))
    assert PHRASES.find(tokens, 0, 1) == ("a", 1)
    assert PHRASES.find(tokens, 1, 2) is None
    assert PHRASES.find(tokens, 2, 2) is None


def test_what_was_said_first_holds() -> None:
    tokens = tokenise(plain_text("UND"))
    hit = Phrases({"und": 1, "Und": 2}).find(tokens, 0, 1)
    assert hit is not None
    assert hit.meaning == 1


def test_lists_written_as_one_text() -> None:
    assert split("per  day |\n  je tag") == ("per day", "je tag")
    tokens = tokenise(plain_text("je Tag"))
    assert any_of("per day | je tag").find(tokens, 0, 2) == (True, 2)
    assert by_meaning({1: ["one", "eins"], 2: ["two"]}) == {"one": 1, "eins": 1, "two": 2}
    assert phrase_key("Net-Wt.") == ("net", "-", "wt", ".")
