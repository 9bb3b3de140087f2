"""The animal of a request: species and exactly one statement of its weight."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from service.domain.common import Animal
from service.domain.errors import InvalidInput, Issue
from service.domain.weights import KG_PER_UNIT, check_weight, parse_weight
from service.web.wire import Json

_WAYS = ("weight", "weight_kg", "weight_lb")
_UNIT_OF = {"weight_kg": "kg", "weight_lb": "lb"}


def read_animal(values: Mapping[str, Json], prefix: str = "", weight_needed: bool = True) -> Animal:
    """Build the animal from validated request values.

    Parameters
    ----------
    values
        ``species``, the three ways to state a weight, ``age_years``.
    prefix
        Path of the object in a body, for example ``animal/``.
    weight_needed
        Whether an unknown weight is refused.

    Returns
    -------
    Animal
        With its weight in kg.

    Raises
    ------
    InvalidInput
        If not exactly one weight is given, or it is outside the range of the species.
    """
    given = _given(values, prefix, weight_needed)
    weight_kg = check_weight(_in_kg(values, given[0], prefix), values["species"], prefix + given[0]) if given else None
    return Animal(species=values["species"], weight_kg=weight_kg, age_years=values.get("age_years"))


def read_weight_kg(values: Mapping[str, Json], prefix: str) -> Decimal:
    """Read one weight in kg from the three ways to state it; the range of the species is not checked here.

    Raises
    ------
    InvalidInput
        If not exactly one weight is given, or it cannot be read.
    """
    given = _given(values, prefix, True)
    return _in_kg(values, given[0], prefix)


def _given(values: Mapping[str, Json], prefix: str, needed: bool) -> list[str]:
    given = [way for way in _WAYS if values.get(way) is not None]
    if len(given) > 1:
        detail = f"give exactly one of {', '.join(_WAYS)}; {' and '.join(given)} were given"
        raise InvalidInput(*(Issue(prefix + way, detail) for way in given))
    if not given and needed:
        hint = f"give exactly one of {', '.join(_WAYS)}, for example weight '34 kg' or weight_kg 34"
        raise InvalidInput(Issue(prefix + "weight", hint))
    return given


def _in_kg(values: Mapping[str, Json], way: str, prefix: str) -> Decimal:
    if way == "weight":
        return parse_weight(values[way], prefix + way)
    number: Decimal = values[way]
    return number * KG_PER_UNIT[_UNIT_OF[way]]
