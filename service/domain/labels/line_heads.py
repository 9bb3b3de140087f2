"""What a line begins with and does not say: bullets, numbers of a list, leading signs, a bracket around all of it."""

from __future__ import annotations

from service.domain.labels.bullets import after_enumerator, is_bullet, is_symbol
from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import (
    DIRECTION_HEADINGS,
    LIST_HEADINGS,
    NET_CONTENT_HEADINGS,
    PRICE_HEADINGS,
    SERVING_HEADINGS,
)
from service.domain.labels.phrases import Phrases
from service.domain.labels.price import price_begins
from service.domain.labels.prose import reads_as_footnote
from service.domain.labels.quantities import quantity
from service.domain.labels.segments import Segment
from service.domain.labels.sheet import Sheet

_LEAD = frozenset((".", "-", "\u2013", "\u2014", "\u00b7", "\u2022", ",", ":", "+", "=", ")", "!", "~", "_", ">"))
# Headings that no footnote begins with.
_PARTS = Phrases(
    dict.fromkeys(
        (*SERVING_HEADINGS, *NET_CONTENT_HEADINGS, *LIST_HEADINGS, *DIRECTION_HEADINGS, *PRICE_HEADINGS), True
    )
)


def trimmed(found: Findings, segment: Segment, start: int, end: int) -> Line | None:
    """Step over bullets and leading signs, and take a bracket around the whole rest off.

    Parameters
    ----------
    found
        The label; what is stepped over counts as understood.
    segment
        The segment that the line is part of.
    start, end
        The line.

    Returns
    -------
    Line or None
        ``None`` where nothing is left. ``3,980 JPY (90 tablets)`` leaves the tablets without their bracket.
    """
    tokens = found.sheet.tokens
    begin = start
    start = _after_bullet(found.sheet, segment, start, end)
    while start < end and (
        tokens[start].text in _LEAD or tokens[start].kind == "newline" or is_symbol(tokens[start].text)
    ):
        if tokens[start].text == ">" and start + 1 < end and tokens[start + 1].kind == "number":
            # "> 20 kg: 2 tablets" says above, not "next item".
            break
        start += 1
    found.cover(begin, start)
    inside = found.sheet.inside(start) if start < end else None
    if inside is not None and inside[1] == end - 1:
        found.cover(start, start + 1)
        found.cover(end - 1, end)
        return trimmed(found, segment, *inside)
    return Line(segment, start, end) if start < end else None


def _after_bullet(sheet: Sheet, segment: Segment, start: int, end: int) -> int:
    """Step over the mark that begins an item of a list; that of a footnote is left to it."""
    if start != segment.start or not segment.new_line or start >= end:
        return start
    bullet = is_bullet(sheet, start)
    if sheet.tokens[start].kind != "mark" and not bullet:
        return after_enumerator(sheet, start, end)
    opens = bullet and not reads_as_footnote(sheet, start + 1, segment.end)
    return start + 1 if opens or _is_a_part(sheet, start + 1, segment.end) else start


def _is_a_part(sheet: Sheet, start: int, end: int) -> bool:
    """``60 chews``, ``$20``, ``Serving size: 2 chews`` are parts of a label, whatever mark stands before them."""
    if start >= end:
        return False
    head = _PARTS.find(sheet.tokens, start, end)
    if head is not None:
        return head.end < end and sheet.tokens[head.end].text == ":"
    counted = quantity(sheet, start, end)
    counts = counted is not None and counted.unit is not None and counted.unit.dimension == "count"
    return (counts and counted is not None and counted.end == end) or price_begins(sheet, start, end)
