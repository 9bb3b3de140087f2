"""Recorded limits as mg per day of one animal, and the metabolic weight that many of them count."""

from __future__ import annotations

from decimal import Decimal

from service.reference.records import Limit

# Retinol equivalents are micrograms of retinol.
MG_PER_UNIT = {"mg": Decimal(1), "g": Decimal(1000), "ug": Decimal("0.001"), "ug RE": Decimal("0.001")}


def metabolic_weight(weight_kg: Decimal) -> Decimal:
    """Raise a body weight to the power 0.75.

    Parameters
    ----------
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal
        kg^0.75. Two square roots are quicker than a general power and as exact: x^0.75 = sqrt(x) * sqrt(sqrt(x)).
    """
    root = weight_kg.sqrt()
    return root * root.sqrt()


def limit_mg_per_day(limit: Limit, weight_kg: Decimal) -> Decimal | None:
    """Turn a limit into mg per day for one animal.

    Parameters
    ----------
    limit
        A row of table ``limits``.
    weight_kg
        Body weight in kg.

    Returns
    -------
    Decimal or None
        mg per day; ``None`` where the limit's basis cannot be turned into a daily amount of the supplement alone.
    """
    if limit.amount is None or limit.unit not in MG_PER_UNIT:
        return None
    amount = limit.amount * MG_PER_UNIT[limit.unit]
    if limit.basis == "per_kg075_per_day":
        return amount * metabolic_weight(weight_kg)
    if limit.basis == "per_kg_per_day":
        return amount * weight_kg
    return amount if limit.basis == "per_day" else None
