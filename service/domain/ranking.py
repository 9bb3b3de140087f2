"""The order of compared products, and which of them no other beats in both cost and units a day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.compare_answer import CompareRow


@dataclass(frozen=True, slots=True)
class Candidate:
    """A row before ranking, with the exact values that ranking needs: costs per day and per g in its currency."""

    row: CompareRow
    cost: Decimal | None
    cost_per_g: Decimal | None
    order: int


def ranked(found: list[Candidate], rank_by: str) -> tuple[CompareRow, ...]:
    """Put rows with a reason against them last and ``stop`` last of all; unknown values after known ones.

    Parameters
    ----------
    found
        The rows of a comparison.
    rank_by
        ``cost_per_day``, ``cost_per_g`` or ``units_per_day``.

    Returns
    -------
    tuple of CompareRow
        Best first, each with its rank from 1 and whether it is efficient. Ties go by units a day, then by product id.
    """

    def _key(candidate: Candidate) -> tuple[bool, bool, bool, Decimal, Decimal, str]:
        row = candidate.row
        value = {
            "cost_per_day": candidate.cost,
            "cost_per_g": candidate.cost_per_g,
            "units_per_day": row.units_per_day,
        }[rank_by]
        units = row.units_per_day if row.units_per_day is not None else Decimal("Infinity")
        # What must not be given at all comes after what is merely too weak, too dear or too rich.
        stopped = row.verdict == "stop"
        return (bool(row.why_not), stopped, value is None, value or Decimal(0), units, row.product_id)

    ordered = sorted(found, key=_key)
    return tuple(
        replace(candidate.row, rank=rank, efficient=_efficient(candidate, ordered))
        for rank, candidate in enumerate(ordered, start=1)
    )


def _efficient(candidate: Candidate, everyone: list[Candidate]) -> bool:
    """Say whether no other row without objections is both cheaper per day and fewer units per day."""
    if candidate.row.why_not or candidate.cost is None or candidate.row.units_per_day is None:
        return False
    return not any(
        other is not candidate
        and not other.row.why_not
        and other.cost is not None
        and other.row.units_per_day is not None
        and other.cost < candidate.cost
        and other.row.units_per_day < candidate.row.units_per_day
        for other in everyone
    )
