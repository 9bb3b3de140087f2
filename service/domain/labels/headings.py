"""Recogniser of headings: what the lines below are, and what their amounts are for."""

from __future__ import annotations

from dataclasses import dataclass, replace
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
from service.domain.labels.phrases import Phrases, any_of, by_meaning
from service.domain.labels.quantities import Per, Quantity, per, quantity
from service.domain.labels.serving import take_back_equation
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
_AROUND = frozenset("approximately approx at least : - about".split())
_LONGEST_HEADING = 24
_KIND_OF_DIMENSION = {"mass": "product_mass", "volume": "volume"}
_ADDITIVE_STEMS = ("additiv", "zusatz", "aditivo", "additif", "oligo", "spurenelement", "trace")


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: its kind, what amounts below are per, the unit of their column, and the token after it."""

    kind: str
    per: Per | None
    unit: Unit | None
    end: int
    bound: str | None = None


@dataclass(frozen=True, slots=True)
class _Seen:
    """What a heading has said up to a token."""

    at: int
    kind: str = ""
    per: Per | None = None
    unit: Unit | None = None
    bound: str | None = None


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
        return Heading(seen.kind or "active", seen.per, seen.unit, line.end, seen.bound)
    return (
        Heading(seen.kind or "active", seen.per, seen.unit, seen.at + 1, seen.bound)
        if tokens[seen.at].text == ":"
        else None
    )


def _step(found: Findings, line: Line, seen: _Seen) -> _Seen | None:
    """Take in the next part of a heading; ``None`` where something else begins."""
    sheet, tokens, at = found.sheet, found.sheet.tokens, seen.at
    hit = _HEADINGS.find(tokens, at, line.end)
    if hit is not None and (not seen.kind or hit.meaning in ("additives", "list", seen.kind)):
        kind = hit.meaning if not seen.kind or hit.meaning == "list" else seen.kind
        return replace(seen, at=hit.end, kind=kind)
    what = per(sheet, at, line.end)
    if what is not None and not (what.kind == "unit" and what.unit is None):
        return replace(seen, at=what.end, per=seen.per or what)
    bound = BOUNDS.find(tokens, at, line.end)
    if bound is not None and bound.meaning in ("min", "max") and quantity(sheet, at, line.end) is None:
        return replace(seen, at=bound.end, bound=bound.meaning)
    inside = sheet.inside(at)
    if inside is not None and inside[1] < line.end:
        return _bracket(found, seen, inside)
    if (tokens[at].fold in _JOINING and not tokens[at].text.isupper()) or tokens[at].kind == "mark":
        return replace(seen, at=at + 1)
    return None


def _bracket(found: Findings, seen: _Seen, inside: tuple[int, int]) -> _Seen | None:
    """Step over a bracket: a unit names the unit of the column, a size that of the portion; amounts end the heading."""
    sheet = found.sheet
    hit = sheet.units.find(sheet.tokens, *inside)
    if hit is not None and hit.end == inside[1]:
        return replace(seen, at=inside[1] + 1, unit=hit.meaning)
    at = inside[0]
    while at < inside[1] and sheet.tokens[at].text in ("=", "~"):
        at += 1
    one = quantity(sheet, at, inside[1])
    if one is not None and one.end == inside[1]:
        _keep_portion(found, seen.per, one, inside)
        return replace(seen, at=inside[1] + 1)
    holds_amounts = any(quantity(sheet, place, inside[1]) for place in range(inside[0], min(inside[1], inside[0] + 6)))
    return None if holds_amounts else replace(seen, at=inside[1] + 1)


def _keep_portion(found: Findings, what: Per | None, one: Quantity, inside: tuple[int, int]) -> None:
    """``per serving (2 tablets)``, ``per tablet (2.5 g)``, ``per \u00bd tsp (1.8 g)``: the bracket tells the size."""
    pack = found.pack
    if what is None or one.unit is None:
        return
    if what.kind in ("serving", "day") and one.unit.dimension == "count" and pack.serving_equated:
        take_back_equation(pack)
    if what.kind == "product_mass" and what.unit is not None and one.unit.dimension == "count":
        # "Per 5 g (1 scoop)"
        if pack.serving_units is None:
            pack.serving_units, pack.serving_unit = one.number.low, one.unit.unit
            pack.serving_mass_g = what.count * what.unit.factor / 1000
            pack.serving_flags.append("serving_from_heading")
            pack.serving_spans.append(found.sheet.span(*inside))
    elif what.kind in ("serving", "day") and one.unit.dimension == "count" and pack.serving_units is None:
        pack.serving_units, pack.serving_unit = one.number.low, one.unit.unit
        pack.servings_per_day = Decimal(1) if what.kind == "day" else pack.servings_per_day
        pack.serving_spans.append(found.sheet.span(*inside))
    elif what.kind == "volume" and one.unit.dimension == "mass" and pack.serving_mass_g is None:
        pack.serving_mass_g = one.number.low * one.unit.factor / 1000
    elif what.unit is not None:
        _keep_unit_size(found, inside, what.count, what.unit)


def _told_by_its_per(found: Findings, line: Line, seen: _Seen) -> Heading | None:
    """``Apporto per compressa (2,5 g):`` has words unknown to the list, but says what amounts are for, and a colon."""
    tokens, at, what = found.sheet.tokens, seen.at, seen.per
    while at < min(line.end, seen.at + _LONGEST_HEADING // 3) and tokens[at].text != ":":
        following = per(found.sheet, at, line.end)
        if following is not None and following.kind != "body_weight" and following.unit is not None:
            seen = replace(seen, at=following.end, per=what or following)
            what, at = seen.per, following.end
            if at in found.sheet.closing and found.sheet.closing[at] < line.end:
                after = _bracket(found, seen, (at + 1, found.sheet.closing[at]))
                at = after.at if after is not None else at
        elif tokens[at].kind == "word":
            at += 1
        else:
            return None
    ends = at < line.end and tokens[at].text == ":" and what is not None
    return Heading(seen.kind or "active", what, seen.unit, at + 1) if ends else None


def _without_colon(found: Findings, line: Line, seen: _Seen) -> Heading | None:
    """``Ingredients cellulose, silica``: a list needs no colon."""
    first = _HEADINGS.find(found.sheet.tokens, line.start, line.end)
    if seen.kind != "list" or first is None or seen.at != first.end or not line.segment.new_line:
        return None
    return Heading("list", seen.per, seen.unit, seen.at) if found.sheet.tokens[seen.at].kind == "word" else None


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
        _keep_unit_size(found, inside, count, unit)
        at = inside[1] + 1
    elif at < line.end and tokens[at].fold in _OF:
        # "Each tablet of 1.5 g contains", "Cada comprimido de 1,5 g contiene"
        mass = quantity(sheet, at + 1, line.end)
        if mass is not None and mass.unit is not None and mass.unit.dimension == "mass":
            _keep_unit_size(found, (mass.start, mass.end), count, unit)
            at = mass.end
    contains = _CONTAINS.find(tokens, at, line.end)
    if contains is None or count <= 0 or unit.dimension not in ("count", "volume", "mass"):
        return None
    at = contains.end
    while at < line.end and tokens[at].fold in _AROUND:
        at += 1
    kind = _KIND_OF_DIMENSION.get(unit.dimension) or ("serving" if unit.unit == "serving" else "unit")
    return Heading("active", Per(line.start, at, kind, count, unit), None, at)


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
    counted = quantity(sheet, each.end, line.end)
    if counted is not None and counted.unit is not None:
        following = sheet.units.find(tokens, counted.end, line.end)
        if following is not None and following.meaning.dimension == "count" and counted.unit.dimension == "mass":
            found.pack.unit_mass_g = counted.number.low * counted.unit.factor / 1000
            return Decimal(1), following.meaning, following.end
        return counted.number.low, counted.unit, counted.end
    hit = sheet.units.find(tokens, each.end, line.end)
    return (Decimal(1), hit.meaning, hit.end) if hit is not None else None


def _keep_unit_size(found: Findings, inside: tuple[int, int], count: Decimal, unit: Unit) -> None:
    at = inside[0]
    while at < inside[1] and found.sheet.tokens[at].text in ("=", "~"):
        at += 1
    one = quantity(found.sheet, at, inside[1])
    if (
        one is not None
        and one.unit is not None
        and one.unit.dimension == "mass"
        and unit.dimension == "count"
        and count > 0
    ):
        if found.pack.unit_mass_g is None:
            found.pack.unit_mass_g = one.number.low * one.unit.factor / 1000 / count
        found.pack.unit = found.pack.unit or unit.unit
        found.pack.container_spans.append(found.sheet.span(*inside))


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
    if what.kind not in ("unit", "volume") or what.unit is None or pack.serving_units is not None:
        return
    pack.serving_units, pack.serving_unit = what.count, what.unit.unit
    if what.kind == "volume":
        pack.serving_volume_ml = what.count * what.unit.factor
    pack.serving_flags.append("serving_from_heading")
    pack.serving_spans.append(found.sheet.span(start, end))
