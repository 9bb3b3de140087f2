"""Recogniser of headings: what the lines below are, and what their amounts are for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_servings import Heading, keep_portion, keep_unit_size
from service.domain.labels.heading_words import (
    ACTIVE_HEADINGS,
    ADDITIVE_HEADINGS,
    CONSTITUENT_HEADINGS,
    DAILY_VALUE,
    DIRECTION_HEADINGS,
    LIST_HEADINGS,
    PANEL_TITLES,
    STATEMENT_HEADINGS,
)
from service.domain.labels.phrases import Phrases, any_of, by_meaning
from service.domain.labels.prose import known_name_behind
from service.domain.labels.quantities import Per, Quantity, per, quantity
from service.domain.labels.serving import serving
from service.domain.labels.sheet import Sheet
from service.domain.labels.sized_units import SizedPer, hyphenated, sized_per
from service.domain.labels.vocabulary import BOUNDS
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
_EACH_ONE = any_of("each | one | every | jede | jeder | jedes | chaque | cada | ogni | 1")
_CONTAINS = any_of(
    """
    contains | contain | provides | supplies | delivers | enthält | contient | contiene | apporte | aporta | provide |
    containing | providing | enthalten | liefert | with | mit | avec | con | contiennent | contienen | per serving
    """
)
_JOINING = frozenset("and und et y e & , / - * \u2013 \u2014 the of in as fed level levels at".split())
_OF = frozenset("of de zu a von".split())
_SIZES = ("mass", "volume")
_AROUND = frozenset("approximately approx at least : - about".split())
_LONGEST_HEADING = 24
_LONGEST_NAME = 8
_OUNCES = ("ounce", "fluid-ounce", "imperial-fluid-ounce")
_KIND_OF_DIMENSION = {"mass": "product_mass", "volume": "volume"}
_ADDITIVE_STEMS = ("additiv", "zusatz", "aditivo", "additif", "oligo", "spurenelement", "trace")
_ALSO_PART_OF_A_NAME = frozenset(("other", "others", "sonstige", "sonstiges", "inactive"))


@dataclass(frozen=True, slots=True)
class _Seen:
    """What a heading has said up to a token."""

    at: int
    kind: str = ""
    per: Per | None = None
    unit: Unit | None = None
    bound: str | None = None
    size: Quantity | None = None

    def with_per(self, told: SizedPer) -> _Seen:
        """Take in what amounts are for; what stands first holds."""
        if self.per is not None:
            return replace(self, at=told.end)
        return replace(self, at=told.end, per=told.per, size=told.size)

    def heading(self, end: int) -> Heading:
        """Make the heading that this is."""
        return Heading(self.kind or "active", self.per, self.unit, end, self.bound, self.size)


def heading(found: Findings, line: Line) -> Heading | None:
    """Recognise ``Active ingredients (per 2 chews):``, ``Zus\u00e4tze je kg:``, ``Each chew contains``.

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
    if (each := _each_contains(found, line) or _leading_verb(found, line)) is not None:
        return each
    tokens, seen = found.sheet.tokens, _Seen(line.start)
    limit = min(line.end, line.start + _LONGEST_HEADING)
    while seen.at < limit and tokens[seen.at].text != ":":
        following = _step(found, line, seen)
        if following is None:
            return _told_by_its_per(found, line, seen) or _without_colon(found, line, seen)
        seen = following
    if not seen.kind and seen.per is None:
        return None
    if seen.at >= line.end:
        return seen.heading(line.end)
    return seen.heading(seen.at + 1) if tokens[seen.at].text == ":" else None


def _step(found: Findings, line: Line, seen: _Seen) -> _Seen | None:
    """Take in the next part of a heading; ``None`` where something else begins."""
    sheet, tokens, at = found.sheet, found.sheet.tokens, seen.at
    hit = _HEADINGS.find(tokens, at, line.end)
    if hit is not None and (not seen.kind or hit.meaning in ("additives", "list", seen.kind)):
        kind = hit.meaning if not seen.kind or hit.meaning == "list" else seen.kind
        return replace(seen, at=hit.end, kind=kind)
    told = sized_per(sheet, at, line.end)
    if told is not None and not (told.per.kind == "unit" and told.per.unit is None):
        return seen.with_per(told)
    share = DAILY_VALUE.find(tokens, at, line.end) if seen.per is not None or seen.kind == "active" else None
    if share is not None:
        # "Amount per serving  % DV"
        return replace(seen, at=share.end)
    bound = BOUNDS.find(tokens, at, line.end)
    if bound is not None and bound.meaning in ("min", "max") and quantity(sheet, at, line.end) is None:
        return replace(seen, at=bound.end, bound=bound.meaning)
    inside = sheet.inside(at)
    if inside is not None and inside[1] < line.end:
        return _bracket(found, line, seen, inside)
    if (tokens[at].fold in _JOINING and not tokens[at].text.isupper()) or tokens[at].kind == "mark":
        return replace(seen, at=at + 1)
    return None


