"""Recognisers of sentences without facts: footnotes, warnings, storage, claims, what kind of product it is."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.allergen_words import DENIES
from service.domain.labels.findings import Findings, Line, Statement
from service.domain.labels.heading_words import (
    DAILY_VALUE,
    EXCEEDED,
    FOOTNOTE_MEANINGS,
    FORBIDDING,
    PRAISE,
    PRODUCT_TYPES,
    STATEMENT_HEADINGS,
    TABLE_HEADINGS,
)
from service.domain.labels.numerals import number
from service.domain.labels.phrases import Phrases, by_meaning
from service.domain.labels.quantities import per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BLEND_WORDS, PROVIDING, SPECIES_WORDS, SUM_WORDS

_TYPES = Phrases(by_meaning(PRODUCT_TYPES))
_KINDS = Phrases(by_meaning(STATEMENT_HEADINGS))
_LONGEST_CLAIM_LEAD = 12
_MOST_LIMITS = 2
_LONGEST_NAME = 8
_MOST_PARTS = 4
_DASHES = ("-", "\u2013", "\u2014", ":", "!", "|", "\u00b7", ",")


def claim_before_amount(found: Findings, line: Line) -> bool:
    """Recognise the ``Maximum strength -`` of ``Maximum strength - 650 mg glucosamine HCl``.

    Parameters
    ----------
    found
        Filled with the claim; the amount and its name are left to whoever reads facts.
    line
        The line.

    Returns
    -------
    bool
        Whether praise that names nothing stands before an amount and the known name behind it.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    end_of_claim = _end_of_words(found, line)
    at = end_of_claim
    while at < line.end and tokens[at].text in _DASHES:
        at += 1
    words = {token.fold for token in tokens[line.start : end_of_claim] if token.kind == "word"}
    blend = any(BLEND_WORDS.find(tokens, place, end_of_claim) for place in range(line.start, end_of_claim))
    praises = bool(words) and (blend or not words.isdisjoint(PRAISE)) and (at > end_of_claim or words <= PRAISE)
    if not praises or not known_name_behind(found, at, line.end):
        return False
    bounded = quantity(sheet, line.start, line.end)
    if bounded is not None and bounded.unit is not None:
        # "Maximum 2 g MSM" bounds the amount.
        return False
    if blend and not _another_behind(found, at, line.end):
        # "Super blend: 500 mg glucosamine, MSM" tells the total of its members.
        return False
    meaning = sheet.exact(sheet.text(line.start, end_of_claim))
    if meaning.ingredient is not None or meaning.meanings:
        return False
    found.state("claim", line.start, end_of_claim)
    found.cover(end_of_claim, at)
    return True


def _end_of_words(found: Findings, line: Line) -> int:
    """Step over the words that a line begins with, ``&`` and hyphens inside them included."""
    tokens, at = found.sheet.tokens, line.start
    if at + 1 < line.end and tokens[at].kind == "number" and tokens[at + 1].fold == "x":
        # "2x strength"
        at += 2
    while at < min(line.end, line.start + _LONGEST_CLAIM_LEAD):
        if tokens[at].kind != "word" and tokens[at].text != "&" and not (tokens[at].text == "-" and tokens[at].glued):
            break
        at += 1
    return at


def _another_behind(found: Findings, at: int, end: int) -> bool:
    """Say whether a second amount with a known name follows: ``500 mg glucosamine, 300 mg MSM``."""
    tokens = found.sheet.tokens
    commas = [place for place in range(at, end) if tokens[place].text == ","][:_MOST_PARTS]
    return any(known_name_behind(found, place + 1, end) for place in commas)


def known_name_behind(found: Findings, at: int, end: int) -> bool:
    """Say whether an amount stands here, a known name behind it, and no amount of that name's own.

    Parameters
    ----------
    found
        The label.
    at, end
        Where the amount must begin, and where the line ends.

    Returns
    -------
    bool
        ``False`` where the name behind has its own amount.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    one = quantity(sheet, at, end)
    if one is None or one.unit is None or one.unit.dimension not in ("mass", "iu", "activity"):
        return False
    place = one.end + (one.end < end and tokens[one.end].fold in ("of", "de", "von"))
    stop = place
    while stop < min(end, place + _LONGEST_NAME) and tokens[stop].kind == "word":
        if tokens[stop].fold in ("and", "und", "et", "y") or per(sheet, stop, end) is not None:
            break
        stop += 1
    if stop == place or quantity(sheet, stop, end) is not None:
        return False
    return sheet.exact(sheet.text(place, stop)).ingredient is not None


def product_type(found: Findings, line: Line) -> bool:
    """Recognise ``Complementary feed for dogs``.

    Parameters
    ----------
    found
        Filled with the type and the species.
    line
        The line.

    Returns
    -------
    bool
        Whether the line says what kind of product it is.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    hit = next(
        (hit for at in range(line.start, min(line.end, line.start + 12)) if (hit := _TYPES.find(tokens, at, line.end))),
        None,
    )
    if hit is None:
        return False
    if any(number(sheet, at, line.end) is not None for at in range(line.start, line.end)):
        return False
    found.product_type = found.product_type or hit.meaning
    for at in range(line.start, line.end):
        species = SPECIES_WORDS.find(tokens, at, line.end)
        if species is not None and species.meaning not in found.species:
            found.species.append(species.meaning)
    found.state("product_type", line.start, line.end, hit.meaning)
    return True


