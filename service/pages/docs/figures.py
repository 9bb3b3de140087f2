"""Numbers of answers, which are JSON numbers, as people read them."""

from __future__ import annotations

from decimal import Decimal

from service.pages.counting import counted, money

_SHORT = {"millilitre": "ml", "gram": "g"}


def money_words(value: float, currency: str) -> str:
    """Write a sum of an answer: ``5.40 EUR``."""
    return money(Decimal(str(value)), currency) or ""


def count_words(value: float, unit: str) -> str:
    """Write a count of an answer: ``2.5 chews``."""
    return counted(Decimal(str(value)), _SHORT.get(unit, unit))
