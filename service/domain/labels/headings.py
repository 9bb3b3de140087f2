"""Recogniser of headings: what the lines below are, and what their amounts are for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import (
    ACTIVE_HEADINGS,
    ADDITIVE_HEADINGS,
    CONSTITUENT_HEADINGS,
    DIRECTION_HEADINGS,
    LIST_HEADINGS,
    STATEMENT_HEADINGS,
)
from service.domain.labels.phrases import Phrases, by_meaning
from service.domain.labels.quantities import Per, per, quantity
from service.reference.records import Unit

_HEADINGS = Phrases(
    by_meaning(
        {
            "active": ACTIVE_HEADINGS,
            "list": LIST_HEADINGS,
            "additives": ADDITIVE_HEADINGS,
            "constituents": CONSTITUENT_HEADINGS,
            "directions": DIRECTION_HEADINGS,
            "warning": STATEMENT_HEADINGS["warning"],
            "storage": STATEMENT_HEADINGS["storage"],
        }
    )
)
# A list often begins without a colon; everything else needs one, or the end of the line.
_NEEDS_NO_COLON = ("list",)
_EACH_ONE = Phrases(dict.fromkeys(("each", "one", "every", "jede", "jeder", "jedes", "chaque", "cada", "1"), True))
_CONTAINS = Phrases(
    dict.fromkeys(
        ("contains", "contain", "provides", "supplies", "delivers", "enth\u00e4lt", "contient", "contiene", "apporte", "aporta",
         "provide", "containing", "providing", "enthalten", "liefert"),
        True,
    )
)  # fmt: skip
_LONGEST_HEADING = 24


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: its kind, what amounts below are per, the unit of their column, and the token after it."""

    kind: str
    per: Per | None
    unit: Unit | None
    end: int


def heading(found: Findings, line: Line) -> Heading | None:
    """Recognise ``Active ingredients (per 2 chews):``, ``Zus\u00e4tze je kg:``, ``Each chew contains``, ``Par comprim\u00e9 :``.

    Parameters
    ----------
    found
        The label.
    line
        The line.

    Returns
    -------
    Heading or None
        ``None`` where the line is no heading and begins with none.
    """
    each = _each_contains(found, line)
    if each is not None:
        return each
    sheet, tokens = found.sheet, found.sheet.tokens
    kind, what, unit, at = "", None, None, line.start
    limit = min(line.end, line.start + _LONGEST_HEADING)
    while at < limit:
        if tokens[at].text == ":":
            return Heading(kind or "active", what, unit, at + 1) if kind or what else None
        hit = _HEADINGS.find(tokens, at, line.end)
        if hit is not None and (not kind or hit.meaning in ("additives", "list", kind)):
            kind, at = hit.meaning if not kind or hit.meaning == "list" else kind, hit.end
            continue
        if (found_per := per(sheet, at, line.end)) is not None and not (
            found_per.kind == "unit" and found_per.unit is None
        ):
            what, at = found_per, found_per.end
            continue
        step, unit = _aside(found, at, line.end, unit)
        if step is None:
            break
        at = step
    if at >= line.end and (kind or what):
        return Heading(kind or "active", what, unit, line.end)
    if (
        kind in _NEEDS_NO_COLON
        and at < line.end
        and tokens[at].kind == "word"
        and line.segment.new_line
        and at == _after_first(found, line)
    ):
        return Heading(kind, what, unit, at)
    return None


def _after_first(found: Findings, line: Line) -> int:
    hit = _HEADINGS.find(found.sheet.tokens, line.start, line.end)
    return hit.end if hit else -1


def _aside(found: Findings, at: int, end: int, unit: Unit | None) -> tuple[int | None, Unit | None]:
    """Step over a bracket or a joining word of a heading; a bracket that holds a unit names the unit of the column."""
    sheet, tokens = found.sheet, found.sheet.tokens
    inside = sheet.inside(at)
    if inside is not None and inside[1] < end:
        hit = sheet.units.find(tokens, inside[0], inside[1])
        if hit is not None and hit.end == inside[1]:
            return inside[1] + 1, hit.meaning
        holds_amounts = any(
            quantity(sheet, place, inside[1]) for place in range(inside[0], min(inside[1], inside[0] + 6))
        )
        return (None if holds_amounts and not _is_size(found, inside) else inside[1] + 1), unit
    if (
        tokens[at].fold
        in ("and", "und", "et", "y", "&", ",", "/", "-", "*", "the", "of", "in", "as", "fed", "level", "levels")
        or tokens[at].kind == "mark"
    ):
        return at + 1, unit
    return None, unit


