"""From what was eaten to what the thresholds count."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.eaten import read_eaten
from service.domain.exposure_counting import count_hazard, counted_words, factor_words
from service.domain.substances import find_substance
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("substance", "amount", "shown", "counted"),
    [
        ("guarana", "1 g", "methylxanthines", {"guarana": 1000, "caffeine": 50, "methylxanthines": 50}),
        ("theobromine", "1 g", "methylxanthines", {"theobromine": 1000, "methylxanthines": 1000}),
        ("garlic powder", "1 g", "garlic", {"garlic": 10000, "allium": 10000}),
        ("vitamin D2", "40000 IU", "vitamin-d2", {"vitamin-d2": 1, "vitamin-d3": 1}),
        ("xylitol", "1 g", "xylitol", {"xylitol": 1000}),
    ],
)
def test_high_readings_by_hazard(
    reference: Reference, substance: str, amount: str, shown: str, counted: dict[str, int]
) -> None:
    found = find_substance(reference, substance)
    eaten = read_eaten(reference, found, amount, "dog")
    counting = count_hazard(reference, found, found.hazards[0], eaten, "dog")
    assert {id_: one.high_mg for id_, one in counting.counted.items()} == {
        id_: Decimal(mg) for id_, mg in counted.items()
    }
    assert counting.shown == shown


def test_words_of_a_factor(reference: Reference) -> None:
    rows = {row.id: row for rows in reference.content_factors_of.values() for row in rows}
    assert factor_words(rows["guarana-seed-caffeine"]) == "guarana seed: 1.6 to 4.3 % caffeine, counted as 5"
    assert factor_words(rows["iodine-kelp-iodine"]) == ("kelp: 0.5 to 4.5 mg/g iodine")


def test_what_is_counted_in_words(reference: Reference) -> None:
    assert counted_words(reference, "iron") == "elemental iron"
    assert counted_words(reference, "methylxanthines") == "sum of theobromine and caffeine"
