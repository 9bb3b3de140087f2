"""Cautions that follow from how the rows behind an answer are known."""

from __future__ import annotations

import pytest

from service.domain.common import origin_cautions


@pytest.mark.parametrize(
    ("origins", "codes"),
    [
        (set(), []),
        ({"read", "cited"}, []),
        ({"memory", "read"}, ["from_memory"]),
        ({"memory", "common_practice"}, ["common_practice", "from_memory"]),
    ],
)
def test_one_caution_for_each_weak_origin(origins: set[str], codes: list[str]) -> None:
    assert [caution.code for caution in origin_cautions(origins)] == codes
