"""One release in memory: rows found by what they are of."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.reference.release import Reference
from service.reference.releases import load_working_tables
from tests.reference.small_dataset import SmallDataset


@pytest.fixture
def reference(dataset: SmallDataset) -> Reference:
    """Load the small dataset."""
    return load_working_tables(dataset.directory)


def test_rows_are_found_by_ingredient_and_species(reference: Reference) -> None:
    assert {form.ingredient_id for form in reference.forms_of["glucosamine"]} == {"glucosamine"}
    assert reference.thresholds_of["xylitol", "dog"][0].hazard_id == "xylitol"
    assert ("xylitol", "rabbit") not in reference.thresholds_of


@pytest.mark.parametrize(
    ("kind", "target", "owner"),
    [
        ("ingredient", "glucosamine", "glucosamine"),
        ("form", "glucosamine-base", "glucosamine"),
        ("hazard", "xylitol", "xylitol"),
        ("ingredient", None, None),
    ],
)
def test_a_name_leads_to_an_ingredient(reference: Reference, kind: str, target: str | None, owner: str | None) -> None:
    name = replace(reference.tables["names"][0], target_kind=kind, target_id=target)
    assert reference.owner_of(name) == owner
