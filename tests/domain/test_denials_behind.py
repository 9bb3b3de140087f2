"""Denials that stand behind a name."""

from __future__ import annotations

import pytest

from service.domain.denials_behind import denied_behind
from service.domain.label_text import words_and_breaks


@pytest.mark.parametrize(
    ("printed", "denied"),
    [
        ("garlic not added", True),
        ("garlic is not used", True),
        ("garlic not included but onion", True),
        ("garlic: none", True),
        ("garlic none", True),
        ("garlic - no", True),
        ("garlic not heated", False),
        # What follows may be what is denied.
        ("garlic not added sugar", False),
        ("garlic: no fillers", False),
        ("garlic no", False),
        ("garlic", False),
    ],
)
def test_what_is_denied_behind(printed: str, denied: bool) -> None:
    tokens, breaks = words_and_breaks(printed)
    assert bool(denied_behind(tokens, {1: 0}, breaks)) is denied


def test_the_name_directly_before_is_denied() -> None:
    assert denied_behind(("sugar", "and", "garlic", "not", "added"), {1: 0, 3: 2}, ()) == {3: 2}
