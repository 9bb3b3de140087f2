"""What follows from a class of medicines."""

from __future__ import annotations

from service.domain.screening import ScreenAnswer
from service.domain.screening_classes import implied_classes, narrower_members
from service.reference.release import Reference
from tests.domain.screening_requests import ask


def _found(answer: ScreenAnswer) -> set[tuple[str | None, str]]:
    return {(finding.topic, finding.level) for finding in answer.findings if finding.kind == "interaction"}


def test_what_every_medicine_of_a_class_is_the_class_is(reference: Reference) -> None:
    assert "serotonergic-drug" in implied_classes(reference, "ssri")
    assert "anticoagulant" in implied_classes(reference, "vitamin-k-antagonist")
    assert implied_classes(reference, "nsaid") == ()
    assert implied_classes(reference, "no-such-class") == ()


def test_one_medicine_does_not_speak_for_a_class(reference: Reference) -> None:
    members = [row.id for row in reference.medications.values() if "cardiac-glycoside" in row.class_ids]
    assert members == ["digoxin"]
    assert implied_classes(reference, "cardiac-glycoside") == ()


def test_narrower_members(reference: Reference) -> None:
    found = narrower_members(reference, "antibacterial")
    assert ("medication", "doxycycline") in found
    assert ("drug_class", "fluoroquinolone") in found
    assert ("drug_class", "any-oral") in found
    assert ("drug_class", "antibacterial") not in found


def test_a_record_on_the_wider_class_is_found(reference: Reference) -> None:
    assert ("serotonin", "avoid") in _found(ask(reference, "5-HTP", medications=("SSRI",)))


def test_a_class_of_which_some_have_a_record_leaves_the_screen_incomplete(reference: Reference) -> None:
    answer = ask(reference, "calcium", medications=("antibiotics",))
    assert answer.verdict == "incomplete"
    gaps = {(gap.a, gap.b) for gap in answer.not_assessed if gap.reason == "medicine_not_named"}
    assert gaps == {("calcium", "fluoroquinolone"), ("calcium", "tetracycline")}
    (unknown,) = answer.unrecognised
    assert unknown.text == "antibiotics"
    assert "fluoroquinolone antibiotic" in unknown.nearest
    assert "generic name" in (unknown.advice or "")


def test_what_the_class_itself_says_is_no_gap(reference: Reference) -> None:
    # Willow bark and any anti-inflammatory painkiller: the record on one of them adds no topic.
    answer = ask(reference, "willow bark", medications=("NSAID",))
    assert [gap for gap in answer.not_assessed if gap.reason == "medicine_not_named"] == []
    assert answer.unrecognised == ()
