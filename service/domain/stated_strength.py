"""Percentages and words of strength in the name of what was eaten."""

from __future__ import annotations

import re
from decimal import Decimal

from service.domain.label_text import fold

_PERCENT = re.compile(r"(?<![0-9.,])([0-9]{1,3})(?:[.,]([0-9]))? ?(?:%|percent|prozent|pour cent|por ciento)")
_CONCENTRATED = re.compile(
    r"\b(?:extract|extrakt|extrait|extracto|estratto|concentrate|konzentrat|concentrado|instant|loslich\w*|\d+ ?: ?1)\b"
)


def stated_share(name: str) -> Decimal | None:
    """Read the first percentage in a name.

    Parameters
    ----------
    name
        As printed, for example ``dark chocolate 70 %``.

    Returns
    -------
    Decimal or None
        A share above 0 and up to 1.
    """
    match = _PERCENT.search(fold(name))
    if match is None:
        return None
    share = Decimal(f"{match[1]}.{match[2] or 0}") / 100
    return share if 0 < share <= 1 else None


def is_concentrate(name: str) -> bool:
    """Say whether a name speaks of an extract or the like, which can hold many times more than the plant.

    Parameters
    ----------
    name
        As printed.

    Returns
    -------
    bool
        ``True`` for an extract, a concentrate or an instant powder.
    """
    return _CONCENTRATED.search(fold(name)) is not None
