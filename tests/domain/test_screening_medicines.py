"""What to know of the medicines themselves."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.screening_answers import ScreenRequest
from service.domain.screening_medicines import medicine_cautions, medicine_findings
from service.domain.screening_subjects import read_subjects
from service.reference.release import Reference

CAT = Animal("cat", Decimal(4))


def _codes(reference: Reference, animal: Animal, *medications: str) -> list[str]:
    subjects = read_subjects(reference, ScreenRequest(animal, medications=medications))
    return [caution.code for caution in medicine_cautions(reference, subjects, animal)]


def test_a_medicine_that_is_a_hazard_itself(reference: Reference) -> None:
    (found,) = medicine_findings(reference, ("paracetamol",), "cat")
    assert (found.kind, found.level) == ("hazard", "avoid")
    assert medicine_findings(reference, ("insulin",), "cat") == ()


def test_two_medicines_are_not_compared_with_each_other(reference: Reference) -> None:
    assert "medicines_not_compared" in _codes(reference, CAT, "insulin", "meloxicam")
    assert "medicines_not_compared" not in _codes(reference, CAT, "insulin")


def test_an_unknown_medicine_is_asked_for_by_its_generic_name(reference: Reference) -> None:
    assert _codes(reference, CAT, "qqqqqq") == ["medicine_not_recognised"]
