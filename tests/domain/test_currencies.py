"""Minor units; the table itself is checked against the standard elsewhere."""

from __future__ import annotations

import pytest

from service.domain.currencies import minor_digits


@pytest.mark.parametrize(("code", "digits"), [("EUR", 2), ("USD", 2), ("JPY", 0), ("KWD", 3), ("CLF", 4)])
def test_known(code: str, digits: int) -> None:
    assert minor_digits(code) == digits


@pytest.mark.parametrize("code", ["", "EURO", "XYZ", "€", "US$", "eur ", "\x00"])
def test_unknown(code: str) -> None:
    assert minor_digits(code) is None
