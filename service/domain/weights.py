"""Body weight from text or number, refused rather than guessed or clamped."""

from __future__ import annotations

import re
from decimal import Decimal

from service.domain.common import WEIGHT_RANGE_KG
from service.domain.errors import InvalidInput, Issue

# Exact by the international yard and pound agreement of 1959 (source chem-s63); a test compares pint and scipy.
KG_PER_UNIT = {
    "kg": Decimal(1),
    "g": Decimal("0.001"),
    "lb": Decimal("0.45359237"),
    "oz": Decimal("0.028349523125"),
    "st": Decimal("6.35029318"),
}
_ALIASES = {
    **dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"), "kg"),
    **dict.fromkeys(("g", "gram", "grams", "gramme", "grammes"), "g"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("st", "stone", "stones"), "st"),
}
# Which smaller unit may follow which: 75 lb 8 oz, 4 st 7 lb. Its count must stay below one of the larger.
_MAY_FOLLOW = {("lb", "oz"): 16, ("st", "lb"): 14, ("kg", "g"): 1000}
_PART = re.compile(r"([0-9]{1,7}(?:\.[0-9]{1,20})?)[ \u00a0]?([A-Za-z]{1,12})\.?")
_SEPARATOR = re.compile(r"[ \u00a0]*,?[ \u00a0]*")
_HINT = "write a number and a unit, for example '34 kg', '75 lb' or '75 lb 8 oz'"


def parse_weight(text: str, where: str = "weight") -> Decimal:
    """Read a body weight with its unit.

    Parameters
    ----------
    text
        For example ``34 kg``, ``75lb``, ``75 lb 8 oz``, ``4 st 7 lb``. A decimal point is a dot.
    where
        Name of the parameter, for the error.

    Returns
    -------
    Decimal
        Weight in kg, exact.

    Raises
    ------
    InvalidInput
        If the number has no unit, the unit is not one of the accepted spellings, or anything is left over.
    """
    parts = _split(text, where)
    if len(parts) == 2 and parts[1][0] >= _MAY_FOLLOW[parts[0][1], parts[1][1]]:
        raise InvalidInput(Issue(where, f"'{text}' has too many {parts[1][1]} after the {parts[0][1]}; {_HINT}"))
    return sum((number * KG_PER_UNIT[unit] for number, unit in parts), Decimal(0))


def _split(text: str, where: str) -> list[tuple[Decimal, str]]:
    if len(text) > 60:
        raise InvalidInput(Issue(where, f"is too long for a weight; {_HINT}"))
    rest, parts = text.strip(" \u00a0"), []
    while rest:
        match = _PART.match(rest)
        unit = _ALIASES.get(match[2].casefold()) if match else None
        if match is None or unit is None:
            bare = re.fullmatch(r"[0-9]+(?:\.[0-9]+)?", rest)
            problem = "has no unit" if bare else "is not a weight with a known unit"
            raise InvalidInput(Issue(where, f"{text!r} {problem}; {_HINT}"))
        parts.append((Decimal(match[1]), unit))
        rest = rest[match.end() :]
        rest = rest[_SEPARATOR.match(rest).end() :] if rest else rest  # type: ignore[union-attr]
    if not parts or len(parts) > 2 or (len(parts) == 2 and (parts[0][1], parts[1][1]) not in _MAY_FOLLOW):
        raise InvalidInput(Issue(where, f"{text!r} is not one weight; {_HINT}"))
    return parts


def check_weight(weight_kg: Decimal, species: str, where: str = "weight") -> Decimal:
    """Refuse a weight outside the accepted range of the species.

    Parameters
    ----------
    weight_kg
        Body weight in kg.
    species
        ``dog`` or ``cat``.
    where
        Name of the parameter, for the error.

    Returns
    -------
    Decimal
        The same weight.

    Raises
    ------
    InvalidInput
        If it lies outside 0.1 to 120 kg (dog) or 0.1 to 15 kg (cat).
    """
    low, high = WEIGHT_RANGE_KG[species]
    if not low <= weight_kg <= high:
        given = f"{weight_kg.normalize():f} kg"
        raise InvalidInput(Issue(where, f"{given} is outside {low} to {high} kg, the range accepted for a {species}"))
    return weight_kg
