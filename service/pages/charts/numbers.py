"""Numbers on a chart: which can be drawn, and how they are written."""

from __future__ import annotations

from decimal import Decimal

from service.domain.rounding import significant
from service.pages.wording import number

# Far beyond any price or amount; what is larger would only squeeze everything else against the axis.
_MOST = Decimal(10) ** 12
_LEAST = Decimal(10) ** -12
_LARGE_SUM = Decimal(10_000)


def can_be_drawn(value: Decimal | None) -> bool:
    """Say whether a number is known, not negative, and of a size that a scale can show."""
    return value is not None and value.is_finite() and (value.is_zero() or _LEAST <= value <= _MOST)


def short(value: Decimal, digits: int = 3) -> str:
    """Write a number with a few significant digits."""
    return number(significant(value, digits)) if value else "0"


def money(value: Decimal, currency: str | None) -> str:
    """Write an amount of money: two decimals, more where these would show next to nothing, none for large sums."""
    if value >= _LARGE_SUM:
        text = number(value.quantize(Decimal(1)))
    else:
        text = f"{value:.{2 if value.is_zero() else max(2, 1 - value.adjusted())}f}"
    return f"{text} {currency}" if currency else text


def counted(count: int, one: str, many: str) -> str:
    """Write a number of things."""
    return f"{number(count)} {one if count == 1 else many}"
