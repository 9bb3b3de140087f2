"""Counts with their units, and money, as people write them."""

from __future__ import annotations

from decimal import Decimal

from service.domain.currencies import minor_digits
from service.pages.wording import number

# Names of units that are counted; others (ml, g, a word in another language) stay as they are.
_COUNTED = frozenset("tablet chew capsule softgel scoop sachet stick drop pump treat pill biscuit unit spoon".split())


def counted(count: Decimal, unit: str) -> str:
    """Write ``1 tablet``, ``2.5 chews``, ``5 ml``."""
    plural = "s" if count != 1 and unit.casefold() in _COUNTED else ""
    return f"{number(count)} {unit}{plural}"


def money(value: Decimal | None, currency: str | None) -> str | None:
    """Write a sum with at least the decimals of its currency: ``5.40 EUR``, ``0.1234 EUR``, ``84 JPY``."""
    if value is None:
        return None
    digits = minor_digits(currency or "")
    least = 2 if digits is None else digits
    exponent = -int(value.normalize().as_tuple().exponent)
    return f"{value:.{max(least, exponent)}f} {currency or ''}".strip()
