"""Percentages and words of strength."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.stated_strength import is_concentrate, stated_share


@pytest.mark.parametrize(
    ("name", "share"),
    [
        ("70 % dark chocolate", "0.7"),
        ("dark chocolate 70%", "0.7"),
        ("37.5 % spirit", "0.375"),
        ("37,5 % vol", "0.375"),
        ("40 percent", "0.4"),
        ("100 %", "1"),
        ("0 % sugar", None),
        ("150 %", None),
        ("1000 %", None),
        ("dark chocolate", None),
    ],
)
def test_share(name: str, share: str | None) -> None:
    assert stated_share(name) == (Decimal(share) if share else None)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Kola nut extract", True),
        ("Guarana-Extrakt", True),
        ("instant coffee", True),
        ("l\u00f6slicher Kaffee", True),
        ("guarana 10:1", True),
        ("guarana seed", False),
        ("extracted teeth", False),
    ],
)
def test_concentrate(name: str, expected: bool) -> None:
    assert is_concentrate(name) is expected