def footnote(found: Findings, line: Line) -> bool:
    """Recognise ``** Daily Value not established`` and ``* values are averages; \u00b1 10 %``.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line is a footnote that gives no amount.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    if is_table_heading(found, line):
        return False
    marked = tokens[line.start].kind == "mark"
    start = line.start + marked
    meaning, daily_value = _meaning_of_footnote(sheet, start, line.end)
    if not marked and meaning is None and not (daily_value and not _has_substance(found, start, line.end)):
        return False
    told = PROVIDING.find(tokens, start, line.end)
    of_source = told is not None and told.meaning != "content"
    if not (marked and (meaning or of_source)) and _has_substance(found, start, line.end):
        return False
    value = _tolerance(found, start, line.end) if meaning == "tolerance" else None
    found.statements.append(
        Statement(
            "footnote",
            sheet.text(line.start, line.end),
            meaning,
            value,
            "fraction" if value else None,
            sheet.span(line.start, line.end),
        )
    )
    found.cover(line.start, line.end)
    if marked and (what_for := per(sheet, start, line.end)) is not None and what_for.end == line.end:
        found.marked_per.setdefault(tokens[line.start].text, what_for)
    return True


def _meaning_of_footnote(sheet: Sheet, start: int, end: int) -> tuple[str | None, bool]:
    """Give what the usual text of a footnote means, and whether it begins with daily values."""
    tokens = sheet.tokens
    hits = (FOOTNOTE_MEANINGS.find(tokens, at, end) for at in range(start, end))
    meaning = next((hit.meaning for hit in hits if hit is not None), None)
    return meaning, any(DAILY_VALUE.find(tokens, at, end) for at in range(start, min(end, start + 6)))


def reads_as_footnote(sheet: Sheet, start: int, end: int) -> bool:
    """Say whether a text is that of a footnote whatever stands before it: daily values, averages, tolerances.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The text, without its mark.

    Returns
    -------
    bool
        ``False`` for any other sentence.
    """
    meaning, daily_value = _meaning_of_footnote(sheet, start, end)
    return meaning is not None or daily_value


def _has_substance(found: Findings, start: int, end: int) -> bool:
    sheet = found.sheet
    for at in range(start, end):
        one = quantity(sheet, at, end)
        if one is not None and one.unit is not None and one.unit.dimension in ("mass", "iu", "mass_per_mass"):
            return True
    return False


def _tolerance(found: Findings, start: int, end: int) -> Decimal | None:
    sheet, tokens = found.sheet, found.sheet.tokens
    for at in range(start, end - 1):
        if tokens[at].text == "\u00b1" or (tokens[at].text == "+" and tokens[at + 1].text == "/"):
            place = at + 1 if tokens[at].text == "\u00b1" else at + 3
            one = quantity(sheet, place, end)
            if one is not None and one.unit is not None and one.unit.dimension == "fraction":
                return one.number.low * one.unit.factor
    return None


def sum_claim(found: Findings, line: Line) -> bool:
    """Recognise ``Our 7-in-1 formula: 2,100 mg actives per scoop``: a sum that cannot be split is no ingredient.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the only amount of the line counts all actives together.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    places = [at for at in range(line.start, line.end) if tokens[at].kind == "number" and quantity(sheet, at, line.end)]
    if len(places) != 1:
        return False
    one = quantity(sheet, places[0], line.end)
    if one is None or one.unit is None or one.unit.dimension != "mass":
        return False
    until = next((at for at in range(one.end, line.end) if per(sheet, at, line.end) is not None), line.end)
    behind = [token.fold for token in tokens[one.end : until] if token.kind == "word"]
    # "Total actives 1,200 mg" names the sum before its amount.
    named = behind or [token.fold for token in tokens[line.start : one.start] if token.kind == "word"]
    if (
        not named
        or not set(named) <= SUM_WORDS
        or not set(named) & {"actives", "active", "total", "wirkstoffe", "actifs", "activos", "ingredients"}
    ):
        return False
    what = per(sheet, until, line.end)
    found.statements.append(
        Statement(
            "claim", sheet.text(line.start, line.end), "not_an_ingredient", one.number.low * one.unit.factor,
            "mg" + (f" per {what.unit.unit}" if what and what.unit else ""), sheet.span(line.start, line.end),
        )
    )  # fmt: skip
    found.flags.append("not_an_ingredient")
    found.cover(line.start, line.end)
    return True


