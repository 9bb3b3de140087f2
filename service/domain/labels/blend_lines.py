"""Lines that name a blend, and the lines below it that name its members."""

from __future__ import annotations

from dataclasses import replace

from service.domain.fact_names import read_fact_name
from service.domain.labels.findings import Findings, Line, PanelLine
from service.domain.labels.item_shapes import Aside, Item
from service.domain.labels.items import read_items
from service.domain.labels.lists import bare_name
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BLEND_WORDS


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
    return "amount_hidden_in_blend" in read_fact_name(sheet.reference, sheet.text(*outer)).flags


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
    members = [inner for member in members for inner in _opened(sheet, member)]
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
        if last.members or not (mixed or line.segment.indent > last.indent):
            return False
    last.members.extend(read_items(found.sheet, line.start, line.end))
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
    same_line = not line.segment.new_line
    if not same_line and last.members and line.segment.indent <= last.indent and not _ends_in_comma(found, last):
        return False
    last.members.extend(read_items(found.sheet, line.start, line.end))
    found.cover(line.start, line.end)
    return True


def _ends_in_comma(found: Findings, blend: PanelLine) -> bool:
    end = blend.members[-1].end if blend.members else blend.item.end
    return end < len(found.sheet.tokens) and found.sheet.tokens[end].text == ","
