"""Rows of table ``content_factors``: how much of a substance one unit of a material holds."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from service.domain.label_text import words
from service.reference.records import ContentFactor
from service.reference.release import Reference

SHARE_OF_UNIT = {
    "mg/g": Decimal("0.001"),
    "percent": Decimal("0.01"),
    "fraction": Decimal(1),
    "g/g": Decimal(1),
    "g NaCl per g Na": Decimal(1),
    # So many grams in a millilitre; a millilitre of these oils weighs a gram or more, so per gram it is no more.
    "g/mL": Decimal(1),
}
_DENSITY = "density"
BY_VOLUME = "percent_by_volume"
_PER_MILLILITRE = "g/mL"


@dataclass(frozen=True, slots=True)
class Content:
    """mg of a substance in one mg of a material.

    ``factors`` are the rows it follows from, the deciding one first; ``beside`` other figures for the same thing.
    ``known`` is false where nothing is recorded: then it lies between nothing and all. ``kind_named`` is false where
    the name leaves the kind open, so that the strongest plausible one counts. ``stated`` where the name itself says
    how much of the very substance is in it.
    """

    low: Decimal
    high: Decimal
    factors: tuple[ContentFactor, ...] = ()
    beside: tuple[ContentFactor, ...] = ()
    known: bool = True
    kind_named: bool = True
    stated: bool = False


WHOLE = Content(Decimal(1), Decimal(1))
UNKNOWN = Content(Decimal(0), Decimal(1), known=False)


def usable_factors(reference: Reference, hazard_id: str) -> list[ContentFactor]:
    """List the factors that a share of mass follows from.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.

    Returns
    -------
    list of ContentFactor
        Rows with a recommended value; densities, counts and masses of pieces are left out, and so is what is stated
        per millilitre where a share of the mass is recorded too.
    """
    rows = reference.content_factors_of.get(hazard_id, ())
    usable = [
        row for row in rows if row.recommended is not None and row.unit in SHARE_OF_UNIT and row.quantity != _DENSITY
    ]
    return [row for row in usable if row.unit != _PER_MILLILITRE] or usable


def strength_of(reference: Reference, hazard_id: str, words_of_name: Collection[str]) -> Content | None:
    """Find how strong a drink usually is that a name says no strength of.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    words_of_name
        Comparable words of the name.

    Returns
    -------
    Content or None
        By the kind that is named: the whole range, as a share of the volume. A share of the mass is lower, since what
        the strength counts is lighter than the rest.
    """
    rows = (row for row in reference.content_factors_of.get(hazard_id, ()) if row.unit == BY_VOLUME)
    row = next((row for row in rows if set(words(row.material)) <= set(words_of_name)), None)
    if row is None or row.value_low is None or row.recommended is None:
        return None
    return Content(row.value_low / 100, row.recommended / 100, (row,))


def density_of(reference: Reference, hazard_id: str) -> ContentFactor | None:
    """Find the recorded density of a liquid in g/mL.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.

    Returns
    -------
    ContentFactor or None
        A row in g/mL.
    """
    rows = reference.content_factors_of.get(hazard_id, ())
    return next((row for row in rows if row.quantity == _DENSITY), None)


def of_rows(reference: Reference, rows: Iterable[ContentFactor], *, kind_named: bool = True) -> Content:
    """Make one content of the rows that a name can mean.

    Parameters
    ----------
    reference
        The release to answer from.
    rows
        Factors of one hazard; the strongest decides.
    kind_named
        Whether the name says which of them it is.

    Returns
    -------
    Content
        Low is the weakest figure for any of the materials; ``UNKNOWN`` without a row.
    """
    by_share = sorted(rows, key=high_share, reverse=True)
    if not by_share:
        return UNKNOWN
    first = by_share[0]
    same = [
        row
        for row in reference.content_factors_of.get(first.hazard_id, ())
        if row.material == first.material and row is not first and row.unit in SHARE_OF_UNIT
    ]
    low = min(low_share(row) for row in (*by_share, *(row for row in same if row.quantity == first.quantity)))
    return Content(low, high_share(first), (first,), tuple(same), kind_named=kind_named)


def high_share(row: ContentFactor) -> Decimal:
    """Give mg per mg by a row's highest figure, the recommended one included.

    Parameters
    ----------
    row
        A usable factor.

    Returns
    -------
    Decimal
        mg of the substance per mg of the material.
    """
    values = [value for value in (row.recommended, row.value_high, row.value_low) if value is not None]
    return max(values) * SHARE_OF_UNIT[row.unit]


def low_share(row: ContentFactor) -> Decimal:
    """Give mg per mg by a row's lowest figure.

    Parameters
    ----------
    row
        A usable factor.

    Returns
    -------
    Decimal
        mg of the substance per mg of the material.
    """
    values = [value for value in (row.value_low, row.recommended) if value is not None]
    return min(values) * SHARE_OF_UNIT[row.unit]
