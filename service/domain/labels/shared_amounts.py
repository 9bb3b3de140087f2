"""Amounts that belong to several names: ``A/B 500/400 mg``, and footnotes that state the amount of what they mark."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from service.domain.labels.item_shapes import Aside, Item
from service.domain.labels.quantities import Quantity
from service.domain.labels.sheet import Sheet


def footnoted(sheet: Sheet, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Give marked names the amount that a bracket with the same mark states: ``(*1,000 mg each per day)``.

    Parameters
    ----------
    sheet
        The label.
    items
        Items of a line.

    Returns
    -------
    tuple of Item
        With the amounts, flagged ``amount_in_footnote``.
    """
    for item in items:
        for aside in item.asides:
            notes = [note for note in aside.items if note.quantity is not None and note.name[0] >= note.name[1]]
            marked = aside.start + 1 < len(sheet.tokens) and sheet.tokens[aside.start + 1].kind == "mark"
            if not notes or not marked:
                continue
            mark = sheet.tokens[aside.start + 1].text
            amount = notes[0].quantity
            if amount is None:
                continue
            amount = replace(amount, flags=(*amount.flags, "amount_in_footnote"))
            return tuple(
                replace(
                    one, quantity=amount, per=notes[0].per, name=_without_bracket(one, aside),
                    asides=tuple(other for other in one.asides if other is not aside),
                )
                if mark in one.marks and one.quantity is None else one
                for one in items
            )  # fmt: skip
    return items


def each_of_slashed(sheet: Sheet, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """``Glucosamine HCl/chondroitin sulfate 500/400 mg``: as many names as numbers, in the same order.

    Parameters
    ----------
    sheet
        The label.
    items
        Items of a line.

    Returns
    -------
    tuple of Item
        One for each name, flagged ``slash_list``.
    """
    found: list[Item] = []
    for item in items:
        names = _slashed_names(sheet, item.name)
        amounts = _slashed_amounts(sheet, item)
        if len(names) == len(amounts) > 1:
            found += [replace(item, name=name, quantity=one) for name, one in zip(names, amounts, strict=True)]
        else:
            found.append(item)
    return tuple(found)


def _slashed_names(sheet: Sheet, name: tuple[int, int]) -> list[tuple[int, int]]:
    cuts = [
        at
        for at in range(*name)
        if sheet.tokens[at].text in ("/", "&") or sheet.tokens[at].fold in ("and", "und", "et", "y")
    ]
    edges = [name[0] - 1, *cuts, name[1]]
    return [(left + 1, right) for left, right in pairwise(edges) if right > left + 1]


def _slashed_amounts(sheet: Sheet, item: Item) -> list[Quantity]:
    """Read ``500/400 mg`` and ``500 mg/400 mg``."""
    whole = item.quantity
    if whole is None or not item.more:
        return []
    several = (whole, *item.more)
    unit = next((one.unit for one in reversed(several) if one.unit is not None), None)
    return [replace(one, unit=one.unit or unit, flags=(*one.flags, "slash_list")) for one in several]


def _without_bracket(item: Item, aside: Aside) -> tuple[int, int]:
    return item.name[0], min(item.name[1], aside.start) if aside.start >= item.name[0] else item.name[1]
