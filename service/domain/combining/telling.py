"""Numbers in the sentences of a combination."""

from __future__ import annotations

from decimal import Decimal

from service.domain.rounding import AMOUNT_DIGITS, significant
from service.domain.screening_answers import plain

_MOST_DIGITS = 15


def told(value: Decimal) -> str:
    """Write an amount as the answers round it.

    Parameters
    ----------
    value
        Any finite number.

    Returns
    -------
    str
        With six significant digits at most.
    """
    return plain(significant(value, AMOUNT_DIGITS))


def told_apart(first: Decimal, second: Decimal) -> tuple[str, str]:
    """Write two amounts with as many digits as it takes to see which is larger.

    Parameters
    ----------
    first, second
        Amounts in one unit.

    Returns
    -------
    tuple of str
        Alike only where they differ by less than 15 digits tell.
    """
    for digits in range(AMOUNT_DIGITS, _MOST_DIGITS):
        pair = plain(significant(first, digits)), plain(significant(second, digits))
        if pair[0] != pair[1]:
            return pair
    return plain(significant(first, _MOST_DIGITS)), plain(significant(second, _MOST_DIGITS))
