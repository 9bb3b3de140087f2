"""How many units a day reach an aim when a unit only divides into certain parts."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from service.domain.rounding import significant

_NOISE_DIGITS = 15


@dataclass(frozen=True, slots=True)
class UnitCount:
    """Units per day. ``units`` is ``None`` where the product holds nothing of any target."""

    units: Decimal | None
    meets: bool
    flags: tuple[str, ...]


def count_units(
    per_unit: list[tuple[Decimal, Decimal]], wanted: list[tuple[Decimal, Decimal]], step: Decimal
) -> UnitCount:
    """Find the smallest number of units that reaches every aim without passing any high end.

    Parameters
    ----------
    per_unit
        For each target, mg in one unit: low reading and high reading of the label.
    wanted
        For each target, the aim and the high end in mg per day.
    step
        Smallest part of a unit that can be given.

    Returns
    -------
    UnitCount
        The count; where none fits, the nearest (flagged ``nearest_amount``).

    Notes
    -----
    The aim must be reached on the low reading. The high end is held against the high reading first; if only that
    fails, the low reading decides and the row is flagged ``high_reading_above_range``.
    """
    held = [(low, high, aim, top) for (low, high), (aim, top) in zip(per_unit, wanted, strict=True) if low > 0]
    if not held:
        return UnitCount(None, meets=False, flags=("target_not_in_product",))
    complete = len(held) == len(per_unit)
    reach = max(_up(aim / low, step) for low, _, aim, _ in held)
    if all(_within(reach * high, top) for _, high, _, top in held):
        return UnitCount(reach, meets=complete, flags=())
    if all(_within(reach * low, top) for low, _, _, top in held):
        return UnitCount(reach, meets=complete, flags=("high_reading_above_range",))
    nearest = _nearest(held, step)
    inside = all(_within(nearest * low, top) for low, _, _, top in held)
    above = inside and any(not _within(nearest * high, top) for _, high, _, top in held)
    flags = ("nearest_amount", "high_reading_above_range") if above else ("nearest_amount",)
    return UnitCount(nearest, meets=False, flags=flags)


def _within(amount: Decimal, top: Decimal) -> bool:
    # Three times a third of 2000 must not pass 2000.
    return significant(amount, _NOISE_DIGITS) <= top


def _up(value: Decimal, step: Decimal) -> Decimal:
    # Division leaves a tail: 415.456 / 415.456 must count as one unit, not as one and a part.
    parts = (value / step).quantize(Decimal("1e-9"))
    return parts.to_integral_value(ROUND_CEILING) * step


def _nearest(held: list[tuple[Decimal, Decimal, Decimal, Decimal]], step: Decimal) -> Decimal:
    """Find the count whose worst relative miss of an aim is smallest; the smaller count on a tie."""
    counts = set()
    for low, _, aim, _ in held:
        down = (aim / low / step).to_integral_value(ROUND_FLOOR) * step
        counts |= {max(down, step), down + step}
    return min(counts, key=lambda count: (max(abs(count * low - aim) / aim for low, _, aim, _ in held), count))
