"""Shares of substances that a name states."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.stated_parts import stated_parts
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("guarana extract (22 % caffeine)", {"caffeine": "0.22"}),
        ("green tea extract (caffeine: 50 %)", {"caffeine": "0.5"}),
        ("kelp (0.1 % iodine)", {"iodine": "0.001"}),
        ("Guaranaextrakt (22 % Koffein)", {"caffeine": "0.22"}),
        ("guarana extract", {}),
        ("guarana extract 22 %", {}),
        ("extract (22 % zorblax)", {}),
        ("extract (220 % caffeine)", {}),
    ],
)
def test_shares(reference: Reference, name: str, parts: dict[str, str]) -> None:
    assert dict(stated_parts(reference, name)) == {hazard: Decimal(share) for hazard, share in parts.items()}
