"""Sizes of a pack as they are kept: counts, packs of packs, what each unit holds."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import plain


@pytest.mark.parametrize(
    ("text", "count", "unit", "packs"),
    [
        ("90-count (45-day supply)", 90, "piece", None), ("90 chews, 45-day supply", 90, "chew", None),
        ("Pack of 3 (90 ct each)", 270, "piece", 3), ("3-pack (90 ct each)", 270, "piece", 3),
        ("120 tabs + 30 FREE = 150", 150, "tablet", None), ("1.000 Tabletten", 1000, "tablet", None),
        ("6 x 10 x 1 tablet", 60, "tablet", 6), ("2x60 tablets", 120, "tablet", 2),
        ("60 Tabletten f\u00fcr 30 Tage", 60, "tablet", None), ("120-ct bottle", 120, "piece", None),
    ],
)  # fmt: skip
def test_counts(reference: Reference, text: str, count: int, unit: str, packs: int | None) -> None:
    answer = read_label(reference, text)
    assert answer.container is not None
    assert plain((answer.container.unit_count, answer.container.unit, answer.container.packs)) == (count, unit, packs)
    assert answer.unread == ()


def test_what_each_of_many_holds(reference: Reference) -> None:
    answer = read_label(reference, "60 x 2 g chews")
    assert answer.container is not None
    assert plain((answer.container.unit_count, answer.container.unit)) == (60, "chew")
    assert plain((answer.container.unit_mass_g, answer.container.net_g)) == (2, 120)


def test_what_each_of_many_holds_in_millilitres(reference: Reference) -> None:
    answer = read_label(reference, "30 x 10 ml sachets")
    assert answer.container is not None
    assert plain((answer.container.unit_count, answer.container.unit, answer.container.net_ml)) == (30, "sachet", 300)


def test_packs_that_may_or_may_not_be_counted_are_told(reference: Reference) -> None:
    answer = read_label(reference, "Pack of 3, 90 ct")
    assert answer.product.unit_count == 90
    assert "several_sizes" in answer.flags


def test_no_pack_holds_a_gram_to_three_decimals(reference: Reference) -> None:
    answer = read_label(reference, "Net Wt. 1.000 g")
    assert answer.container is not None
    assert answer.container.net_g == Decimal(1000)
    assert "separator_ambiguous" in answer.flags


def test_a_bottle_does_not_make_each_millilitre_a_serving(reference: Reference) -> None:
    answer = read_label(reference, "MSM 700 mg\n500 ml bottle\n$20")
    assert (answer.product.unit, answer.product.unit_count, answer.product.serving) == ("unit", None, None)
    assert "serving_not_stated" in answer.flags


def test_amounts_per_millilitre_count_a_bottle_in_millilitres(reference: Reference) -> None:
    answer = read_label(reference, "MSM 700 mg per 5 ml\n500 ml bottle")
    assert plain((answer.product.unit, answer.product.unit_count, answer.facts[0].mg_per_unit)) == (
        "millilitre", 500, 140,
    )  # fmt: skip
