"""Names of hazards that run over the end of a line."""

from __future__ import annotations

import pytest

from service.domain.label_wording import IGNORED_WORDS
from service.domain.line_wraps import unwrapped
from service.domain.name_index import NameIndex
from service.domain.near_misses import grave_hazard_of
from service.domain.resolving import resolver_for
from service.reference.records import Name
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
INDEX = NameIndex(REFERENCE.names, IGNORED_WORDS)


def _is_grave(row: Name) -> bool:
    return grave_hazard_of(REFERENCE, row) is not None


@pytest.mark.parametrize(
    ("printed", "read"),
    [
        ("cellulose, birch\nsugar, glycerin", "cellulose, birch sugar, glycerin"),
        ("water, tea\ntree oil", "water, tea tree oil"),
        # One item a line: nothing runs over.
        ("chicken\ngarlic\nflavouring", "chicken\ngarlic\nflavouring"),
        ("magnesium\nstearate", "magnesium\nstearate"),
        # A comma, a full stop or an empty line ends the item before.
        ("birch,\nsugar", "birch,\nsugar"),
        ("birch.\nsugar", "birch.\nsugar"),
        ("birch\n\nsugar", "birch\n\nsugar"),
        ("", ""),
    ],
)
def test_only_a_hazard_joins_two_lines(printed: str, read: str) -> None:
    assert unwrapped(printed, INDEX, _is_grave) == read


def test_a_list_is_read_over_its_line_ends() -> None:
    items = resolver_for(REFERENCE).resolve_list("cellulose, natural birch\nsugar, glycerin")
    assert [item.resolution.hazard for item in items] == [None, "xylitol", None]