def _bracket(found: Findings, line: Line, seen: _Seen, inside: tuple[int, int]) -> _Seen | None:
    """Step over a bracket: a unit names the unit of the column, a size that of the portion; amounts end the heading."""
    sheet = found.sheet
    if (unit := _unit_of_column(sheet, inside)) is not None:
        return replace(seen, at=inside[1] + 1, unit=unit)
    at = inside[0]
    while at < inside[1] and sheet.tokens[at].text in ("=", "~"):
        at += 1
    one = quantity(sheet, at, inside[1])
    if one is not None and one.end == inside[1]:
        keep_portion(found, seen.per, one, inside)
        return replace(seen, at=inside[1] + 1, per=_told_again(seen.per, one))
    if one is not None and serving(found, Line(line.segment, *inside)):
        # "pro Tagesportion (1 Messl\u00f6ffel = 4 g)"
        if seen.per is not None and seen.per.kind == "day":
            found.pack.servings_per_day = Decimal(1)
        return replace(seen, at=inside[1] + 1)
    holds_amounts = any(quantity(sheet, place, inside[1]) for place in range(inside[0], min(inside[1], inside[0] + 6)))
    return None if holds_amounts else replace(seen, at=inside[1] + 1)


def _unit_of_column(sheet: Sheet, inside: tuple[int, int]) -> Unit | None:
    """``(mg)``, ``(chews per day)``: a bracket that holds a unit alone, or what is given in a day."""
    hit = sheet.units.find(sheet.tokens, *inside)
    if hit is None or hit.end == inside[1]:
        return hit.meaning if hit is not None else None
    daily = per(sheet, hit.end, inside[1]) if hit.meaning.dimension == "count" else None
    return hit.meaning if daily is not None and daily.kind == "day" and daily.end == inside[1] else None


def _told_again(what: Per | None, one: Quantity) -> Per | None:
    """``Per fl oz (30 mL)``, ``Per 5 ml (1 pump)``: millilitres go before the ounce, units before millilitres."""
    if what is None or what.unit is None or one.unit is None or one.number.low <= 0:
        return what
    if what.unit.unit in _OUNCES and one.unit.dimension == "volume":
        return replace(what, kind="volume", count=one.number.low, unit=one.unit)
    if what.kind == "volume" and one.unit.dimension == "count" and one.unit.unit != "serving":
        return replace(what, kind="unit", count=one.number.low, unit=one.unit)
    return what


