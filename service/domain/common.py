"""Small things that every answer of the domain shares."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

NOTICE = "This is information, not a prescription: ask a veterinarian before giving, changing or stopping anything."

SPECIES = ("dog", "cat")
WEIGHT_RANGE_KG = {"dog": (Decimal("0.1"), Decimal(120)), "cat": (Decimal("0.1"), Decimal(15))}


@dataclass(frozen=True, slots=True)
class Caution:
    """Something the reader of an answer must not miss. ``level``: ``info``, ``caution`` or ``warning``."""

    code: str
    level: str
    text: str


@dataclass(frozen=True, slots=True)
class Animal:
    """The animal an answer is for. ``weight_kg`` may be unknown only where an endpoint allows it."""

    species: str
    weight_kg: Decimal | None = None
    age_years: Decimal | None = None


def origin_cautions(origins: set[str]) -> tuple[Caution, ...]:
    """Cautions that say an answer rests on custom or on recollection.

    Parameters
    ----------
    origins
        The ``origin`` words of the rows an answer rests on.

    Returns
    -------
    tuple of Caution
        One for ``common_practice`` and one for ``memory``, where present.
    """
    found = []
    if "common_practice" in origins:
        found.append(
            Caution(
                "common_practice", "caution", "Part of this answer is a rule of the trade with no published source."
            )
        )
    if "memory" in origins:
        found.append(
            Caution("from_memory", "caution", "Part of this answer was recalled and not checked against its source.")
        )
    return tuple(found)
