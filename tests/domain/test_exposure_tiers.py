"""Holding amounts against tiers."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.exposure_tiers import Counted, Judged, hazard_chain, judge, tier_rank
from service.reference.release import Reference


def _judge(reference: Reference, hazard: str, species: str, **mg: Counted) -> Judged:
    counted = {name.replace("_", "-"): one for name, one in mg.items()}
    return judge(reference, reference.hazards[hazard], counted, species, Decimal(10))


def _mg(value: int, *, known: bool = True, at_least: bool = False) -> Counted:
    return Counted(Decimal(value), Decimal(value), known, at_least)


@pytest.mark.parametrize(
    ("hazard", "chain"),
    [
        ("cocoa", ("cocoa", "methylxanthines")),
        ("guarana", ("guarana", "caffeine", "methylxanthines")),
        ("caffeine", ("caffeine", "methylxanthines")),
        ("garlic", ("garlic", "allium")),
        ("vitamin-d2", ("vitamin-d2", "vitamin-d3")),
        ("iron", ("iron",)),
    ],
)
def test_whose_tiers_count(reference: Reference, hazard: str, chain: tuple[str, ...]) -> None:
    assert hazard_chain(reference, hazard, "dog") == chain


def test_the_row_that_decides_is_the_gravest_reached(reference: Reference) -> None:
    found = _judge(reference, "iron", "dog", iron=_mg(1500))
    assert found.decided_by is not None
    assert (found.tier, found.decided_by.id) == ("life_threatening", "iron-dog-potentially-lethal-1")


def test_an_unknown_content_reaches_nothing_for_sure(reference: Reference) -> None:
    assert _judge(reference, "iron", "dog", iron=_mg(1500, known=False)).tier is None
    assert _judge(reference, "iron", "dog", iron=_mg(100, known=False)).tier == "below_published_thresholds"


def test_an_extract_can_reach_but_never_stay_below(reference: Reference) -> None:
    reached = _judge(reference, "kola", "dog", kola=_mg(100), caffeine=_mg(200, at_least=True))
    assert reached.tier == "mild"
    assert _judge(reference, "kola", "dog", kola=_mg(100), caffeine=_mg(20, at_least=True)).tier is None


def test_an_amount_that_is_missing_is_not_compared(reference: Reference) -> None:
    found = _judge(reference, "iron", "dog")
    assert found.tier is None
    assert {one.reached for one in found.compared} == {None}


def test_rows_per_day_say_whether_as_much_daily_would_reach_them(reference: Reference) -> None:
    found = {one.row.id: one for one in _judge(reference, "aspirin", "dog", aspirin=_mg(600)).compared}
    assert found["aspirin-dog-signs-severe-1"].reached is None
    assert found["aspirin-dog-signs-severe-1"].if_daily


def test_order_of_tiers() -> None:
    words = ("below_published_thresholds", None, "mild", "severe", "life_threatening", "no_safe_amount")
    assert [tier_rank(word) for word in words] == sorted({tier_rank(word) for word in words})
