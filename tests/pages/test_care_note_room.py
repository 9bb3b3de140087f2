"""How large a care note is printed."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from service.pages.care_note import Sheet, sheet_of
from service.pages.care_note_room import lines_of, size_of
from tests.domain.care.making import REFERENCE, given, note

STYLES = (Path(__file__).parents[2] / "service" / "pages" / "static" / "care_note.css").read_text("utf-8")


def sheet(**more: object) -> Sheet:
    return sheet_of(note(given("1"), **more), REFERENCE.stamp, REFERENCE.sources)


def test_lines_are_counted_by_hand() -> None:
    bare = replace(
        sheet(), amounts=(), medications=(), supplements=(), conditions=(), observations=(), findings=(), remarks=(),
        gaps=(), questions=(), watch_for=(), reassess=(),
    )  # fmt: skip
    # One product: its name line, two of the head of its table, one of its only line; two for the other table.
    assert lines_of(bare) == 1 + 2 + 1 + 2
    # A text of 63 characters takes two lines of a column, and two columns stand side by side.
    assert lines_of(replace(bare, remarks=("x" * 63,))) == lines_of(bare) + 1
    assert lines_of(replace(bare, remarks=("x" * 63, "y"))) == lines_of(bare) + 2


def test_a_short_note_is_set_large_and_a_full_one_small() -> None:
    short = sheet()
    sizes = [size_of(replace(short, observations=("x" * 62,) * count)) for count in range(0, 120, 2)]
    # More on it never makes it larger, until it goes on to a second sheet at the ordinary size.
    assert [size for index, size in enumerate(sizes) if index == 0 or sizes[index - 1] != size] == [
        "roomy",
        "ordinary",
        "dense",
        "ordinary",
    ]


def test_every_size_has_its_style() -> None:
    assert {"roomy", "dense"} <= {*re.findall(r"\.(\w+) \{ --size:", STYLES)}
