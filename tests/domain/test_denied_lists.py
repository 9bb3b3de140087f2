"""Denials over the commas of a list. Every list is our own."""

from __future__ import annotations

import pytest

from service.domain.resolving import resolver_for
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("printed", "denied"),
    [
        ("no garlic, onion, chocolate", True),
        ("ohne Mais, Knoblauch und Zwiebel", True),
        ("without wheat, garlic and onion", True),
        ("does not contain wheat, garlic and onion", True),
        ("no garlic, onion powder", False),
        ("no wheat, garlic and onion", False),
        # Signs of a list of what is in it.
        ("without wheat, garlic 2 % and onion", False),
        ("without wheat, glucosamine, garlic and onion", False),
        ("without wheat, cellulose, garlic and onion", False),
        ("without added sugar, garlic and onion", False),
        ("without wheat, with garlic and onion", False),
        ("without wheat, garlic, onion", False),
    ],
)
def test_what_a_denial_reaches(reference: Reference, printed: str, denied: bool) -> None:
    items = resolver_for(reference).resolve_list(printed)
    onion = [found for item in items for found in item.resolution.meanings if found.hazard == "allium"]
    assert [found.negated for found in onion] == [denied]


def test_one_name_with_commas_is_read_like_a_list(reference: Reference) -> None:
    found = resolver_for(reference).resolve("ohne Zucker, Xylit und Knoblauch")
    assert found.negated
    assert found.hazard is None
