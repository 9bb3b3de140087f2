"""Currencies and their minor units by ISO 4217."""

from __future__ import annotations

from functools import lru_cache

from iso4217 import Currency


@lru_cache(maxsize=256)
def minor_digits(code: str) -> int | None:
    """Decimals of a currency's minor unit.

    Parameters
    ----------
    code
        Three capital letters, for example ``EUR``.

    Returns
    -------
    int or None
        For example 2 for EUR, 0 for JPY, 3 for KWD; ``None`` if the code is no ISO 4217 currency.
    """
    try:
        currency = Currency(code)
    except ValueError:
        return None
    return currency.exponent
