"""What an ingredient's own names say about its hazards."""

from __future__ import annotations

import pytest

from service.domain.describing import describe_ingredient, list_ingredients
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("ingredient", "hazards"),
    [
        ("cod-liver-oil", {"vitamin-a", "vitamin-d3"}),
        ("green-lipped-mussel", {"shellfish-chitin"}),
        ("krill-oil", {"shellfish-chitin"}),
        ("kelp", {"iodine"}),
        ("sodium", {"salt"}),
        ("xylitol", {"xylitol"}),
        ("vitamin-d", {"vitamin-d3", "vitamin-d2"}),
        # Only some of their compounds hold tartaric acid.
        ("choline", set()),
        ("l-carnitine", set()),
        ("glucosamine", set()),
    ],
)
def test_hazards_of_an_ingredient(reference: Reference, ingredient: str, hazards: set[str]) -> None:
    answer = describe_ingredient(reference, ingredient)
    assert {item.hazard.id for item in answer.hazards} >= hazards
    if not hazards:
        assert answer.hazards == ()
    assert {id_ for item in answer.hazards for id_ in item.hazard.source_ids} <= set(answer.source_ids)


def test_own_hazards_come_first(reference: Reference) -> None:
    for ingredient, hazards in reference.hazards_of.items():
        assert reference.hazards_by_name_of[ingredient][: len(hazards)] == hazards


def test_an_ingredient_with_a_hazard_by_name_has_data(reference: Reference) -> None:
    assert "kelp" in {item.id for item in list_ingredients(reference, species="dog")}
