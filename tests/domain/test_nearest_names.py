"""Suggestions for a person: slips of the whole name, and names that share its words."""

from __future__ import annotations

import pytest

from service.domain.nearest_names import NearestNames
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
NEAREST = NearestNames(REFERENCE.names)


@pytest.mark.parametrize(
    ("printed", "among"),
    [
        ("condroitin", "chondroitin"),
        ("Glucosamin e", "glucosamine"),
        ("Bosvelia serata", "boswellia serrata"),
        ("devils root", "devil's claw root"),
        ("mussel, green lipped, New Zealand", "new zealand green lipped mussel"),
        ("MAGNESIUM STEARAT (vegetable)", "magnesium stearate vegetable"),
    ],
)
def test_what_a_person_may_have_meant_is_among_the_first(printed: str, among: str) -> None:
    assert among in [name.casefold().replace("-", " ") for name in NEAREST.nearest(printed)]


def test_each_suggestion_is_another_thing_and_there_are_three_at_most() -> None:
    found = NEAREST.nearest("glucosamine sulphat")
    rows = {row.name: (row.target_kind, row.target_id) for row in REFERENCE.names}
    assert 1 <= len(found) <= 3
    assert len({rows[name] for name in found}) == len(found)


def test_what_is_far_less_alike_than_the_best_is_left_out() -> None:
    assert NEAREST.nearest("chondroitine sulfat")[0] == "chondroïtine sulfate"
    assert not {"Aconitin", "cod protein"} & set(NEAREST.nearest("condroitin"))


@pytest.mark.parametrize("printed", ["zzzzzzzzzzzzzz", "", "!", "q" * 5000])
def test_nothing_comes_close_to_noise(printed: str) -> None:
    assert NEAREST.nearest(printed) == ()
