"""Names of several words of which one is misspelt."""

from __future__ import annotations

import pytest

from service.domain.near_phrases import NearPhrases

NAMES = NearPhrases([("cream", "of", "tartar"), ("green", "tea"), ("willow", "bark"), ("alpha", "lipoic", "acid")])


@pytest.mark.parametrize(
    ("printed", "name"),
    [
        ("cream of tratar", "cream of tartar"),
        ("the cream of tartr", "cream of tartar"),
        ("wilow bark", "willow bark"),
        ("willow bark", None),
        # Too short to tell, and another word altogether.
        ("green pea", None),
        ("willow leaf", None),
    ],
)
def test_one_word_may_be_a_slip(printed: str, name: str | None) -> None:
    tokens = tuple(printed.split())
    found = {" ".join(words) for words, _printed in NAMES.near(tokens, range(len(tokens)))}
    assert found == ({name} if name else set())


def test_only_what_was_not_understood_is_a_slip() -> None:
    assert not list(NAMES.near(("wilow", "bark"), [1]))
