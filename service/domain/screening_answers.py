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
    traits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to know.

    ``finding`` and ``direction`` are words of an interaction record; ``favourable`` is true where the record speaks
    for the pair or was looked for and not seen, and null where nothing was recorded about a pair. ``match`` is
    ``exact`` or ``possible``.
    """

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
    direction: str | None = None
    favourable: bool | None = None


@dataclass(frozen=True, slots=True)
class Overruled:
    """An interaction record that matches as well, but about whose topic a stronger record speaks.

    ``reason``: ``less_specific`` than the record ``by``, or as specific and ``not_higher`` in level.
    """

    record_id: str
    by: str
    reason: str
    subjects: tuple[str, ...]
    topic: str
    level: str
    finding: str
    direction: str | None
    effect: str
    evidence: str
    evidence_species: str | None
    origin: str
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
    advice: str | None = None


@dataclass(frozen=True, slots=True)
class TakenAs:
    """What one word for a medicine, condition or trait was taken as, so that a wrong guess can be seen.

    ``basis``: ``name`` (a recorded name), ``wording`` (a recorded name after words such as "chronic", "50 mg tablets"
    or "trouble" were left out), ``several`` (the word covers more than one, and all are screened), ``breed`` (a breed
    in which the trait is common, which no test has confirmed) or ``animal`` (follows from species or age).
    """

    text: str
    where: str
    kind: str
    id: str
    name: str
    basis: str
    note: str | None


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
class TotalPart:
    """One line of a label that a total counts, or that it counts as part of another line."""

    product: str
    name: str
    form: str | None
    low_mg_per_day: Decimal
    high_mg_per_day: Decimal


@dataclass(frozen=True, slots=True)
class TotalLimit:
    """One recorded limit as mg per day for this animal, with the rule that made it so.

    ``covers``: ``intake`` (of this substance) or ``whole_diet`` (the food counts too, so that a share below 1 says
    nothing and one above 1 is too much already).
    """

    limit_id: str
    kind: str
    amount: Decimal
    unit: str
    basis: str
    limit_mg_per_day: Decimal
    share: Decimal
    covers: str
    rule: str
    enforced: bool
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Total:
    """Amount of one moiety per day over all products, against the limits that can be turned into one for the animal.

    ``lower_bound``: whether a product holds more of it than could be counted; the total is then "at least".
    """

    ingredient: str
    moiety: str | None
    low_mg_per_day: Decimal
    high_mg_per_day: Decimal
    mg_per_kg_high: Decimal | None
    products: tuple[str, ...]
    limit_mg_per_day: Decimal | None
    limit_id: str | None
    share_of_limit: Decimal | None
    lower_bound: bool = False
    unknown_in: tuple[str, ...] = ()
    parts: tuple[TotalPart, ...] = ()
    limits: tuple[TotalLimit, ...] = ()


@dataclass(frozen=True, slots=True)
class ScreenAnswer:
    """Everything a screen found, did not know and could not assess.

    ``highest_level`` is that of the gravest finding, ``None`` without one: a ``watch`` stands behind some verdicts of
    ``nothing_found``.
    """

    species: str
    weight_kg: Decimal | None
    verdict: str
    highest_level: str | None
    findings: tuple[Finding, ...]
    overruled: tuple[Overruled, ...]
    taken_as: tuple[TakenAs, ...]
    recognised: tuple[Recognised, ...]
    unrecognised: tuple[Unrecognised, ...]
    not_assessed: tuple[NotAssessed, ...]
    statements: tuple[Statement, ...]
    totals: tuple[Total, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]
