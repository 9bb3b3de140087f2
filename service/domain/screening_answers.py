"""What a screen is asked and what it answers; field names are the wire names of ``POST /v1/screen``."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal, Caution
from service.domain.products import Product

LEVELS = ("note", "watch", "veterinarian", "avoid")
_RANK = {level: rank for rank, level in enumerate(LEVELS)}
# From the weakest way of knowing to the strongest.
_ORIGINS = ("memory", "common_practice", "cited", "read")


def rank(level: str) -> int:
    """Order levels: ``note`` lowest, ``avoid`` highest.

    Parameters
    ----------
    level
        One of ``LEVELS``.

    Returns
    -------
    int
        0 for the lowest.
    """
    return _RANK[level]


def highest(levels: Iterable[str]) -> str:
    """Pick the highest of some levels, ``note`` where there are none.

    Parameters
    ----------
    levels
        Words of ``LEVELS``.

    Returns
    -------
    str
        One of ``LEVELS``.
    """
    return max(levels, key=rank, default="note")


def weakest_origin(origins: Iterable[str]) -> str:
    """Pick the weakest way of knowing: what rests on two rows is no better known than the weaker.

    Parameters
    ----------
    origins
        ``memory``, ``common_practice``, ``cited`` or ``read``; at least one.

    Returns
    -------
    str
        One of them.
    """
    return min(origins, key=_ORIGINS.index)


def plain(value: Decimal) -> str:
    """Write a number for a sentence: no exponent, no trailing zeros.

    Parameters
    ----------
    value
        Any finite number.

    Returns
    -------
    str
        For example ``0.05`` or ``1200``.
    """
    return f"{value.normalize():f}"


@dataclass(frozen=True, slots=True)
class ScreenRequest:
    """One animal and everything it is given or has."""

    animal: Animal
    ingredients_text: str | None = None
    products: tuple[Product, ...] = ()
    other_supplements: tuple[Product, ...] = ()
    medications: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to know. ``finding`` is the word of an interaction record, ``match`` is ``exact`` or ``possible``."""

    kind: str
    level: str
    subjects: tuple[str, ...]
    topic: str | None
    finding: str | None
    effect: str
    action: str
    evidence: str | None
    evidence_species: str | None
    limit_or_conflict: str | None
    match: str
    origin: str
    record_ids: tuple[str, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Recognised:
    """One name that was understood. ``id`` is ``None`` for a name known to mean none of the listed substances."""

    text: str
    where: str
    kind: str
    id: str | None
    form: str | None = None
    hazard: str | None = None
    trace: bool = False


@dataclass(frozen=True, slots=True)
class Unrecognised:
    """One text that was not understood, or not wholly. ``nearest`` are suggestions, never taken as meant."""

    text: str
    where: str
    nearest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotAssessed:
    """A pair about which this release says nothing, or nothing with a source."""

    a: str
    b: str
    reason: str


@dataclass(frozen=True, slots=True)
class Statement:
    """A label's claim that something is not in it."""

    text: str
    where: str
    negates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Total:
    """Amount of one moiety per day over all products, against the published maximum where there is one."""

    ingredient: str
    moiety: str | None
    low_mg_per_day: Decimal
    high_mg_per_day: Decimal
    mg_per_kg_high: Decimal | None
    products: tuple[str, ...]
    limit_mg_per_day: Decimal | None
    limit_id: str | None
    share_of_limit: Decimal | None


@dataclass(frozen=True, slots=True)
class ScreenAnswer:
    """Everything a screen found, did not know and could not assess."""

    species: str
    weight_kg: Decimal | None
    verdict: str
    findings: tuple[Finding, ...]
    recognised: tuple[Recognised, ...]
    unrecognised: tuple[Unrecognised, ...]
    not_assessed: tuple[NotAssessed, ...]
    statements: tuple[Statement, ...]
    totals: tuple[Total, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
