"""Recognisers of a serving and of servings in a pack."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.direction_steps import spelt_count
from service.domain.labels.direction_words import COUNT_WORDS, TIMES
from service.domain.labels.directions import directions
from service.domain.labels.findings import Findings, Line, Pack
from service.domain.labels.heading_words import SERVING_HEADINGS, SERVINGS_IN_PACK
from service.domain.labels.phrases import Phrases, any_of
from service.domain.labels.quantities import Quantity, per, quantity
from service.domain.labels.unit_masses import HOLDS, WEIGHS
from service.domain.labels.vocabulary import DAILY, PACK_WORDS

_SERVING = Phrases(dict.fromkeys(SERVING_HEADINGS, True))
_SERVINGS = Phrases(dict.fromkeys(SERVINGS_IN_PACK, True))
_SIZE_WORDS = frozenset("size sizes per".split())
_VERBS = frozenset("weighs weigh weighing wiegt wiegen pese pesa".split())
_BODY_WEIGHTS = ("kilogram", "pound", "stone")
_BESIDE_WORDS = frozenset(
    """approx about ca rounded level heaped or rase rases colmada masticable masticables chewable gestrichen gehauft
    croquer""".split()
)
# "90 capsules = 63 g" is a pack, no serving.
_MOST_UNITS = 12
_HOLDING = any_of("contains | contain | enthält | contient | contiene")
_OF_UNITS = frozenset("of de a zu".split())
_METRIC = ("gram", "kilogram", "milligram", "millilitre", "litre", "centilitre", "decilitre")
# On a facts panel an ounce is 28 g and a fluid ounce 30 ml (21 CFR 101.9(b)(5)(viii); source chem-s01).
_OUNCE_G, _FLUID_OUNCE_ML = Decimal(28), Decimal(30)
_GRAMS_PER_MG = Decimal("0.001")
_JOINERS = frozenset("( ) = , / : - \u2013 \u2014 \u2022 [ ] \u00b7".split())


def serving(found: Findings, line: Line) -> bool:
    """Recognise ``Serving size: 2 soft chews (10 g)``, ``1 sachet = 2 g = 1 day's serving``.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line is one.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    head = _SERVING.find(tokens, line.start, line.end)
    at = head.end if head else _after_spelt_one(found, line.start, line.end)
    while at < line.end and (
        tokens[at].text in (":", "-", "=", ".") or tokens[at].fold in ("of", "is", "for", "approx", "about")
    ):
        at += 1
    at = _after_spelt_one(found, at, line.end) if head else at
    first = quantity(sheet, at, line.end) or (spelt_count(sheet, at, line.end) if head else None)
    if first is None or first.unit is None or first.unit.dimension not in ("count", "volume", "mass"):
        return False
    makes_one = head is None and _makes_a_serving(found, first, line.end)
    if head is None and not makes_one and not _equated(found, first, line.end):
        return False
    if head is not None and first.unit.dimension == "mass" and "weight" in sheet.text(line.start, at).casefold():
        return False
    if head is None and not makes_one and _tells_a_unit(found, first, line):
        return True
    if head is not None and DAILY.find(tokens, line.start, head.end) is not None:
        found.pack.servings_per_day = Decimal(1)
    _keep_serving(found, first, headed=makes_one or head is not None)
    stop = _serving_tail(found, first.end, line.end)
    stop = _per_body_weight(found, line, first.start, stop)
    found.pack.serving_spans.append(sheet.span(line.start, stop))
    found.cover(line.start, stop)
    return True


def _tells_a_unit(found: Findings, first: Quantity, line: Line) -> bool:
    """``1 scoop = 25 g`` beside a serving of two scoops tells what a scoop weighs, not another serving."""
    sheet, pack, unit = found.sheet, found.pack, first.unit
    if pack.serving_units is None or pack.serving_equated or unit is None or unit.dimension not in ("count", "volume"):
        return False
    if pack.serving_unit == unit.unit and pack.serving_units == first.number.low:
        return False
    sizes = (quantity(sheet, at, line.end) for at in range(first.end, line.end))
    second = next((one for one in sizes if one is not None and one.unit is not None), None)
    if pack.serving_unit == unit.unit and second is not None and second.unit is not None:
        if second.unit.dimension == "mass":
            pack.unit_mass_g = second.number.low * second.unit.factor * _GRAMS_PER_MG / first.number.low
        elif second.unit.dimension == "volume":
            pack.serving_volume_ml = second.number.low * second.unit.factor * pack.serving_units / first.number.low
    else:
        pack.serving_flags.append("several_servings")
    pack.serving_spans.append(sheet.span(line.start, line.end))
    found.cover(line.start, line.end)
    return True


def _makes_a_serving(found: Findings, first: Quantity, end: int) -> bool:
    """``2 chews per serving``."""
    what = per(found.sheet, first.end, end)
    counts = first.unit is not None and first.unit.dimension in ("count", "volume") and first.number.low <= _MOST_UNITS
    return counts and what is not None and what.kind == "serving" and what.count == 1 and first.number.low > 0


