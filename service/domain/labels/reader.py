"""Tries the recognisers on every line of a label, in a fixed order, and keeps what none of them understands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from service.domain.labels.directions import closed_bands, directions, weight_bands
from service.domain.labels.energy import energy
from service.domain.labels.findings import Findings, Line
from service.domain.labels.headings import Heading, heading, per_kilogram, says_additives, serving_of_heading
from service.domain.labels.lists import allergen_line, ingredient_list
from service.domain.labels.pack import container, serving, servings_in_pack, unit_mass
from service.domain.labels.panel import amount_only, blend_members, panel_line
from service.domain.labels.price import price
from service.domain.labels.prose import footnote, product_type, statement, sum_claim, table_heading
from service.domain.labels.quantities import quantity
from service.domain.labels.segments import Segment, segments
from service.domain.labels.sheet import Span, sheet_of
from service.domain.list_splitting import split_list
from service.domain.resolving import Resolver, resolver_for
from service.reference.release import Reference

# Far more lines than any label has; what lies beyond is reported as unread.
MOST_LINES = 1500
_MOST_NAME_LINES = 300
_LEAD = frozenset((".", "-", "\u2013", "\u2014", "\u00b7", "\u2022", ",", ":", "+", "=", ")", "!", "~", "_", ">"))
_MASSES_OF_SUBSTANCES = ("milligram", "microgram", "gram", "nanogram")


@dataclass(frozen=True, slots=True)
class UnreadText:
    """Characters that no recogniser understood."""

    text: str
    span: Span


def read_tokens(reference: Reference, text: str, locale: str | None) -> Findings:
    """Read a label line by line.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        The label as it came.
    locale
        Two-letter language, or ``None``.

    Returns
    -------
    Findings
        All lines, with the tokens that were understood.
    """
    sheet = sheet_of(reference, text, locale)
    found = Findings(sheet, bytearray(len(sheet.tokens)))
    reader = _Reader(found, resolver_for(reference))
    lines = segments(sheet)
    _cover_separators(found, lines)
    for at, segment in enumerate(lines[:MOST_LINES]):
        following = lines[at + 1] if at + 1 < len(lines) else None
        reader.segment(segment, following)
    found.directions[:] = closed_bands(tuple(found.directions))
    return found


def _cover_separators(found: Findings, lines: tuple[Segment, ...]) -> None:
    """Mark what stands between lines as understood: line ends, semicolons, bullets, full stops."""
    at = 0
    for segment in lines:
        found.cover(at, segment.start)
        at = segment.end
    found.cover(at, len(found.sheet.tokens))


class _Reader:
    def __init__(self, found: Findings, resolver: Resolver) -> None:
        self._found = found
        self._resolver = resolver
        self._names_left = _MOST_NAME_LINES
        self._skip: Segment | None = None

    def segment(self, segment: Segment, following: Segment | None) -> None:
        found = self._found
        if segment is self._skip:
            return
        if segment.new_block and found.section in ("directions", "list", "warning", "storage"):
            found.new_section("")
        start = segment.start
        while start < segment.end and (
            found.sheet.tokens[start].text in _LEAD or found.sheet.tokens[start].kind == "newline"
        ):
            start += 1
        found.cover(segment.start, start)
        line = Line(segment, start, segment.end)
        if line.start < line.end:
            self._line(line, following)

    def _line(self, line: Line, following: Segment | None) -> None:
        found = self._found
        after = price(found, line)
        if after is not None:
            self._rest(line, after, following)
            return
        for recogniser in _BEFORE_HEADINGS:
            if recogniser(found, line):
                self._rest(line, _first_uncovered(found, line), following)
                return
        head = heading(found, line)
        if head is not None:
            self._headed(line, head, following)
            return
        self._body(line, following)

    def _rest(self, line: Line, start: int, following: Segment | None) -> None:
        """Go on with what a recogniser left of its line."""
        tokens = self._found.sheet.tokens
        while start < line.end and (tokens[start].text in _LEAD or tokens[start].kind == "newline"):
            self._found.cover(start, start + 1)
            start += 1
        if line.start < start < line.end:
            self._line(
                Line(replace(line.segment, start=start, new_line=False), *self._unwrapped(start, line.end)), following
            )

    def _unwrapped(self, start: int, end: int) -> tuple[int, int]:
        """Take a bracket around the whole rest off: ``3,980 JPY (90 tablets)``."""
        inside = self._found.sheet.inside(start)
        if inside is not None and inside[1] == end - 1:
            self._found.cover(start, start + 1)
            self._found.cover(end - 1, end)
            return inside
        return start, end

    def _headed(self, line: Line, head: Heading, following: Segment | None) -> None:
        found = self._found
        tokens = found.sheet.tokens
        own_line = line.segment.new_line or head.end >= line.end
        if own_line or head.kind in ("additives", "list", "directions"):
            found.new_section(head.kind)
        found.per = head.per or (None if head.kind in ("additives", "constituents") else found.per)
        found.column_unit = head.unit
        if head.kind == "additives" and head.per is None and says_additives(found, line.start, head.end):
            found.per = per_kilogram(found)
        if head.per is not None:
            serving_of_heading(found, head.per, line.start, head.end)
        found.cover(line.start, head.end)
        rest = head.end
        while rest < line.end and (tokens[rest].text in _LEAD or tokens[rest].kind == "newline"):
            found.cover(rest, rest + 1)
            rest += 1
        if head.kind in ("warning", "storage"):
            found.state(head.kind, line.start, line.end)
        elif rest >= line.end:
            found.state("heading", line.start, line.end)
        else:
            self._body(Line(replace(line.segment, start=rest), rest, line.end), following, headed=True)

    def _body(self, line: Line, following: Segment | None, headed: bool = False) -> None:
        found = self._found
        if found.section in ("warning", "storage") and not headed:
            found.state(found.section, line.start, line.end)
            return
        substances = _has_substance(found, line)
        if not substances and directions(found, line):
            return
        if found.section == "directions" and not substances:
            found.state("directions", line.start, line.end)
            return
        if table_heading(found, line) or sum_claim(found, line):
            return
        if found.section == "list":
            self._list(line)
            return
        if panel_line(found, line) or (directions(found, line)):
            return
        self._names(line, following, headed)

    def _list(self, line: Line) -> None:
        """Read a line of an ingredient list; members with amounts are facts as well as ingredients."""
        if not (_has_substance(self._found, line) and panel_line(self._found, line)):
            ingredient_list(self._found, line.start, line.end)

    def _names(self, line: Line, following: Segment | None, headed: bool) -> None:
        found = self._found
        if following is not None and following.new_line and self._names_amount_below(line, following):
            return
        if blend_members(found, line):
            return
        if headed or self._is_list(line):
            ingredient_list(found, line.start, line.end)
        else:
            statement(found, line)

    def _names_amount_below(self, line: Line, following: Segment) -> bool:
        """Join a name with the amount in the line below it, as panels cut into columns come."""
        found = self._found
        if not amount_only(found, Line(following, following.start, following.end)) or line.end - line.start > 12:
            return False
        joined = Line(replace(line.segment, end=following.end), line.start, following.end)
        if not panel_line(found, joined):
            return False
        self._skip = following
        return True

    def _is_list(self, line: Line) -> bool:
        """Say whether a line without a heading names ingredients: at least half of its items are known names."""
        if self._names_left <= 0:
            return False
        items = split_list(self._found.sheet.text(line.start, line.end))
        if not items:
            return False
        self._names_left -= min(len(items), 40)
        known = [self._is_name(item.text) for item in items[:40]]
        # A name with a bracket behind it: "glucosamine HCl (vegetarian, from corn fermentation)".
        opens = any(at in self._found.sheet.closing for at in range(line.start, line.end))
        return sum(known) * 2 >= len(known) or (opens and known[0]) or self._begins_with_a_name(line)

    def _begins_with_a_name(self, line: Line) -> bool:
        """``Glucosamine high potency``: a known name and a few words, no amount. It is no claim about something else."""
        if line.end - line.start > 6 or not line.segment.new_line:
            return False
        found = self._resolver.exact(self._found.sheet.text(line.start, line.end))
        return (
            found.ingredient is not None
            and not found.negated
            and self._is_name(self._found.sheet.tokens[line.start].text)
        )

    def _is_name(self, text: str) -> bool:
        found = self._resolver.exact(text)
        return (found.match == "exact" and bool(found.meanings)) or (found.hazard is not None and not found.negated)


Recogniser = Callable[[Findings, Line], bool]
_BEFORE_HEADINGS: tuple[Recogniser, ...] = (
    product_type,
    footnote,
    energy,
    unit_mass,
    servings_in_pack,
    serving,
    weight_bands,
    container,
    allergen_line,
)


def _first_uncovered(found: Findings, line: Line) -> int:
    return next((at for at in range(line.start, line.end) if not found.covered[at]), line.end)


def _has_substance(found: Findings, line: Line) -> bool:
    sheet = found.sheet
    at = line.start
    while at < line.end:
        one = quantity(sheet, at, line.end)
        if one is None:
            at += 1
            continue
        if one.unit is not None and (
            one.unit.dimension
            in ("iu", "fraction", "mass_per_mass", "activity", "vitamin_equivalent", "activity_per_mass", "iu_per_mass")
            or one.unit.unit in _MASSES_OF_SUBSTANCES
        ):
            return True
        at = max(one.end, at + 1)
    return False


def unread(found: Findings) -> tuple[UnreadText, ...]:
    """Give every stretch of text that was not understood.

    Parameters
    ----------
    found
        What :func:`read_tokens` gave.

    Returns
    -------
    tuple of UnreadText
        Stretches that hold a word or a number; signs alone say nothing.
    """
    sheet, spans = found.sheet, []
    start: int | None = None
    for at in range(len(sheet.tokens) + 1):
        inside = at < len(sheet.tokens) and not found.covered[at] and sheet.tokens[at].kind != "newline"
        if inside and start is None:
            start = at
        elif not inside and start is not None:
            if any(token.kind != "sign" for token in sheet.tokens[start:at]):
                spans.append(UnreadText(sheet.text(start, at), sheet.span(start, at)))
            start = None
    return tuple(spans)
