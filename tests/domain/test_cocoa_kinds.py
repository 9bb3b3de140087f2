"""Chocolate by kind, in several languages."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.cocoa_kinds import cocoa_content
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("name", "high"),
    [
        # mg/g of source mvm-choc-old; white chocolate of source tvec-2009.
        ("milk chocolate", "2.3"),
        ("Milchschokolade", "2.3"),
        ("chocolat au lait", "2.3"),
        ("chocolate con leche", "2.3"),
        ("cioccolato al latte", "2.3"),
        ("dark chocolate", "5.7"),
        ("Zartbitterschokolade", "5.7"),
        ("chocolat noir", "5.7"),
        ("semi-sweet chocolate", "5.7"),
        ("white chocolate", "0.05"),
        ("wei\u00dfe Schokolade", "0.05"),
        ("unsweetened chocolate", "16"),
        ("baking chocolate", "16"),
        ("cocoa powder", "28.5"),
        ("cocoa bean hulls", "9.1"),
        # Not named: the strongest plausible one.
        ("chocolate", "16"),
        ("Schokolade", "16"),
        ("cocoa", "28.5"),
        # Two kinds in one name: the stronger.
        ("dark and white chocolate", "5.7"),
        # A stated share of cocoa: so much unsweetened chocolate.
        ("70 % dark chocolate", "11.2"),
        ("dark chocolate 85% cocoa", "13.6"),
        ("chocolate 100 %", "16"),
        # A share below what the kind holds does not lower it.
        ("dark chocolate 20 %", "5.7"),
        # A percentage of something else is none of cocoa.
        ("chocolate (10 % sugar)", "16"),
        ("chocolate 70 % off", "16"),
        ("dark chocolate with 40 % hazelnuts", "5.7"),
        ("dark chocolate (30 % sugar, 70 % cocoa)", "11.2"),
        ("milk chocolate with 30 % cocoa solids", "4.8"),
        ("Kakaoanteil 60 %", "9.6"),
        # More than white chocolate; and what it is free of is no kind of it.
        ("white chocolate with cocoa nibs", "16"),
        ("milk-free dark chocolate", "5.7"),
        ("milk-free chocolate", "16"),
        # Of white chocolate it is cocoa butter.
        ("white chocolate 30 %", "0.05"),
    ],
)
def test_mg_per_g(reference: Reference, name: str, high: str) -> None:
    found = cocoa_content(reference, name)
    assert found.high * 1000 == Decimal(high)
    assert found.low <= found.high


def test_whether_the_kind_was_named(reference: Reference) -> None:
    assert cocoa_content(reference, "milk chocolate").kind_named
    assert not cocoa_content(reference, "chocolate").kind_named
