"""Lines that name a blend, and the lines below it that name its members."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from service.domain.fact_names import read_fact_name
from service.domain.label_text import words
from service.domain.labels.findings import Findings, Line, PanelLine
from service.domain.labels.item_names import JOINS
from service.domain.labels.item_shapes import Aside, Item
from service.domain.labels.items import read_items
from service.domain.labels.lists import bare_name
from service.domain.labels.quantities import quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BLEND_WORDS

_LONGEST_BLEND_NAME = 8
_DOTS = frozenset((".", "\u2026", "_", "\u00b7"))


def is_blend(sheet: Sheet, item: Item) -> bool:
    """Say whether a name is that of a blend: its word says so and no recorded substance has that name.

    Parameters
    ----------
    sheet
        The label.
    item
        The first item of a line.

    Returns
    -------
    bool
        ``False`` for ``mixed tocopherols`` and other recorded mixtures.
    """
    start, end = item.name
    if not any(BLEND_WORDS.find(sheet.tokens, at, end) for at in range(start, min(end, start + 12))):
        return False
    outer = _outer_name(sheet, item)
    if "amount_hidden_in_blend" in read_fact_name(sheet.reference, sheet.text(*outer)).flags:
        return True
    return any(_lists_substances(sheet, aside) for aside in item.asides if aside.kind == "words")


def _lists_substances(sheet: Sheet, aside: Aside) -> bool:
    """``Mushroom complex 300 mg (reishi, shiitake, maitake)``: a recorded name that still lists several things."""
    named = [one for item in _members(sheet, aside) for one in apart(sheet, item)]
    known = {sheet.exact(sheet.text(*one.name)).matched_name for one in named}
    return len(named) > 1 and len(known - {None}) > 1


def _outer_name(sheet: Sheet, item: Item) -> tuple[int, int]:
    first = next((aside.start for aside in item.asides if item.name[0] < aside.start < item.name[1]), item.name[1])
    return item.name[0], first


def blend_line(found: Findings, line: Line, items: tuple[Item, ...]) -> bool:
    """Keep a blend with its total and the members on its line.

    Parameters
    ----------
    found
        Filled with the blend.
    line
        The line.
    items
        Its items, the blend first.

    Returns
    -------
    bool
        Always: the line is read.
    """
    sheet, head = found.sheet, items[0]
    members = [
        member for aside in head.asides if aside.kind in ("content", "words") for member in _members(sheet, aside)
    ]
    colon = head.end < line.end and sheet.tokens[head.end].text in (":", "=")
    rest = list(items[1:])
    if head.quantity is None or colon or (rest and not members and all(item.quantity is None for item in rest)):
        members += rest
        rest = []
    head, members = _with_trailing_total(sheet, head, members)
    members = [one for member in members for inner in _opened(sheet, member) for one in apart(sheet, inner)]
    entry = PanelLine(
        replace(head, name=_outer_name(sheet, head)),
        head.per or found.per,
        "blend",
        found.group,
        line.segment.indent,
        members,
    )
    found.lines.append(entry)
    for item in rest:
        if item.quantity is None:
            bare_name(found, item)
        else:
            found.lines.append(PanelLine(item, item.per or found.per, found.section, found.group, line.segment.indent))
    found.cover(line.start, line.end)
    return True


def blend_with_colon(found: Findings, line: Line) -> bool:
    """Recognise ``Joint blend: MSM, yucca``: a blend that names members, some of them without an amount.

    Parameters
    ----------
    found
        Filled with the blend.
    line
        The line.

    Returns
    -------
    bool
        ``False`` where every member has its amount: these are facts.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    limit = min(line.end, line.start + _LONGEST_BLEND_NAME)
    colon = next((at for at in range(line.start, limit) if tokens[at].text == ":"), line.end)
    if colon >= line.end - 1 or any(quantity(sheet, at, colon) for at in range(line.start, colon)):
        return False
    head = Item(line.start, colon, (line.start, colon), None)
    members = read_items(sheet, colon + 1, line.end, found.column_unit)
    if len(members) < 2 or all(one.quantity is not None for one in members) or not is_blend(sheet, head):
        return False
    if not any(sheet.exact(sheet.text(*one.name)).ingredient for one in members):
        return False
    return blend_line(found, line, (head, *members))


def _with_trailing_total(sheet: Sheet, head: Item, members: list[Item]) -> tuple[Item, list[Item]]:
    """``Blend: glucosamine, chondroitin, MSM ... 1500 mg``: behind dots stands the total of the blend."""
    last = members[-1] if len(members) > 1 else None
    if last is None or last.quantity is None or head.quantity is not None:
        return head, members
    dotted = any(token.text in _DOTS for token in sheet.tokens[last.start : last.quantity.start])
    if not dotted or any(member.quantity is not None for member in members[:-1]):
        return head, members
    return replace(head, quantity=last.quantity, per=last.per), [*members[:-1], replace(last, quantity=None)]