def statement(found: Findings, line: Line) -> bool:
    """Recognise a sentence by the words it begins with, or by what it denies.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line is one of the known kinds.
    """
    tokens = found.sheet.tokens
    if DENIES.find(tokens, line.start, line.end) is not None:
        found.state("negation", line.start, line.end)
        return True
    for at in range(line.start, min(line.end, line.start + _LONGEST_CLAIM_LEAD)):
        hit = _KINDS.find(tokens, at, line.end)
        if hit is not None and (at == line.start or hit.meaning in ("claim", "warning", "identity")):
            found.state(hit.meaning, line.start, line.end)
            return True
    if any(
        SPECIES_WORDS.find(tokens, at, line.end)
        for at in range(line.start, min(line.end, line.start + _LONGEST_CLAIM_LEAD))
    ):
        # "Soft chews for dogs, bacon flavour": a title, whatever else its words are.
        found.state("claim", line.start, line.end)
        return True
    return False


def told_by_first_words(found: Findings, line: Line) -> bool:
    """Recognise ``Lot 24C118``, ``Store below 25 \u00b0C``, ``Do not exceed ...``: whose numbers are no amounts.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line begins with such words.
    """
    if _forbids(found, line):
        found.state("warning", line.start, line.end)
        return True
    hit = _KINDS.find(found.sheet.tokens, line.start, line.end)
    if hit is None or hit.meaning == "claim" or _has_substance(found, line.start, line.end):
        return False
    found.state(hit.meaning, line.start, line.end)
    return True


def _forbids(found: Findings, line: Line) -> bool:
    """``Not for cats under 1 kg``, ``5 mg of zinc a day must not be exceeded``: no amount of it is in the product."""
    tokens, sheet = found.sheet.tokens, found.sheet
    forbidden = FORBIDDING.find(tokens, line.start, line.end) is not None
    if not forbidden and not any(EXCEEDED.find(tokens, at, line.end) for at in range(line.start, line.end)):
        return False
    numbers = [at for at in range(line.start, line.end) if tokens[at].kind == "number"][: _MOST_LIMITS + 1]
    amounts = [quantity(sheet, at, line.end) for at in numbers]
    masses = any(one is not None and one.unit is not None and one.unit.dimension == "mass" for one in amounts)
    return masses and len(numbers) <= (_MOST_LIMITS if forbidden else 1)


def table_heading(found: Findings, line: Line) -> bool:
    """Recognise a line of column headings: ``Amount Per Serving   % Daily Value``, ``Body weight   Scoops``.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line holds nothing else.
    """
    if not is_table_heading(found, line):
        return False
    sheet = found.sheet
    for at in range(line.start, line.end):
        hit = sheet.units.find(sheet.tokens, at, line.end)
        if hit is not None and hit.meaning.dimension in ("count", "fraction") and found.column_unit is None:
            found.column_unit = hit.meaning
    found.state("heading", line.start, line.end)
    return True


def is_table_heading(found: Findings, line: Line) -> bool:
    """Say whether a line holds nothing but column headings.

    Parameters
    ----------
    found
        The label.
    line
        The line.

    Returns
    -------
    bool
        Units and what a column is per may stand among them.
    """
    tokens, at, seen = found.sheet.tokens, line.start, False
    while at < line.end:
        hit = TABLE_HEADINGS.find(tokens, at, line.end) or DAILY_VALUE.find(tokens, at, line.end)
        if hit is not None:
            at, seen = hit.end, True
        elif (what := per(found.sheet, at, line.end)) is not None:
            at = what.end
        elif (unit := found.sheet.units.find(tokens, at, line.end)) is not None and tokens[at].kind == "word":
            at = unit.end
        elif tokens[at].kind == "mark" or tokens[at].text in ("/", "(", ")", ",", "-", ":", "%"):
            at += 1
        else:
            return False
    return seen
