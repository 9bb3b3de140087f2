"""Body weights from text."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.errors import InvalidInput
from service.domain.weights import KG_PER_UNIT, check_weight, parse_weight


@pytest.mark.parametrize(
    ("text", "kg"),
    [
        ("34 kg", "34"),
        ("34kg", "34"),
        ("34.0 KG", "34"),
        ("75 lb", "34.01942775"),
        ("75lbs", "34.01942775"),
        ("75 pounds", "34.01942775"),
        ("75 lb 8 oz", "34.246223935"),
        ("75 lb, 8 oz", "34.246223935"),
        ("4 st 7 lb", "28.57631931"),
        ("850 g", "0.85"),
        ("3 kg 500 g", "3.5"),
    ],
)
def test_reads_weights_people_write(text: str, kg: str) -> None:
    assert parse_weight(text) == Decimal(kg)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("75", "has no unit"),
        ("75 stone-ish", "is not a weight"),
        ("1_0 kg", "is not a weight"),
        ("\u0661\u0660 kg", "is not a weight"),
        ("1e400 kg", "is not a weight"),
        ("-1 kg", "is not a weight"),
        ("34,5 kg", "is not a weight"),
        ("", "is not one weight"),
        ("kg", "is not a weight"),
        ("10 kg 20 lb", "is not one weight"),
        ("5 lb 17 oz", "too many oz"),
        ("3" * 61, "too long"),
    ],
)
def test_refuses_and_says_what_to_write(text: str, says: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        parse_weight(text)
    (issue,) = caught.value.issues
    assert issue.where == "weight"
    assert says in issue.detail
    assert "34 kg" in issue.detail


@pytest.mark.parametrize(("species", "kg"), [("dog", "0.09"), ("dog", "120.1"), ("cat", "15.01"), ("dog", "0")])
def test_out_of_range_is_refused_never_clamped(species: str, kg: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        check_weight(Decimal(kg), species)
    assert "outside 0.1 to" in caught.value.issues[0].detail


@given(st.decimals(min_value="0.3", max_value="260", places=3))
def test_pounds_and_kilograms_agree(pounds: Decimal) -> None:
    assert parse_weight(f"{pounds} lb") == parse_weight(f"{pounds * KG_PER_UNIT['lb']:f} kg")
