"""What a line begins with and does not say."""

from __future__ import annotations

import pytest

from service.domain.labels.findings import Findings
from service.domain.labels.line_heads import trimmed
from service.domain.labels.segments import segments
from service.reference.release import Reference
from tests.domain.labels.reading import sheet


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("- MSM 5 mg", "MSM 5 mg"), ("\u2192 MSM 5 mg", "MSM 5 mg"), ("(90 tablets)", "90 tablets"),
        ("> 20 kg: 2 tablets", "> 20 kg: 2 tablets"), ("> MSM", "MSM"), ("* 60 chews", "60 chews"),
        ("* Daily value not established", "* Daily value not established"), ("1) MSM 5 mg", "MSM 5 mg"),
    ],
)  # fmt: skip
def test_what_is_left(reference: Reference, text: str, rest: str) -> None:
    cut = sheet(reference, text)
    found = Findings(cut, bytearray(len(cut.tokens)))
    (segment,) = segments(cut)
    line = trimmed(found, segment, segment.start, segment.end)
    assert line is not None
    assert cut.text(line.start, line.end) == rest
    assert all(found.covered[: line.start])


@pytest.mark.parametrize("part", ["60 chews", "$20", "Serving size: 2 chews", "Ingredients: MSM"])
def test_a_part_of_a_label_is_no_footnote_though_something_points_at_its_mark(reference: Reference, part: str) -> None:
    cut = sheet(reference, f"MSM* 5 mg\n* {part}")
    found = Findings(cut, bytearray(len(cut.tokens)))
    segment = segments(cut)[1]
    line = trimmed(found, segment, segment.start, segment.end)
    assert line is not None
    assert cut.text(line.start, line.end) == part


def test_signs_alone_leave_nothing(reference: Reference) -> None:
    cut = sheet(reference, "- - -")
    (segment,) = segments(cut)
    assert trimmed(Findings(cut, bytearray(len(cut.tokens))), segment, segment.start, segment.end) is None
