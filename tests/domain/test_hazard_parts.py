"""Parts of names that lead to one hazard and to nothing else."""

from __future__ import annotations

import pytest

from service.domain.hazard_parts import HazardParts
from service.domain.near_misses import grave_hazard_of
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
PARTS = HazardParts(
    REFERENCE.names,
    {
        row: hazard
        for row in REFERENCE.names
        if (hazard := grave_hazard_of(REFERENCE, row)) and row.match_mode == "phrase"
    },
)


def _hazards(*left_over: str) -> set[str]:
    return {hazard for _word, _row, hazard in PARTS.named_by(list(left_over))}


@pytest.mark.parametrize(
    ("left_over", "hazard"),
    [
        (("alpha", "lipoic"), "alpha-lipoic-acid"),
        (("tartaric", "buffer"), "tartaric-acid"),
        (("johimbe",), "yohimbine"),
    ],
)
def test_a_telling_part_names_its_hazard(left_over: tuple[str, ...], hazard: str) -> None:
    assert hazard in _hazards(*left_over)


@pytest.mark.parametrize(
    "left_over",
    [
        # Stand in names of hazards, and describe anything.
        ("queensland",),
        ("crystals",),
        ("joint",),
        # Not the acid's own word, and shared with harmless names.
        ("linoleic",),
        # An epithet behind a genus that nobody knows: plants of other genera share it.
        ("tinosperma", "cordifolia"),
        (),
    ],
)
def test_a_word_that_others_share_names_nothing(left_over: tuple[str, ...]) -> None:
    assert _hazards(*left_over) == set()
