"""A label cut into lines and sentences: what the recognisers are tried on, one after the other."""

from __future__ import annotations

from dataclasses import dataclass

from service.domain.labels.direction_words import PHASES
from service.domain.labels.heading_words import DAILY_VALUE, FOOTNOTE_MEANINGS, INLINE_HEADINGS
from service.domain.labels.quantities import per
from service.domain.labels.sheet import Sheet

_STROKES = frozenset(("|", "\uff5c"))
_BREAKS = frozenset((";", "\u2022", "|", "\uff5c"))
# A full stop behind these shortens a word and ends no sentence.
_SHORTENED = frozenset(
    """approx min max mind ca vit incl spp ssp var wt oz fl no nr st tab tabs cap caps tsp tbsp lb lbs kg g mg mcg ml
    cal env aprox avg typ e i ie iu ui u ea b w c s p d ct zul reg serv svg svgs cont
    sp subsp sfr fr inkl bzw z equiv eq inc""".split()
)

_LONGEST_AMOUNT, _LONGEST_PER = 4, 8
_PARTS_OF_A_HEADING = frozenset("of and & + / - \u2013 ( fur for de des und et y e with".split())
_FOOTNOTES_BEGIN = frozenset(("daily", "dv", "percent", "%"))
_UNITS = frozenset("kg g mg mcg ml iu ie ui oz lb lbs tab tabs cap caps l".split())


@dataclass(frozen=True, slots=True)
class Segment:
    """Tokens ``start`` to ``end``: a line, or a part of one between semicolons, bullets and full stops.

    ``new_line`` says that it begins a line, ``new_block`` that a blank line stands before it, ``indent`` how many
    blanks or marks of a list lead it.
    """

    start: int
    end: int
    new_line: bool
    new_block: bool
    indent: int


def segments(sheet: Sheet) -> tuple[Segment, ...]:
    """Cut a label at line ends, semicolons, bullets and full stops outside brackets.

    Parameters
    ----------
    sheet
        The label.

    Returns
    -------
    tuple of Segment
        In printed order; separators belong to none of them.
    """
    found: list[Segment] = []
    tokens = sheet.tokens
    start, at, new_line, new_block = 0, 0, True, True

    def close(end: int) -> None:
        """End the segment that is open."""
        if end > start:
            found.append(Segment(start, end, new_line, new_block, _indent(sheet, start) if new_line else 0))

    while at < len(tokens):
        if at in sheet.closing:
            at = sheet.closing[at] + 1
            continue
        if at > start and _begins_footnote(sheet, start, at):
            # "MSM 100 mg *  *Daily value not established" in one line
            close(at)
            start, new_line, new_block = at, False, False
        elif at > start and _begins_part(sheet, start, at):
            close(at)
            start, new_line, new_block = at, True, False
        newline = tokens[at].kind == "newline"
        if newline or (tokens[at].text in _BREAKS and not _parts_a_row(sheet, at)) or _ends_sentence(sheet, at):
            had_text = at > start
            close(at)
            new_block = newline and not had_text and new_line
            new_line = newline
            start = at + 1
        at += 1
    close(len(tokens))
    return tuple(found)


def _begins_part(sheet: Sheet, start: int, at: int) -> bool:
    """``MSM 500 mg  Directions: give 1 chew daily``: a heading with its colon in the middle of a line."""
    tokens = sheet.tokens
    if tokens[at].kind != "word" or not tokens[at].text[:1].isupper():
        return False
    hit = INLINE_HEADINGS.find(tokens, at, len(tokens))
    if hit is None or not _ends_in_colon(sheet, hit.end):
        return False
    if at - start == 1 and tokens[start].kind in ("mark", "sign"):
        # "* Ingredients:" begins with its bullet.
        return False
    before = tokens[at - 1]
    if hit.meaning or any(token.kind == "number" for token in tokens[max(start, at - _LONGEST_AMOUNT) : at]):
        return True
    # "Feline Ingredients:" and "List of Ingredients:" are one heading.
    return not before.text[:1].isupper() and before.fold not in _PARTS_OF_A_HEADING and before.kind != "number"


