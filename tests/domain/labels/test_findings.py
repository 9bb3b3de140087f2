"""What has been found so far, and which tokens were understood."""

from __future__ import annotations

from service.domain.labels.findings import Findings
from service.reference.release import Reference
from tests.domain.labels.reading import at, plain, sheet

TEXT = "Keep out of reach. MSM 500 mg"


def _findings(reference: Reference) -> Findings:
    cut = sheet(reference, TEXT)
    return Findings(cut, bytearray(len(cut.tokens)))


def test_cover_marks_and_uncover_takes_back(reference: Reference) -> None:
    found = _findings(reference)
    found.cover(1, 4)
    found.uncover(2, 3)
    assert [place for place, covered in enumerate(found.covered) if covered] == [1, 3]
    assert len(found.covered) == len(found.sheet.tokens)


def test_a_sentence_keeps_its_place_and_counts_as_understood(reference: Reference) -> None:
    found = _findings(reference)
    found.state("warning", 0, 4, "meant")
    (one,) = found.statements
    assert (one.kind, one.text, one.meaning) == ("warning", "Keep out of reach", "meant")
    assert at(TEXT, one.span) == "Keep out of reach"
    assert bytes(found.covered[:5]) == b"\x01\x01\x01\x01\x00"


def test_a_new_section_forgets_the_unit_of_the_column_and_keeps_what_amounts_are_for(reference: Reference) -> None:
    found = _findings(reference)
    found.column_unit, group = reference.units["mg"], found.group
    found.new_section("active")
    assert plain((found.section, found.column_unit, found.group)) == ("active", None, group + 1)