def _per_body_weight(found: Findings, line: Line, start: int, at: int) -> int:
    """Read the rest of ``Serving size: 1 chew per 25 lbs`` as a direction: it is for so much of the animal."""
    what = per(found.sheet, at, line.end)
    if what is None or what.unit is None or what.unit.unit not in _BODY_WEIGHTS:
        return at
    daily = TIMES.find(found.sheet.tokens, what.end, line.end)
    stop = daily.end if daily is not None else what.end
    return stop if directions(found, Line(line.segment, start, stop)) else at


def _after_spelt_one(found: Findings, at: int, end: int) -> int:
    """``One (1) scoop = 4.8 g`` says its number twice."""
    tokens, inside = found.sheet.tokens, found.sheet.inside(at + 1)
    spelt = inside is not None and inside[1] == inside[0] + 1 and tokens[inside[0]].kind == "number"
    if spelt and inside is not None and inside[1] + 1 < end and COUNT_WORDS.find(tokens, at, end):
        return inside[0]
    return at


def _equated(found: Findings, first: Quantity, end: int) -> bool:
    """``1 scoop = 5 g`` needs no heading; ``90 ct`` is no serving."""
    tokens, sheet = found.sheet.tokens, found.sheet
    if first.unit is None or first.unit.dimension == "mass" or first.end >= end or first.number.low > _MOST_UNITS:
        return False
    at = first.end
    if tokens[at].text == "(" and at in sheet.closing:
        daily = any(DAILY.find(tokens, place, end) for place in range(sheet.closing[at] + 1, end))
        if first.number.low != 1 and not daily:
            return False
        inside, closed = quantity(sheet, at + 1, sheet.closing[at]), sheet.closing[at] + 1
        sized = inside is not None and inside.unit is not None and inside.unit.dimension in ("mass", "volume")
        rest = (quantity(sheet, place, end) for place in range(closed, end))
        # "1 cup (240 mL) = 1 serving"
        return sized and all(one is None or (one.unit is not None and one.unit.unit == "serving") for one in rest)
    word = WEIGHS.find(tokens, at, end)
    if word is None or tokens[at].fold in HOLDS:
        return False
    if tokens[at].fold in _VERBS and first.number.low == 1 and first.unit.dimension == "count":
        # "1 chew weighs 4 g" is no serving.
        return False
    second = quantity(sheet, word.end, end)
    return second is not None and second.unit is not None and second.unit.dimension in ("mass", "volume")


def _keep_serving(found: Findings, first: Quantity, *, headed: bool) -> None:
    pack = found.pack
    if first.unit is None:
        return
    implied = {"serving_from_heading", "serving_from_directions"}.intersection(pack.serving_flags)
    if implied and first.unit.dimension != "mass":
        # A printed serving size goes before what a heading or the directions imply.
        pack.serving_flags = [flag for flag in pack.serving_flags if flag not in implied]
        pack.serving_units = None
    if headed and pack.serving_equated and first.unit.dimension == "count":
        take_back_equation(pack)
    pack.serving_equated = not headed
    if pack.serving_units is not None and pack.serving_units != first.number.low:
        pack.serving_flags.append("several_servings")
        return
    pack.serving_flags.extend(first.flags)
    value = first.number.low
    if first.number.low != first.number.high:
        pack.serving_flags.append("serving_is_a_range")
    if first.unit.dimension == "mass":
        ounce = first.unit.unit == "ounce"
        pack.serving_mass_g = value * (_OUNCE_G if ounce else first.unit.factor * _GRAMS_PER_MG)
        pack.serving_flags += ["ounce_on_label"] if ounce else []
        return
    pack.serving_units, pack.serving_unit = value, first.unit.unit
    pack.serving_word = found.sheet.text(first.number.end, first.end).strip("() ") or first.unit.unit
    if first.unit.dimension == "volume":
        fluid_ounce = first.unit.unit == "fluid-ounce"
        pack.serving_volume_ml = value * (_FLUID_OUNCE_ML if fluid_ounce else first.unit.factor)
        pack.serving_flags += ["household_measure"] if fluid_ounce else []


def take_back_equation(pack: Pack) -> None:
    """``1 chew weighs 3.5 g``, and the serving is 2 chews: the equation told the mass of a unit.

    Parameters
    ----------
    pack
        Its serving becomes open again.
    """
    if pack.serving_mass_g is not None:
        pack.unit_mass_g = pack.serving_mass_g / (pack.serving_units or 1)
    pack.serving_units = pack.serving_mass_g = None
    pack.serving_equated = False