def _told_by_its_per(found: Findings, line: Line, seen: _Seen) -> Heading | None:
    """``Apporto per compressa (2,5 g):`` has words unknown to the list, but says what amounts are for, and a colon."""
    tokens, at = found.sheet.tokens, seen.at
    while at < min(line.end, seen.at + _LONGEST_HEADING // 3) and tokens[at].text != ":":
        told = sized_per(found.sheet, at, line.end)
        if told is not None and told.per.kind != "body_weight" and told.per.unit is not None:
            seen = seen.with_per(told)
            at = seen.at
            if at in found.sheet.closing and found.sheet.closing[at] < line.end:
                after = _bracket(found, line, seen, (at + 1, found.sheet.closing[at]))
                seen, at = (after, after.at) if after is not None else (seen, at)
        elif tokens[at].kind == "word":
            at += 1
        else:
            return None
    ends = at < line.end and tokens[at].text == ":" and seen.per is not None
    return seen.heading(at + 1) if ends else None


def _without_colon(found: Findings, line: Line, seen: _Seen) -> Heading | None:
    """``Ingredients cellulose, silica``, ``Supplement Facts  Serving size ...``, ``Per chew MSM 100 mg``: no colon."""
    tokens = found.sheet.tokens
    if _says_what_for(seen) and _names_an_amount(found, seen.at, line.end):
        return seen.heading(seen.at)
    if tokens[seen.at].kind != "word" or not line.segment.new_line:
        return None
    first = _HEADINGS.find(tokens, line.start, line.end)
    if seen.kind == "list" and first is not None and seen.at == first.end:
        # "Other omega-3 fatty acids 20 mg" is a line of the panel.
        alone = first.end == line.start + 1 and tokens[line.start].fold in _ALSO_PART_OF_A_NAME
        return None if alone and _has_an_amount(found, seen.at, line.end) else seen.heading(seen.at)
    title = PANEL_TITLES.find(tokens, line.start, line.end)
    return seen.heading(seen.at) if title is not None and title.end <= seen.at else None


def _says_what_for(seen: _Seen) -> bool:
    """Say whether all of a heading so far is what amounts are for: ``Amount per serving``, ``Per tablet of 2 g``."""
    return seen.kind in ("", "active") and seen.per is not None and seen.per.kind in ("unit", "serving", "volume")


def _names_an_amount(found: Findings, at: int, end: int) -> bool:
    """Say whether a known name and its amount follow."""
    sheet, place = found.sheet, at
    while place < min(end, at + _LONGEST_NAME) and sheet.tokens[place].kind == "word":
        place += 1
    one = quantity(sheet, place, end) if place > at else None
    if one is None or one.unit is None or one.unit.dimension not in ("mass", "iu", "activity"):
        return False
    return sheet.exact(sheet.text(at, place)).ingredient is not None


def _has_an_amount(found: Findings, at: int, end: int) -> bool:
    amounts = (quantity(found.sheet, place, end) for place in range(at, min(end, at + _LONGEST_NAME)))
    return any(one is not None and one.unit is not None and one.unit.dimension in ("mass", "iu") for one in amounts)


def _leading_verb(found: Findings, line: Line) -> Heading | None:
    """``Contains 500 mg glucosamine``: the verb says nothing, the amounts behind it do."""
    hit = _CONTAINS.find(found.sheet.tokens, line.start, line.end)
    if hit is None or hit.end >= line.end:
        return None
    one = quantity(found.sheet, hit.end, line.end)
    if one is None or one.unit is None or one.unit.dimension in ("count", "energy", "energy_per_mass"):
        return None
    return Heading("active", None, None, hit.end)


def _each_contains(found: Findings, line: Line) -> Heading | None:
    """Recognise ``Each chew (4 g) contains:``, ``1 Tablette enth\u00e4lt:``, ``Each 1,000 mg capsule provides``."""
    sheet, tokens = found.sheet, found.sheet.tokens
    counted = _counted(found, line)
    if counted is None:
        return None
    count, unit, at = counted
    inside = sheet.inside(at) if at < line.end else None
    if inside is not None and inside[1] < line.end:
        count, unit = _in_millilitres(found, inside, count, unit)
        keep_unit_size(found, inside, count, unit)
        at = inside[1] + 1
    elif at < line.end and tokens[at].fold in _OF:
        # "Each tablet of 1.5 g contains", "Cada comprimido de 1,5 g contiene"
        size = quantity(sheet, at + 1, line.end)
        if size is not None and size.unit is not None and size.unit.dimension in _SIZES:
            keep_unit_size(found, (size.start, size.end), Decimal(1), unit)
            at = size.end
    contains = _CONTAINS.find(tokens, at, line.end)
    if contains is None and not (count == 1 and _lists_without_a_verb(found, line, at)):
        return None
    if count <= 0 or unit.dimension not in ("count", "volume", "mass"):
        return None
    at = contains.end if contains is not None else at
    while at < line.end and tokens[at].fold in _AROUND:
        at += 1
    kind = _KIND_OF_DIMENSION.get(unit.dimension) or ("serving" if unit.unit == "serving" else "unit")
    return Heading("active", Per(line.start, at, kind, count, unit), None, at)


def _lists_without_a_verb(found: Findings, line: Line, at: int) -> bool:
    """``Each tablet 500 mg MSM``, ``Each chew:``, ``Chaque comprim\u00e9 : MSM 500 mg``."""
    tokens, place = found.sheet.tokens, at
    while place < line.end and tokens[place].text in (":", "-", "\u2013"):
        place += 1
    if known_name_behind(found, place, line.end):
        return True
    if place == at or tokens[line.start].kind != "word":
        return False
    return place >= line.end or _names_an_amount(found, place, line.end)


def _in_millilitres(found: Findings, inside: tuple[int, int], count: Decimal, unit: Unit) -> tuple[Decimal, Unit]:
    """``Each 1 oz (30 mL)``: the bracket tells that the ounce is one of volume."""
    one = quantity(found.sheet, *inside)
    if unit.dimension != "mass" or one is None or one.unit is None or one.unit.dimension != "volume":
        return count, unit
    return one.number.low, one.unit


def _counted(found: Findings, line: Line) -> tuple[Decimal, Unit, int] | None:
    """Recognise what a line begins with: ``each chew``, ``2 chews``, ``each 1,000 mg capsule``."""
    sheet, tokens = found.sheet, found.sheet.tokens
    each = _EACH_ONE.find(tokens, line.start, line.end)
    counted = quantity(sheet, line.start, line.end)
    if counted is not None and counted.unit is not None:
        return counted.number.low, counted.unit, counted.end
    if each is None:
        return None
    counted = hyphenated(sheet, each.end, line.end) or quantity(sheet, each.end, line.end)
    if counted is not None and counted.unit is not None:
        place = counted.end + (counted.end < line.end and tokens[counted.end].text == "-")
        following = sheet.units.find(tokens, place, line.end)
        sized = counted.unit.dimension in _SIZES and following is not None
        if sized and following is not None and following.meaning.dimension == "count":
            keep_unit_size(found, (counted.start, counted.end), Decimal(1), following.meaning)
            return Decimal(1), following.meaning, following.end
        return counted.number.low, counted.unit, counted.end
    hit = sheet.units.find(tokens, each.end, line.end)
    return (Decimal(1), hit.meaning, hit.end) if hit is not None else None


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
