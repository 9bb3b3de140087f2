"""Amounts that belong to several names: ``A/B 500/400 mg``, and footnotes that state the amount of what they mark."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from service.domain.labels.findings import PanelLine
from service.domain.labels.item_shapes import Aside, Item
from service.domain.labels.quantities import Per, Quantity, per
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
    if (told := _marked_per(sheet, items)) is not None:
        return told
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


def _marked_per(sheet: Sheet, items: tuple[Item, ...]) -> tuple[Item, ...] | None:
    """Read ``(\u2020 per 2 tablets)`` behind the last of several marked amounts: it holds for each of them."""
    for item in items:
        for aside in item.asides:
            first = aside.start + 1
            if first >= aside.end or sheet.tokens[first].kind != "mark":
                continue
            what_for = per(sheet, first + 1, aside.end - 1)
            if what_for is None or what_for.end != aside.end - 1:
                continue
            mark = sheet.tokens[first].text
            return tuple(
                replace(
                    one, per=one.per or what_for, asides=tuple(other for other in one.asides if other is not aside)
                )
                if mark in one.marks else one
                for one in items
            )  # fmt: skip
    return None


def with_marked_per(line: PanelLine, marked_per: Mapping[str, Per]) -> PanelLine:
    """Give a line what a footnote says its amount is for.

    Parameters
    ----------
    line
        A line of the panel.
    marked_per
        What amounts are for, by footnote mark.

    Returns
    -------
    PanelLine
        Unchanged where the line itself says what its amount is for, or bears no such mark.
    """
    told = next((marked_per[mark] for mark in line.item.marks if mark in marked_per), None)
    return line if told is None or line.item.per is not None else replace(line, per=told)


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
            found += [
                replace(item, name=name, quantity=one, asides=_beside(item, name))
                for name, one in zip(names, amounts, strict=True)
            ]
        else:
            # What has no name of its own is another column: "500/250 mg".
            found.append(replace(item, columns=(*item.columns, *item.more), more=()) if item.more else item)
    return tuple(found)


def _beside(item: Item, name: tuple[int, int]) -> tuple[Aside, ...]:
    """Leave to each name its own brackets."""
    inside = range(*item.name)
    return tuple(one for one in item.asides if one.start not in inside or one.start in range(*name))


def _slashed_names(sheet: Sheet, name: tuple[int, int]) -> list[tuple[int, int]]:
    cuts, at = [], name[0]
    while at < name[1]:
        token = sheet.tokens[at]
        if token.text in ("/", "&") or token.fold in ("and", "und", "et", "y"):
            cuts.append(at)
        # What a bracket holds is no name beside the others.
        at = sheet.closing.get(at, at) + 1
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
