"""What each member of a blend can weigh at least and at most, from the total and the printed order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

_ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class MemberBounds:
    """Least and most of one member, in the unit of the total."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class BlendBounds:
    """Bounds of every member. ``flags`` say what they rest on, or that the label contradicts itself."""

    members: tuple[MemberBounds, ...]
    flags: tuple[str, ...]


def blend_bounds(total: Decimal, disclosed: Sequence[Decimal | None]) -> BlendBounds:
    """Bound the members of a blend that are listed in descending order of weight.

    Members of a blend stand in descending order (21 CFR 101.36(c), source chem-s04): of n members the k-th weighs at
    most a k-th of the total and the first at least an n-th; a disclosed member narrows the others. Each bound is the
    optimum of the linear programme "in order, not negative, sum is the total".

    Parameters
    ----------
    total
        Weight of the whole blend.
    disclosed
        Weight of each member in printed order, ``None`` where the label hides it.

    Returns
    -------
    BlendBounds
        Without the order where the disclosed weights contradict it.
    """
    known = [value for value in disclosed if value is not None]
    hidden = len(disclosed) - len(known)
    rest = total - sum(known, _ZERO)
    if rest < 0 or (not hidden and rest != 0):
        return BlendBounds(_without_order(disclosed, max(rest, _ZERO)), ("label_inconsistent",))
    flags = ["amounts_undisclosed" if not known else "partly_disclosed"] if hidden else []
    if known != sorted(known, reverse=True):
        return BlendBounds(_without_order(disclosed, rest), (*flags, "not_in_descending_order", "label_inconsistent"))
    bounds = [_bounds(total, disclosed, at) for at in range(len(disclosed))]
    if any(one.low > one.high for one in bounds):
        return BlendBounds(_without_order(disclosed, rest), (*flags, "not_in_descending_order", "label_inconsistent"))
    return BlendBounds(tuple(bounds), (*flags, *(("descending_order",) if hidden else ())))


def _without_order(disclosed: Sequence[Decimal | None], rest: Decimal) -> tuple[MemberBounds, ...]:
    hidden = sum(value is None for value in disclosed)
    least = rest if hidden == 1 else _ZERO
    return tuple(MemberBounds(least, rest) if value is None else MemberBounds(value, value) for value in disclosed)


def _bounds(total: Decimal, disclosed: Sequence[Decimal | None], at: int) -> MemberBounds:
    value = disclosed[at]
    if value is not None:
        return MemberBounds(value, value)
    floor = _largest_after(disclosed, at)
    ceiling = _smallest_before(disclosed, at, total)
    return MemberBounds(max(floor, _least(total, disclosed, at)), min(ceiling, _most(total, disclosed, at)))


def _largest_after(disclosed: Sequence[Decimal | None], at: int) -> Decimal:
    return max((value for value in disclosed[at + 1 :] if value is not None), default=_ZERO)


def _smallest_before(disclosed: Sequence[Decimal | None], at: int, total: Decimal) -> Decimal:
    return min((value for value in disclosed[:at] if value is not None), default=total)


def _most(total: Decimal, disclosed: Sequence[Decimal | None], at: int) -> Decimal:
    """Give as little as possible to the others: those before weigh as much, those after no less than their floor."""
    left = total - sum((value for value in disclosed if value is not None), _ZERO)
    left -= sum(
        (_largest_after(disclosed, after) for after in range(at + 1, len(disclosed)) if disclosed[after] is None), _ZERO
    )
    floors = [_largest_after(disclosed, before) for before in range(at) if disclosed[before] is None]
    # All of those before rise together with this one, but none of them below its own floor.
    for floor in sorted(floors, reverse=True):
        if floor <= left / (len(floors) + 1):
            break
        left -= floor
        floors.remove(floor)
    return left / (len(floors) + 1)


def _least(total: Decimal, disclosed: Sequence[Decimal | None], at: int) -> Decimal:
    """Give as much as possible to the others: those after weigh at most as much, those before as much as they may."""
    if any(value is None for value in disclosed[:at]) and not any(value is not None for value in disclosed[:at]):
        return _ZERO
    left = total - sum((value for value in disclosed if value is not None), _ZERO)
    left -= sum(
        (_smallest_before(disclosed, before, total) for before in range(at) if disclosed[before] is None), _ZERO
    )
    after = [
        _smallest_before(disclosed, place, total) for place in range(at + 1, len(disclosed)) if disclosed[place] is None
    ]
    for ceiling in sorted(after):
        if ceiling >= left / (len(after) + 1):
            break
        left -= ceiling
        after.remove(ceiling)
    return max(_ZERO, left / (len(after) + 1))