def _ends_in_colon(sheet: Sheet, at: int) -> bool:
    """Say whether a heading ends here, or behind what it is for: ``Additives per kg:``, ``Directions (daily):``."""
    tokens, end = sheet.tokens, len(sheet.tokens)
    if at in sheet.closing:
        at = sheet.closing[at] + 1
    elif (what := per(sheet, at, min(end, at + _LONGEST_PER))) is not None:
        at = what.end
    return at < end and tokens[at].text == ":"


def _begins_footnote(sheet: Sheet, start: int, at: int) -> bool:
    """Say whether the usual text of a footnote begins within a line, with its mark where it has one."""
    tokens = sheet.tokens
    place = at + 1 if tokens[at].kind == "mark" and not tokens[at].glued else at
    if place >= len(tokens) or tokens[place].fold not in _FOOTNOTES_BEGIN:
        return False
    if place == at and tokens[at - 1].kind == "mark" and (tokens[at].glued or at - 1 == start):
        return False
    if FOOTNOTE_MEANINGS.find(tokens, place, len(tokens)) is not None:
        return True
    # "Daily Value (DV) not established"
    named = DAILY_VALUE.find(tokens, place, len(tokens))
    behind = sheet.closing.get(named.end) if named is not None else None
    return behind is not None and FOOTNOTE_MEANINGS.find(tokens, behind + 1, len(tokens)) is not None


def _parts_a_row(sheet: Sheet, at: int) -> bool:
    """``glucosamine HCl | 450 | mg``: a stroke before a number or a unit parts the cells of one row."""
    tokens = sheet.tokens
    if tokens[at].text not in _STROKES or at == 0 or at + 1 >= len(tokens):
        return False
    if tokens[at + 1].kind == "number" or PHASES.find(tokens, at + 1, len(tokens)) is not None:
        # "Weight | Initial (4-6 weeks) | Maintenance"
        return tokens[at - 1].kind != "newline"
    return tokens[at - 1].kind == "number" and sheet.units.find(tokens, at + 1, len(tokens)) is not None


def _indent(sheet: Sheet, at: int) -> int:
    """Count the blanks before the first token of a line."""
    start = sheet.tokens[at].start
    begin = sheet.plain.text.rfind("\n", max(0, start - 40), start) + 1
    lead = sheet.plain.text[begin:start]
    return len(lead.expandtabs(4)) if begin and not lead.strip() else 0


def _begins_sentence(sheet: Sheet, at: int) -> bool:
    """Say whether a sentence begins behind a unit: ``Not for cats``, ``5 mg of zinc``; no symbol such as ``EPA``."""
    tokens = sheet.tokens
    if tokens[at].kind == "number":
        unit = sheet.units.find(tokens, at + 1, len(tokens))
        return unit is not None and unit.end < len(tokens) and tokens[unit.end].kind == "word"
    text = tokens[at].text
    return tokens[at].kind == "word" and (len(text) > 3 or (len(text) > 1 and text[1:].islower()))


def _ends_sentence(sheet: Sheet, at: int) -> bool:
    tokens = sheet.tokens
    if tokens[at].text not in (".", "!", "?") or at == 0:
        return False
    if at + 1 < len(tokens):
        following = tokens[at + 1]
        if following.glued and following.kind != "newline":
            return False
        if (
            following.kind not in ("newline", "mark")
            and not following.text[:1].isupper()
            and following.kind != "number"
        ):
            return following.text in _BREAKS
    before = tokens[at - 1]
    if before.text == ".":
        # "MSM . . . . 200 mg": dots that lead to the amount.
        return False
    if tokens[at].text == "." and before.glued and at >= 2 and tokens[at - 2].text == ".":
        return False
    if tokens[at].text == "." and before.kind == "word" and (before.fold in _SHORTENED or len(before.text) == 1):
        if at + 1 >= len(tokens) or tokens[at + 1].kind == "newline":
            return True
        # "8000 mg/kg. Each treat" and "25 \u00b0C. Use" end a sentence, "approx. 6 g" and "St. John" do not.
        after_unit = before.fold in _UNITS or (len(before.text) == 1 and before.glued)
        return after_unit and _begins_sentence(sheet, at + 1)
    return before.kind != "number" or at + 1 >= len(tokens) or tokens[at + 1].kind in ("newline", "word")
