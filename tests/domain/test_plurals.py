"""One form for a word and its plural."""

from __future__ import annotations

import pytest

from service.domain.plurals import without_number


@pytest.mark.parametrize(
    ("plural", "singular"),
    [
        ("sweeteners", "sweetener"),
        ("currants", "currant"),
        ("berries", "berry"),
        ("leaves", "leaf"),
        ("radishes", "radish"),
        ("oils", "oil"),
    ],
)
def test_singular_and_plural_have_one_form(plural: str, singular: str) -> None:
    assert without_number(plural) == without_number(singular) == singular


@pytest.mark.parametrize("word", ["citrus", "glass", "cassis", "gas", "e100s", "msm"])
def test_what_only_looks_like_a_plural_stays(word: str) -> None:
    assert without_number(word) == word
