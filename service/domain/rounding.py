"""Rounding that never leaves a range, never reaches zero, and money at its own precision."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal

AMOUNT_DIGITS = 6
# Far more digits than any input carries: removes the tail that division leaves before a directed rounding.
_NOISE_DIGITS = 15


def significant(value: Decimal, digits: int = AMOUNT_DIGITS, rounding: str = ROUND_HALF_EVEN) -> Decimal:
    """Round to significant digits.

    Parameters
    ----------
    value
        Any finite number.
    digits
        Significant digits to keep.
    rounding
        A rounding mode of :mod:`decimal`.

    Returns
    -------
    Decimal
        The rounded number; zero only if ``value`` is zero.
    """
    if value.is_zero():
        return Decimal(0)
    return value.quantize(Decimal(1).scaleb(value.adjusted() - digits + 1), rounding=rounding)


def amount_range(low: Decimal, high: Decimal) -> tuple[Decimal, Decimal]:
    """Round a range inwards, so that a rounded amount never leaves it.

    Parameters
    ----------
    low, high
        The exact ends, in one unit.

    Returns
    -------
    tuple of Decimal
        Low rounded up and high rounded down to six digits, or to as many more as a narrow range needs; the nearest
        number for both where they coincide.
    """
    clean_low, clean_high = significant(low, _NOISE_DIGITS), significant(high, _NOISE_DIGITS)
    if clean_low == clean_high:
        return significant(clean_low), significant(clean_low)
    for digits in range(AMOUNT_DIGITS, _NOISE_DIGITS):
        rounded_low = significant(clean_low, digits, ROUND_CEILING)
        rounded_high = significant(clean_high, digits, ROUND_FLOOR)
        if rounded_low <= rounded_high:
            return rounded_low, rounded_high
    return clean_low, clean_high


def amount(value: Decimal) -> Decimal:
    """Round one amount of substance (any mass unit) to six significant digits.

    Parameters
    ----------
    value
        The exact number.

    Returns
    -------
    Decimal
        In the unit of ``value``.
    """
    return significant(value)


def money_total(value: Decimal, minor_digits: int) -> Decimal:
    """Round a total (in the currency's major unit) half up to the currency's minor unit.

    Parameters
    ----------
    value
        The exact total in the currency's major unit.
    minor_digits
        Decimals of the currency, for example 2.

    Returns
    -------
    Decimal
        In the currency's major unit.
    """
    return value.quantize(Decimal(1).scaleb(-minor_digits), rounding=ROUND_HALF_UP)


def money_per_day(value: Decimal) -> Decimal:
    """Round a cost per day or per unit half up to four decimals.

    Parameters
    ----------
    value
        The exact number.

    Returns
    -------
    Decimal
        In the currency of ``value``.
    """
    return value.quantize(Decimal("0.0001"), rounding=ROUND_HALF_UP)


def money_rate(value: Decimal) -> Decimal:
    """Round a cost per mg or per g half up to six significant digits.

    Parameters
    ----------
    value
        The exact number.

    Returns
    -------
    Decimal
        In the currency of ``value``, per the same mass.
    """
    return significant(value, 6, ROUND_HALF_UP)