def _members(sheet: Sheet, aside: Aside) -> tuple[Item, ...]:
    if aside.items:
        return aside.items
    return read_items(sheet, aside.start + 1, aside.end - 1, None, 1)


def _opened(sheet: Sheet, member: Item) -> tuple[Item, ...]:
    """Take the brackets off members: ``[Joint blend 500 mg: glucosamine HCl, MSM]`` is one, ``[MSM, yucca]`` two."""
    inside = sheet.inside(member.start)
    if inside is None or inside[1] + 1 != member.end:
        return (member,)
    items = read_items(sheet, *inside)
    if not items:
        return (member,)
    if items[0].quantity is None and not is_blend(sheet, items[0]):
        return items
    inner = Aside("content", inside[0], inside[1], items[1:])
    return (replace(items[0], end=inside[1], asides=(*items[0].asides, inner)),)


def apart(sheet: Sheet, member: Item) -> tuple[Item, ...]:
    """Take two members apart that an "and" joins: ``glucosamine HCl and chondroitin``.

    Parameters
    ----------
    sheet
        The label.
    member
        A member of a blend; one with an amount of its own is left as it is.

    Returns
    -------
    tuple of Item
        Each without an amount; the member itself where it is one recorded name, or nothing joins.
    """
    start, end = member.name
    cuts = [at for at in range(start + 1, end - 1) if sheet.tokens[at].fold in JOINS and not _is_letter(sheet, at)]
    if member.quantity is not None or member.asides or not cuts or _is_one_name(sheet.text(start, end), sheet):
        return (member,)
    edges = [start - 1, *cuts, end]
    names = [(left + 1, right) for left, right in pairwise(edges) if right > left + 1]
    return tuple(replace(member, start=name[0], end=name[1], name=name) for name in names)


def _is_one_name(text: str, sheet: Sheet) -> bool:
    """``EPA and DHA`` is recorded as it stands."""
    return words(sheet.exact(text).matched_name or "") == words(text)


def _is_letter(sheet: Sheet, at: int) -> bool:
    """``vitamin E`` joins nothing."""
    token = sheet.tokens[at]
    return len(token.text) == 1 and token.text.isalpha() and (token.text.isupper() or sheet.tokens[at - 1].text == "-")


def members_with_amounts(found: Findings, line: Line) -> bool:
    """Read a line below a blend that names members, some with their amounts: behind a semicolon, indented, or mixed.

    Parameters
    ----------
    found
        Filled with the members.
    line
        The line.

    Returns
    -------
    bool
        Whether a blend without members stands right above, or on the same line.
    """
    last = found.lines[-1] if found.lines else None
    if last is None or last.section != "blend" or last.group != found.group or line.segment.new_block:
        return False
    if line.segment.new_line:
        items = read_items(found.sheet, line.start, line.end, found.column_unit)
        mixed = len(items) > 1 and any(item.quantity is None for item in items)
        if line.segment.indent <= last.indent and (last.members or not mixed):
            return False
    named = read_items(found.sheet, line.start, line.end)
    last.members.extend(one for item in named for one in apart(found.sheet, item))
    found.cover(line.start, line.end)
    return True


def blend_members(found: Findings, line: Line) -> bool:
    """Read a line of names below a blend that has named none of its members yet.

    Parameters
    ----------
    found
        Filled with the members.
    line
        The line.

    Returns
    -------
    bool
        Whether such a blend is open in this block.
    """
    last = found.lines[-1] if found.lines else None
    if last is None or last.section != "blend" or last.group != found.group or line.segment.new_block:
        return False
    items = read_items(found.sheet, line.start, line.end)
    level = line.segment.new_line and last.members and line.segment.indent <= last.indent
    if level and not _ends_in_comma(found, last) and not _goes_on(found, last, items):
        return False
    last.members.extend(one for item in items for one in apart(found.sheet, item))
    found.cover(line.start, line.end)
    return True


def _goes_on(found: Findings, blend: PanelLine, items: tuple[Item, ...]) -> bool:
    """Say whether names stand one below the other: this line and the last are each one recorded name."""
    sheet = found.sheet
    if len(items) != 1 or any(token.text == "," for token in sheet.tokens[blend.item.end : items[0].start]):
        return False
    return all(sheet.exact(sheet.text(*one.name)).match == "exact" for one in (*blend.members, *items))


def _ends_in_comma(found: Findings, blend: PanelLine) -> bool:
    end = blend.members[-1].end if blend.members else blend.item.end
    return end < len(found.sheet.tokens) and found.sheet.tokens[end].text == ","
