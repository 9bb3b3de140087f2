"""Brackets of a name, position by position."""

from __future__ import annotations

import pytest

from service.domain.bracket_reading import read_brackets
from service.domain.label_text import words
from service.domain.label_wording import IGNORED_WORDS
from service.domain.name_index import NameIndex
from service.reference.release import Reference
from service.reference.releases import load_working_tables

INDEX = NameIndex(load_working_tables().names, IGNORED_WORDS)


@pytest.mark.parametrize(
    ("name", "before", "understood"),
    [
        # Before the bracket a short name counts; inside, it must say what stands outside.
        ("EPA (from fish oil)", {"epa-dha"}, set()),
        ("Zinc (Zn)", set(), {"zn"}),
        ("Zinc (as oxide)", set(), {"oxide"}),
        ("Kalium (als Chlorid)", set(), {"chlorid"}),
        ("collagen (ALA)", set(), set()),
        ("omega-3 (zorblaxin)", set(), set()),
        # Without a bracket there is nothing to read.
        ("EPA from fish oil", set(), set()),
        ("zinc Zn", set(), set()),
    ],
)
def test_reading(reference: Reference, name: str, before: set[str], understood: set[str]) -> None:
    tokens = words(name)
    read = read_brackets(reference, INDEX, name, tokens, INDEX.scan(tokens))
    assert {reference.owner_of(hit.row) for hit in read.hits} == before
    assert {tokens[at] for at in read.understood} == understood


def test_a_cut_that_would_change_the_words_is_not_made(reference: Reference) -> None:
    # "E450(i)" is one code: cutting at its bracket would make two words of it.
    tokens = words("diphosphates E450(i) (zorblaxin)")
    read = read_brackets(reference, INDEX, "diphosphates E450(i) (zorblaxin)", tokens, INDEX.scan(tokens))
    assert (read.hits, read.understood) == ((), frozenset())
