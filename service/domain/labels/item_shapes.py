"""What a line of names and amounts is cut into, and the few questions that all of its readers ask."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from service.domain.labels.numerals import number
from service.domain.labels.quantities import Per, Quantity, quantity
from service.domain.labels.sheet import Sheet
from service.reference.records import Unit

_NOT_A_SUBSTANCE = frozenset(("count", "energy", "energy_per_mass"))
# Real labels nest two deep; what lies deeper is words.
DEEPEST = 4
LEADERS = frozenset(
    (".", ";", "\u2026", "_", ":", "-", "\u2013", "\u2014", "=", "\u00b7", "\u2022", "|", ",", "~", ">")
)


@dataclass(frozen=True, slots=True)
class Aside:
    """A bracket or clause beside an amount: ``content``, ``equivalent``, ``source``, ``restated`` or ``words``."""

    kind: str
    start: int
    end: int
    items: tuple[Item, ...] = ()
    quantity: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """One name with what is printed beside it, as places of tokens; ``quantity`` is ``None`` for a bare name.

    ``size`` is that of the unit which the amount is for: ``150 mg per tablet of 2 g``.
    """

    start: int
    end: int
    name: tuple[int, int]
    quantity: Quantity | None
    per: Per | None = None
    asides: tuple[Aside, ...] = ()
    second: Quantity | None = None
    purity: Quantity | None = None
    more: tuple[Quantity, ...] = ()
    columns: tuple[Quantity, ...] = ()
    marks: tuple[str, ...] = ()
    size: Quantity | None = None


@dataclass(slots=True)
class Draft:
    """An item while it is read; the members are those of :class:`Item`."""

    start: int
    name: tuple[int, int] = (0, 0)
    quantity: Quantity | None = None
    per: Per | None = None
    asides: list[Aside] = field(default_factory=list)
    second: Quantity | None = None
    purity: Quantity | None = None
    more: list[Quantity] = field(default_factory=list)
    columns: list[Quantity] = field(default_factory=list)
    marks: list[str] = field(default_factory=list)
    size: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Scope:
    """Where items are read: the label, the end of the line, the unit of its column, the depth of its bracket.

    ``read`` cuts what is inside a bracket into items in the same way.
    """

    sheet: Sheet
    end: int
    inherited: Unit | None
    depth: int
    read: Callable[[Sheet, int, int, Unit | None, int], tuple[Item, ...]]


def is_substance_amount(found: Quantity | None) -> bool:
    """Say whether an amount can be that of a substance: no tablets, no calories.

    Parameters
    ----------
    found
        What :func:`service.domain.labels.quantities.quantity` gave.

    Returns
    -------
    bool
        A bare number is none.
    """
    return found is not None and found.unit is not None and found.unit.dimension not in _NOT_A_SUBSTANCE


def is_share(found: Quantity | None) -> bool:
    """Say whether an amount is a per cent.

    Parameters
    ----------
    found
        An amount.

    Returns
    -------
    bool
        ``False`` for a share of a daily value, which is no part of anything.
    """
    return found is not None and found.unit is not None and found.unit.dimension == "fraction"


def number_within(sheet: Sheet, at: int, end: int, most: int) -> bool:
    """Say whether a number that belongs to no name stands among the next tokens.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where to begin, and where the line ends.
    most
        How many tokens are looked at.

    Returns
    -------
    bool
        ``False`` where none does.
    """
    return any(number(sheet, place, end) is not None for place in range(at, min(end, at + most)))


def skip_leaders(sheet: Sheet, at: int, end: int) -> int:
    """Step over dots, dashes and colons between a name and its amount.

    Parameters
    ----------
    sheet
        The label.
    at, end
        Where to begin, and where the line ends.

    Returns
    -------
    int
        The first token that is none, or that begins an amount.
    """
    while at < end and sheet.tokens[at].text in LEADERS and quantity(sheet, at, end) is None:
        at += 1
    return at


def with_inherited(item: Item, unit: Unit) -> Item:
    """Give an item the unit that its bracket inherits.

    Parameters
    ----------
    item
        An item whose number has no unit.
    unit
        Unit of the amount that the bracket belongs to.

    Returns
    -------
    Item
        Flagged ``unit_inherited``; unchanged where it has a unit or no number.
    """
    found = item.quantity
    if found is None or found.unit is not None:
        return item
    return replace(item, quantity=replace(found, unit=unit, flags=(*found.flags, "unit_inherited")))