def _serving_tail(found: Findings, at: int, end: int) -> int:
    """Read masses, volumes and a daily portion behind the count, until something else comes."""
    sheet, tokens, pack = found.sheet, found.sheet.tokens, found.pack
    while at < end:
        one = quantity(sheet, at, end)
        if one is not None and _counts_the_pack(one):
            # "2 chews per serving, 45 servings"
            break
        if one is not None and one.unit is not None and one.unit.dimension in ("mass", "volume", "count"):
            if DAILY.find(tokens, one.number.end, end):
                pack.servings_per_day = Decimal(1)
            _second_size(found, one)
            at = one.end
        elif (daily := DAILY.find(tokens, one.end if one else at, end)) is not None:
            # "= 1 day's serving", "3 capsules daily"
            pack.servings_per_day = one.number.low if one else pack.servings_per_day or Decimal(1)
            at = _skip_words(found, daily.end, end)
        elif (what := per(sheet, at, end)) is not None and what.kind == "serving" and what.count == 1:
            # "2 chews per serving"
            at = what.end
        elif (weighs := WEIGHS.find(tokens, at, end)) is not None:
            at = weighs.end
        elif tokens[at].text in _JOINERS or tokens[at].kind in ("mark", "newline") or tokens[at].fold in _BESIDE_WORDS:
            at += 1
        else:
            break
    if "household_measure" in pack.serving_flags and pack.serving_mass_g is None:
        pack.serving_flags.append("mass_unknown")
    return at


def _counts_the_pack(one: Quantity) -> bool:
    """Say whether a count behind a serving is that of the pack: several servings, or more units than one takes."""
    if one.unit is None or one.unit.dimension != "count":
        return False
    return one.number.low > (1 if one.unit.unit == "serving" else _MOST_UNITS)


def _skip_words(found: Findings, at: int, end: int) -> int:
    """Step over ``'s serving``, which says nothing more."""
    tokens = found.sheet.tokens
    while at < end and tokens[at].fold in ("'", "s", "serving", "portion", "dose", "supply", "amount"):
        at += 1
    return at


def _second_size(found: Findings, one: Quantity) -> None:
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    if unit.dimension == "count" and pack.serving_units is None:
        # "Daily dose: 30 g (1 sachet)"
        pack.serving_units, pack.serving_unit = one.number.low, unit.unit
    metric = unit.unit in _METRIC
    if unit.dimension == "mass" and (
        pack.serving_mass_g is None or (metric and "ounce_on_label" in pack.serving_flags)
    ):
        _drop_flag(pack.serving_flags, "ounce_on_label")
        pack.serving_mass_g = one.number.low * unit.factor * _GRAMS_PER_MG
    elif unit.dimension == "volume" and (
        pack.serving_volume_ml is None
        or "household_measure" in pack.serving_flags
        or (metric and pack.serving_unit not in _METRIC)
    ):
        # A printed millilitre beats every spoon.
        pack.serving_volume_ml = one.number.low * unit.factor
        _drop_flag(pack.serving_flags, "household_measure")
    if "approximate" in one.flags:
        pack.serving_flags.append("approximate")


def _drop_flag(flags: list[str], flag: str) -> None:
    flags[:] = [one for one in flags if one != flag]


def servings_in_pack(found: Findings, line: Line) -> bool:
    """Recognise ``Servings per container: 45`` and ``about 94 servings per bottle``.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line is one.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    head = _SERVINGS.find(tokens, line.start, line.end)
    if head is not None and head.end < line.end:
        at = head.end
        while at < line.end and tokens[at].text in (":", "=", "-"):
            at += 1
        counted = quantity(sheet, at, line.end)
        if counted is None or (counted.unit is not None and counted.unit.dimension != "count"):
            return False
        end = counted.end
        if counted.unit is not None and end < line.end and tokens[end].fold in _SIZE_WORDS:
            # "Servings per container 60  Serving size 1 chew" in one line
            end = counted.number.end
    else:
        contains = _HOLDING.find(tokens, line.start, line.end)
        counted = quantity(sheet, contains.end if contains else line.start, line.end)
        if counted is not None and (of := _of_units(found, counted, line)) is not None:
            return of
        if counted is None or counted.unit is None or counted.unit.unit != "serving" or counted.end >= line.end:
            return False
        if per(sheet, counted.end, line.end) is not None and tokens[counted.end + 1].fold in ("day", "tag", "jour"):
            return False
        pack_word = PACK_WORDS.find(tokens, min(counted.end + 1, line.end), line.end) or PACK_WORDS.find(
            tokens, counted.end, line.end
        )
        if pack_word is None:
            return False
        end = pack_word.end
    found.pack.servings = counted.number.low
    found.pack.container_flags.extend(counted.flags)
    found.pack.container_spans.append(sheet.span(line.start, end))
    found.cover(line.start, end)
    return True


def _of_units(found: Findings, counted: Quantity, line: Line) -> bool | None:
    """``Contains 45 servings of 2 chews``; ``None`` where no units follow."""
    sheet, tokens = found.sheet, found.sheet.tokens
    if counted.unit is None or counted.unit.unit != "serving" or counted.end >= line.end:
        return None
    each = quantity(sheet, counted.end + 1, line.end) if tokens[counted.end].fold in _OF_UNITS else None
    if each is None or each.unit is None or each.unit.dimension not in ("count", "volume", "mass"):
        return None
    found.pack.servings = counted.number.low
    _keep_serving(found, each, headed=True)
    found.pack.serving_spans.append(sheet.span(each.start, each.end))
    found.pack.container_spans.append(sheet.span(line.start, each.end))
    found.cover(line.start, each.end)
    return True
