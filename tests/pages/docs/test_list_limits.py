"""Limits of what can grow, by operation."""

from __future__ import annotations

from service.pages.docs.list_limits import list_limits
from tests.pages.docs.documents import DOCUMENT


def test_lists_and_long_texts_are_listed_once() -> None:
    found, body = list_limits(DOCUMENT)
    assert (found.anchor, found.tag, found.members) == ("get_toy", "toys", (("colours", "at most 3 entries"),))
    # make_toy_html takes the same body and is not listed again.
    assert (body.method, body.path) == ("POST", "/toys")
    assert body.members == (
        ("name", "1 to 2,000 characters"),
        ("front", "2 entries"),
        ("colours", "at most 5 entries; each at most 20 characters"),
    )
