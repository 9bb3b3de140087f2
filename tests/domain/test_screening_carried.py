"""What a compound brings along."""

from __future__ import annotations

import pytest

from service.domain.screening_carried import carried_by
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("form", "ingredients"),
    [
        ("glucosamine-sulfate-2kcl", {"potassium"}),
        ("glucosamine-hydrochloride", set()),
        # It may be the potassium salt or another: nothing is made up.
        ("glucosamine-sulfate", set()),
        (None, set()),
    ],
)
def test_what_a_form_holds_beside_its_own(reference: Reference, form: str | None, ingredients: set[str]) -> None:
    assert {carried.ingredient for carried in carried_by(reference, form)} == ingredients
