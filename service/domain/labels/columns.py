"""Names and amounts that the print has torn apart: an amount in the line below its name, or columns of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from service.domain.labels.findings import Findings, Line, PanelLine
from service.domain.labels.item_shapes import Item
from service.domain.labels.items import read_items
from service.domain.labels.panel import amount_only, panel_line
from service.domain.labels.segments import Segment

_LONGEST_NAME_LINE = 12
_MOST_ROWS = 16


def torn(found: Findings, line: Line, below: Sequence[Segment]) -> int:
    """Read a line without amounts together with the lines below it, where these hold what is missing.

    Parameters
    ----------
    found
        Filled with the facts.
    line
        A line of words.
    below
        The lines after it.

    Returns
    -------
    int
        How many of the lines below belong to it; 0 where it stands by itself.
    """
    if not below or not below[0].new_line or line.end - line.start > _LONGEST_NAME_LINE:
        return 0
    if _holds_number(found, below[0]):
        if _is_amount(found, below[0]) or _goes_on(found, line, below[0]):
            return _joined(found, line, below[0])
        return 0
    if len(below) > 1 and _is_amount(found, below[1]) and _names_together(found, line, below[0]):
        return 2 * _joined(found, line, below[1])
    numbers_follow = any(_holds_number(found, segment) for segment in below[1:_MOST_ROWS])
    return _columns(found, line, below) if numbers_follow and _is_known(found, line.segment) else 0


def _holds_number(found: Findings, segment: Segment) -> bool:
    return any(token.kind == "number" for token in found.sheet.tokens[segment.start : segment.end])


def _is_amount(found: Findings, segment: Segment) -> bool:
    if not _holds_number(found, segment):
        return False
    return segment.new_line and amount_only(found, Line(segment, segment.start, segment.end))


def _joined(found: Findings, line: Line, segment: Segment) -> int:
    """Read a name and the amount in the line below it as one line."""
    whole = Line(replace(line.segment, end=segment.end), line.start, segment.end)
    return int(panel_line(found, whole))


def _goes_on(found: Findings, line: Line, segment: Segment) -> bool:
    """``Chondroitin`` and below it ``Sulfate 200 mg``: only both lines together name something."""
    items = read_items(found.sheet, segment.start, segment.end)
    if not items or items[0].quantity is None or items[0].name[0] >= items[0].name[1]:
        return False
    alone = found.sheet.text(*items[0].name)
    if found.sheet.exact(alone).ingredient is not None:
        return False
    both = found.sheet.exact(f"{found.sheet.text(line.start, line.end)} {alone}")
    return both.match == "exact" and both.ingredient is not None


def _names_together(found: Findings, line: Line, segment: Segment) -> bool:
    """``Chondroitin``, ``Sulfate`` and the amount in a third line."""
    alone, first = found.sheet.text(segment.start, segment.end), found.sheet.text(line.start, line.end)
    both = found.sheet.exact(f"{first} {alone}")
    known = both.match == "exact" and both.ingredient is not None
    return known and (found.sheet.exact(alone).ingredient is None or alone.startswith(("(", "[")))


def _columns(found: Findings, line: Line, below: Sequence[Segment]) -> int:
    """Pair a column of names with the column of amounts below it, if there are as many of each."""
    names = [(line.start, line.end)]
    at = 0
    while at < min(len(below), _MOST_ROWS) and below[at].new_line and not below[at].new_block:
        segment = below[at]
        if _is_amount(found, segment) or not _is_known(found, segment):
            break
        names.append((segment.start, segment.end))
        at += 1
    amounts: list[Item] = []
    while at < min(len(below), 2 * _MOST_ROWS) and _is_amount(found, below[at]):
        amounts.append(read_items(found.sheet, below[at].start, below[at].end)[0])
        at += 1
    if len(names) < 2 or len(amounts) < 2:
        return 0
    flag = "columns_paired_by_order" if len(names) == len(amounts) else "columns_not_paired"
    found.flags.append(flag)
    for place, name in enumerate(names):
        amount = amounts[place].quantity if len(names) == len(amounts) else None
        _keep(found, line, name, amounts[place] if amount is not None else None, flag)
    return at


def _keep(found: Findings, line: Line, name: tuple[int, int], amount: Item | None, flag: str) -> None:
    """Keep one row; where the columns do not match no amount is given to any name."""
    item = Item(*name, name, amount.quantity if amount is not None else None)
    found.lines.append(PanelLine(item, found.per, found.section, found.group, line.segment.indent, flags=(flag,)))
    found.cover(*name)
    if amount is not None:
        found.cover(amount.start, amount.end)


def _is_known(found: Findings, segment: Segment) -> bool:
    meaning = found.sheet.exact(found.sheet.text(segment.start, segment.end))
    return meaning.match == "exact" and meaning.ingredient is not None
