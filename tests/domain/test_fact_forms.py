"""Salts that share one number."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.fact_names import read_fact_name
from service.reference.release import Reference


@pytest.mark.parametrize(
    "name",
    [
        "Glucosamine HCl/sulfate 2KCl", "Glucosamine HCl + sulfate 2KCl", "Glucosamine HCl & sulfate 2KCl",
        "Glucosamine (HCl & sulfate 2KCl)", "Glucosamine HCl and glucosamine sulfate 2KCl",
    ],
)  # fmt: skip
def test_the_split_of_two_salts_is_open(reference: Reference, name: str) -> None:
    # Glucosamine is 0.8309 of its hydrochloride and 0.5918 of the sulfate with potassium chloride (molar masses).
    reading = read_fact_name(reference, name)
    assert "mixed_salts_split_unknown" in reading.flags
    assert reading.share_low is not None
    assert reading.share_high is not None
    assert round(reading.share_low, 4) == Decimal("0.5918")
    assert round(reading.share_high, 4) == Decimal("0.8309")


@pytest.mark.parametrize("name", ["D-Glucosamine HCl, USP", "Glucosamine HCl (vegetarian)", "Glucosamine HCl"])
def test_one_salt_stays_one(reference: Reference, name: str) -> None:
    reading = read_fact_name(reference, name)
    assert reading.form is not None
    assert reading.form.id == "glucosamine-hydrochloride"


@pytest.mark.parametrize(
    "name",
    [
        "3b103 Eisen (Eisen(II)-sulfat-Monohydrat)",
        "3b502 mangan\u00e8se (oxyde de mangan\u00e8se)",
        "Zinc (as zinc oxide)",
    ],
)
def test_the_word_before_the_bracket_is_what_is_counted(reference: Reference, name: str) -> None:
    # 21 CFR 101.36 and the maxima of Regulation 1831/2003 count the element; the bracket names its source.
    reading = read_fact_name(reference, name)
    assert (reading.basis, reading.share_low, reading.share_high) == ("element", Decimal(1), Decimal(1))


@pytest.mark.parametrize(
    "name", ["Zinc as zinc gluconate", "Zink als Zinksulfat", "Zinc sous forme de gluconate de zinc"]
)
def test_as_without_a_bracket_says_the_same(reference: Reference, name: str) -> None:
    reading = read_fact_name(reference, name)
    assert (reading.ingredient, reading.basis) == ("zinc", "element")
