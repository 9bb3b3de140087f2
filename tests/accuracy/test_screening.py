"""The figures of the screen leave nothing out."""

from __future__ import annotations

import re

from tests.accuracy.screening import report


def test_everything_is_reached_and_right() -> None:
    lines = report().splitlines()
    assert [line.split(":")[0] for line in lines] == [
        "interaction rows reached",
        "interaction cases right",
        "spellings of medicines understood",
        "words for conditions understood",
    ]
    for line in lines:
        right, of = map(int, re.findall(r"[0-9]+", line))
        assert right == of > 0, line