def _is_size(found: Findings, inside: tuple[int, int]) -> bool:
    """``(3 g)``, ``(= 2 tablets)``: the size of the portion that the amounts are for."""
    at = inside[0]
    while at < inside[1] and found.sheet.tokens[at].text in ("=", "~"):
        at += 1
    one = quantity(found.sheet, at, inside[1])
    return one is not None and one.end == inside[1]


def _each_contains(found: Findings, line: Line) -> Heading | None:
    """Recognise ``Each chew (4 g) contains:``, ``1 Tablette enth\u00e4lt:``, ``2 chews provide``."""
    sheet, tokens = found.sheet, found.sheet.tokens
    each = _EACH_ONE.find(tokens, line.start, line.end)
    counted = quantity(sheet, line.start, line.end)
    if counted is not None and counted.unit is not None and counted.unit.dimension in ("count", "volume", "mass"):
        count, unit, at = counted.number.low, counted.unit, counted.end
    elif each is not None:
        hit = sheet.units.find(tokens, each.end, line.end)
        counted = quantity(sheet, each.end, line.end)
        if counted is not None and counted.unit is not None:
            count, unit, at = counted.number.low, counted.unit, counted.end
        elif hit is not None:
            count, unit, at = Decimal(1), hit.meaning, hit.end
        else:
            return None
    else:
        return None
    inside = sheet.inside(at) if at < line.end else None
    if inside is not None and inside[1] < line.end:
        _keep_unit_size(found, inside, count, unit)
        at = inside[1] + 1
    contains = _CONTAINS.find(tokens, at, line.end)
    if contains is None or count <= 0:
        return None
    at = contains.end
    while (at < line.end and tokens[at].text in (":", "-")) or (
        at < line.end and tokens[at].fold in ("approximately", "approx", "at", "least")
    ):
        at += 1
    kinds = {"mass": "product_mass", "volume": "volume"}
    kind = kinds.get(unit.dimension) or ("serving" if unit.unit == "serving" else "unit")
    return Heading("active", Per(line.start, at, kind, count, unit), None, at)


def _keep_unit_size(found: Findings, inside: tuple[int, int], count: Decimal, unit: Unit) -> None:
    one = quantity(found.sheet, *inside)
    if one is not None and one.unit is not None and one.unit.dimension == "mass" and unit.dimension == "count":
        found.pack.unit_mass_g = one.number.low * one.unit.factor / 1000 / count
        found.pack.unit = found.pack.unit or unit.unit
        found.pack.container_spans.append(found.sheet.span(inside[0] - 1, inside[1] + 1))


_ADDITIVE_STEMS = ("additiv", "zusatz", "zusatze", "aditivo", "additif", "oligo", "spurenelement", "trace")


def says_additives(found: Findings, start: int, end: int) -> bool:
    """Say whether a heading is that of feed additives, whose amounts are per kilogram by law (source chem-s38).

    Parameters
    ----------
    found
        The label.
    start, end
        Tokens of the heading.

    Returns
    -------
    bool
        ``False`` for a mere "vitamins".
    """
    return any(token.fold.startswith(_ADDITIVE_STEMS) for token in found.sheet.tokens[start:end])


def per_kilogram(found: Findings) -> Per:
    """Give "per kilogram of product", which additives mean where they do not say it; flagged.

    Parameters
    ----------
    found
        The label.

    Returns
    -------
    Per
        One kilogram of the product.
    """
    found.flags.append("per_kilogram_assumed")
    return Per(0, 0, "product_mass", Decimal(1), found.sheet.reference.units["kg"])


def serving_of_heading(found: Findings, what: Per, start: int, end: int) -> None:
    """Take the serving from a heading such as ``Amount per 2 chews`` where no serving size is printed.

    Parameters
    ----------
    found
        Filled with the serving, flagged.
    what
        What the heading says that its amounts are for.
    start, end
        Tokens of the heading.
    """
    pack = found.pack
    if what.kind != "unit" or what.unit is None or pack.serving_units is not None:
        return
    pack.serving_units, pack.serving_unit = what.count, what.unit.unit
    pack.serving_flags.append("serving_from_heading")
    pack.serving_spans.append(found.sheet.span(start, end))
