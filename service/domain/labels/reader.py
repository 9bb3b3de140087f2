"""Tries the recognisers on every line of a label, in a fixed order, and keeps what none of them understands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from service.domain.labels.allergen_words import DENIES
from service.domain.labels.blend_lines import blend_members, blend_with_colon, members_with_amounts
from service.domain.labels.bullets import leads_one_line
from service.domain.labels.columns import torn
from service.domain.labels.container import container, titled_size
from service.domain.labels.direction_steps import collect, names_animal
from service.domain.labels.directions import closed_bands, directions, weight_bands
from service.domain.labels.energy import energy
from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_servings import Heading, serving_of_heading
from service.domain.labels.headings import heading, per_kilogram, says_additives
from service.domain.labels.item_shapes import is_substance_amount
from service.domain.labels.items import read_items
from service.domain.labels.line_heads import trimmed
from service.domain.labels.lists import allergen_line, ingredient_list, stated_facility
from service.domain.labels.panel import panel_line
from service.domain.labels.price import price, price_place, reduction
from service.domain.labels.prose import (
    claim_before_amount,
    footnote,
    product_type,
    statement,
    sum_claim,
    table_heading,
    told_by_first_words,
)
from service.domain.labels.quantities import quantity
from service.domain.labels.segments import Segment, segments
from service.domain.labels.serving import serving, servings_in_pack
from service.domain.labels.sheet import Span, sheet_of
from service.domain.labels.supplies import supply
from service.domain.labels.unit_masses import unit_mass
from service.domain.list_splitting import split_list
from service.reference.release import Reference

# Far more lines than any label has; what lies beyond is reported as unread.
MOST_LINES = 400
_MOST_NAME_LINES = 300
_SECTIONS_OF_ONE_BLOCK = ("directions", "list", "warning", "storage")
# A line that is read in more pieces than this is no line of a label; the rest of it is reported as unread.
_MOST_PIECES = 8
_LONGEST_NAME_LINE = 12
_LONGEST_LINE = 600
_MOST_ITEMS_TRIED = 40
_MOST_BELOW = 32
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
    lines = segments(sheet)
    _cover_separators(found, lines)
    _Reader(found, lines[:MOST_LINES]).read()
    found.directions[:] = closed_bands(tuple(found.directions))
    if _serving_is_open(found):
        found.pack.serving_is_open = True
        found.flags.append("serving_not_stated")
    return found


def _serving_is_open(found: Findings) -> bool:
    """``MSM 700 mg``, ``500 ml bottle``: what the 700 mg are in is not printed, and surely no millilitre."""
    pack = found.pack
    if pack.net_ml is None or pack.serving_units is not None or pack.serving_mass_g is not None:
        return False
    amounts = ((line.per, line.item.quantity) for line in found.lines)
    return pack.unit is None and any(
        (what is None or what.kind == "serving") and one is not None and one.unit is not None
        and one.unit.dimension in ("mass", "iu", "activity", "vitamin_equivalent")
        for what, one in amounts
    )  # fmt: skip


def _cover_separators(found: Findings, lines: tuple[Segment, ...]) -> None:
    """Mark what stands between lines as understood: line ends, semicolons, bullets, full stops."""
    at = 0
    for segment in lines:
        found.cover(at, segment.start)
        at = segment.end
    found.cover(at, len(found.sheet.tokens))


class _Reader:
    """Goes through the lines once. Each line is offered to the recognisers; what one leaves is offered again."""

    def __init__(self, found: Findings, lines: tuple[Segment, ...]) -> None:
        self._found = found
        self._lines = lines
        self._at = 0
        self._names_left = _MOST_NAME_LINES

    def read(self) -> None:
        """Read all lines."""
        while self._at < len(self._lines):
            segment = self._lines[self._at]
            if segment.new_block and self._found.section in _SECTIONS_OF_ONE_BLOCK:
                self._found.new_section("")
            self._segment(segment)
            self._at += 1

    def _segment(self, segment: Segment) -> None:
        """Read a line; a price behind other words is read by itself."""
        long = segment.end - segment.start > _LONGEST_LINE
        place = None if long else price_place(self._found, Line(segment, segment.start, segment.end))
        if place is None:
            self._pieces(segment, segment.start, segment.end)
            return
        after = price(self._found, Line(segment, place, segment.end)) or segment.end
        self._pieces(segment, segment.start, place)
        self._pieces(replace(segment, new_line=False), after, segment.end)

    def _pieces(self, segment: Segment, start: int, end: int) -> None:
        rest: Line | None = trimmed(self._found, segment, start, end)
        for _ in range(_MOST_PIECES):
            if rest is None:
                return
            after = self._read_some(rest)
            begun = after is not None and after > rest.start
            rest = trimmed(self._found, replace(segment, new_line=False), after, rest.end) if after and begun else None

    def _read_some(self, line: Line) -> int | None:
        """Read what a line begins with; give where its rest begins, ``None`` where it is done."""
        found = self._found
        if line.end - line.start > _LONGEST_LINE:
            # Only a list is ever so long; nothing else needs to be looked for in it.
            self._long(line)
            return None
        if (after := price(found, line)) is not None:
            return after
        for recogniser in _BEFORE_HEADINGS:
            if recogniser(found, line):
                return _first_uncovered(found, line)
        head = heading(found, line)
        if head is None:
            self._body(line)
            return None
        return self._headed(line, head)

    def _long(self, line: Line) -> None:
        head = heading(self._found, line)
        start = head.end if head is not None else line.start
        if head is not None:
            self._found.state("heading", line.start, start)
        rest = Line(line.segment, start, line.end)
        if not panel_line(self._found, rest):
            ingredient_list(self._found, start, line.end)

    def _headed(self, line: Line, head: Heading) -> int | None:
        """Take the context from a heading and read what stands behind it."""
        found = self._found
        below_additives = found.section == "additives"
        found.new_section(head.kind)
        if head.per is not None and head.per.kind == "unit" and head.per.count != 1:
            _flag_what_stands_before(found)
        resets = head.kind in ("additives", "constituents") and not below_additives
        found.per = head.per or (None if resets else found.per)
        found.column_unit, found.bound = head.unit, head.bound
        if found.per is not None and found.per.kind == "day" and found.pack.servings_per_day == 1:
            # "Per daily dose (3 capsules)": the serving is the daily dose.
            found.per = replace(found.per, kind="serving")
        if head.kind == "additives" and found.per is None and says_additives(found, line.start, head.end):
            found.per = per_kilogram(found)
        serving_of_heading(found, head, line.start)
        rest = trimmed(self._found, line.segment, head.end, line.end)
        if head.kind == "directions":
            # "Loading (days 1-28): 3 chews/day"
            told = collect(found.sheet, line.start, head.end)
            found.phase, found.days = told.phase, told.days
        if head.kind in ("warning", "storage"):
            found.state(head.kind, line.start, line.end)
            return None
        found.state("heading", line.start, line.end if rest is None else head.end)
        if rest is None:
            return None
        if head.kind == "active":
            return rest.start
        self._body(rest, headed=True)
        return None

    def _body(self, line: Line, headed: bool = False) -> None:
        found = self._found
        if found.section in ("warning", "storage") and not headed:
            found.state(found.section, line.start, line.end)
            return
        if table_heading(found, line):
            return
        substances = has_substance(found, line)
        if found.section == "directions":
            substances = substances and self._names_substance(line)
        substances = substances and not self._is_dose(line)
        if not substances and directions(found, line):
            return
        if found.section == "directions" and not substances:
            found.state("directions", line.start, line.end)
        elif sum_claim(found, line):
            return
        elif found.section == "list":
            self._list(line)
        elif not any(recogniser(found, line) for recogniser in _OF_A_PANEL):
            self._names(line, headed)

    def _is_dose(self, line: Line) -> bool:
        """``Hunde: 5 g pro 10 kg täglich``: grams for an animal, of nothing that the line names."""
        sheet = self._found.sheet
        if not names_animal(sheet, line.start, line.end):
            return False
        told = collect(sheet, line.start, line.end)
        for_animals = told.species or (told.times and told.per_body_weight_kg)
        if not for_animals or not told.units:
            return False
        names = sheet.exact(sheet.text(line.start, line.end))
        return names.ingredient is None and not names.meanings

    def _names_substance(self, line: Line) -> bool:
        """Say whether directions name what they give: ``cats 0.25 g`` is a dose, ``glucosamine 500 mg`` a fact."""
        sheet = self._found.sheet
        names = [item.name for item in read_items(sheet, line.start, line.end) if is_substance_amount(item.quantity)]
        return any(self._found.sheet.exact(sheet.text(*name)).ingredient is not None for name in names)

    def _list(self, line: Line) -> None:
        """Read an ingredient list over its lines; members with amounts are facts as well as ingredients."""
        end = self._end_of_list(line.end)
        whole = Line(line.segment, line.start, end)
        if not (has_substance(self._found, whole) and panel_line(self._found, whole)):
            ingredient_list(self._found, line.start, end)
        self._found.section = ""

    def _end_of_list(self, end: int) -> int:
        """Follow a list over line ends: after a comma, and where the next line goes on in small letters."""
        tokens = self._found.sheet.tokens
        while self._at + 1 < len(self._lines):
            following = self._lines[self._at + 1]
            ended = tokens[end].text in (".", "!", "?") if end < len(tokens) else True
            open_ = tokens[end - 1].text == "," or tokens[end].text in (";", "\u2022", "|") if not ended else False
            goes_on = tokens[following.start].text[:1].islower() or tokens[following.start].text in ("(", ",", "&")
            if following.new_block or ended or not (open_ or goes_on or tokens[following.start].text == ","):
                break
            self._found.cover(end, following.start)
            end = following.end
            self._at += 1
        return end

    def _names(self, line: Line, headed: bool) -> None:
        found = self._found
        following = torn(found, line, self._lines[self._at + 1 : self._at + 1 + _MOST_BELOW])
        self._at += following
        if following or blend_members(found, line):
            return
        if self._denies_to_the_end_of_the_line(line):
            end = self._end_of_list(line.end)
            ingredient_list(found, line.start, end, one_sentence=True)
            found.state("negation", line.start, end)
        elif headed or self._is_list(line):
            ingredient_list(found, line.start, self._end_of_list(line.end))
        elif not statement(found, line) and leads_one_line(found.sheet, line.segment.start):
            # A mark that nothing points from, before words that nobody knows.
            found.state("footnote", line.segment.start, line.end)

    def _denies_to_the_end_of_the_line(self, line: Line) -> bool:
        """Say whether a colon makes all of a line denied: ``Does not contain: xylitol; chocolate; garlic``."""
        tokens = self._found.sheet.tokens
        hit = DENIES.find(tokens, line.start, line.end)
        return hit is not None and hit.end < line.end and tokens[hit.end].text == ":"

    def _is_list(self, line: Line) -> bool:
        """Say whether a line without a heading names ingredients: at least half of its items are known names."""
        if self._names_left <= 0:
            return False
        items = split_list(self._found.sheet.text(line.start, line.end))
        if not items:
            return False
        self._names_left -= min(len(items), _MOST_ITEMS_TRIED)
        known = [self._is_name(item.text) for item in items[:_MOST_ITEMS_TRIED]]
        # A name with a bracket behind it: "glucosamine HCl (vegetarian, from corn fermentation)".
        opens = any(at in self._found.sheet.closing for at in range(line.start, line.end))
        return sum(known) * 2 >= len(known) or (opens and known[0]) or self._begins_with_a_name(line)

    def _begins_with_a_name(self, line: Line) -> bool:
        """``Glucosamine high potency``: a known name and a few words, no amount, no claim about something else."""
        if line.end - line.start > _LONGEST_NAME_LINE // 2 or not line.segment.new_line:
            return False
        found = self._found.sheet.exact(self._found.sheet.text(line.start, line.end))
        first = self._found.sheet.tokens[line.start].text
        return found.ingredient is not None and not found.negated and self._is_name(first)

    def _is_name(self, text: str) -> bool:
        found = self._found.sheet.exact(text)
        return (found.match == "exact" and bool(found.meanings)) or (found.hazard is not None and not found.negated)


Recogniser = Callable[[Findings, Line], bool]
_BEFORE_HEADINGS: tuple[Recogniser, ...] = (
    product_type,
    footnote,
    reduction,
    claim_before_amount,
    stated_facility,
    told_by_first_words,
    energy,
    servings_in_pack,
    serving,
    unit_mass,
    weight_bands,
    container,
    supply,
    allergen_line,
)


_OF_A_PANEL: tuple[Recogniser, ...] = (
    members_with_amounts,
    blend_with_colon,
    titled_size,
    panel_line,
    directions,
)


def _first_uncovered(found: Findings, line: Line) -> int:
    return next((at for at in range(line.start, line.end) if not found.covered[at]), line.end)


def has_substance(found: Findings, line: Line) -> bool:
    """Say whether a line holds an amount that can be one of a substance: milligrams, units, per cent.

    Parameters
    ----------
    found
        The label.
    line
        The line.

    Returns
    -------
    bool
        Kilograms and pounds are weights of an animal or a pack.
    """
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


def _flag_what_stands_before(found: Findings) -> None:
    """Tell of amounts above the first heading that says what amounts are for: they may be for the same."""
    if all(one.per is None for one in found.lines):
        for one in found.lines:
            if one.item.per is None and one.section in ("", "active"):
                one.flags = (*one.flags, "basis_stated_later")


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
            if any(token.kind != "sign" or token.text.isalnum() for token in sheet.tokens[start:at]):
                spans.append(UnreadText(sheet.text(start, at), sheet.span(start, at)))
            start = None
    return tuple(spans)
