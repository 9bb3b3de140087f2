"""Recognisers of serving, container, energy and price."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import NET_CONTENT_HEADINGS, SERVING_HEADINGS, SERVINGS_IN_PACK
from service.domain.labels.phrases import Phrases
from service.domain.labels.quantities import Quantity, number, per, quantity
from service.domain.labels.vocabulary import DAILY, PACK_WORDS

_SERVING = Phrases(dict.fromkeys(SERVING_HEADINGS, True))
_SERVINGS = Phrases(dict.fromkeys(SERVINGS_IN_PACK, True))
_NET = Phrases(dict.fromkeys(NET_CONTENT_HEADINGS, True))
_WEIGHS = Phrases(
    dict.fromkeys(
        ("weighs", "weigh", "weighing", "weight", "wiegt", "p\u00e8se", "pesa", "=", "equals", "is", "contains",
         "entspricht", "correspond \u00e0", "equivale a", "\u00e0", "zu je", "zu", "of", "de"),
        True,
    )
)  # fmt: skip
_EACH_ONE = Phrases(
    dict.fromkeys(
        (
            "each",
            "one",
            "a",
            "1",
            "every",
            "jede",
            "jeder",
            "jedes",
            "eine",
            "ein",
            "chaque",
            "un",
            "une",
            "cada",
            "una",
        ),
        True,
    )
)
_HOUSEHOLD = ("teaspoon", "tablespoon", "cup", "drop")
_GRAMS_PER_MG = Decimal("0.001")
_JOINERS = frozenset(("(", ")", "=", ",", "/", ":", "-", "\u2013", "\u2014", "\u2022", "[", "]", "\u00b7"))


def serving(found: Findings, line: Line) -> bool:
    """Recognise ``Serving size: 2 soft chews (10 g)``, ``1 sachet = 2 g = 1 day's serving``, ``1 Messl\u00f6ffel entspricht 5 g``.

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
    at = head.end if head else line.start
    while at < line.end and (
        tokens[at].text in (":", "-", "=", ".") or tokens[at].fold in ("of", "is", "for", "approx", "about")
    ):
        at += 1
    first = quantity(sheet, at, line.end)
    if first is None or first.unit is None or first.unit.dimension not in ("count", "volume", "mass"):
        return False
    if head is None and not _equated(found, first, line.end):
        return False
    if head is not None and first.unit.dimension == "mass" and "weight" in sheet.text(line.start, at).casefold():
        return False
    _keep_serving(found, first)
    stop = _serving_tail(found, first.end, line.end)
    found.pack.serving_spans.append(sheet.span(line.start, stop))
    found.cover(line.start, stop)
    return True


def _equated(found: Findings, first: Quantity, end: int) -> bool:
    """``1 scoop = 5 g`` needs no heading; ``90 ct`` is no serving."""
    tokens, sheet = found.sheet.tokens, found.sheet
    if first.unit is None or first.unit.dimension == "mass" or first.end >= end:
        return False
    at = first.end
    if tokens[at].text == "(" and at in sheet.closing and first.number.low == 1:
        inside = quantity(sheet, at + 1, sheet.closing[at])
        return (
            inside is not None
            and inside.unit is not None
            and inside.unit.dimension in ("mass", "volume")
            and sheet.closing[at] + 1 == end
        )
    word = _WEIGHS.find(tokens, at, end)
    if word is None or tokens[at].fold in ("of", "de", "zu", "a", "zu"):
        return False
    second = quantity(sheet, word.end, end)
    return second is not None and second.unit is not None and second.unit.dimension in ("mass", "volume")


def _keep_serving(found: Findings, first: Quantity) -> None:
    pack = found.pack
    if first.unit is None:
        return
    if "serving_from_heading" in pack.serving_flags and first.unit.dimension != "mass":
        # A printed serving size goes before what a heading implies.
        pack.serving_flags.remove("serving_from_heading")
        pack.serving_units = None
    if pack.serving_units is not None and pack.serving_units != first.number.low:
        pack.serving_flags.append("several_servings")
        return
    pack.serving_flags.extend(first.flags)
    value = first.number.low
    if first.number.low != first.number.high:
        pack.serving_flags.append("serving_is_a_range")
    if first.unit.dimension == "mass":
        pack.serving_mass_g = value * first.unit.factor * _GRAMS_PER_MG
        return
    pack.serving_units, pack.serving_unit = value, first.unit.unit
    pack.serving_word = found.sheet.text(first.number.end, first.end).strip("() ") or first.unit.unit
    if first.unit.dimension == "volume":
        pack.serving_volume_ml = value * first.unit.factor


def _serving_tail(found: Findings, at: int, end: int) -> int:
    """Read masses, volumes and a daily portion behind the count, until something else comes."""
    sheet, tokens, pack = found.sheet, found.sheet.tokens, found.pack
    while at < end:
        one = quantity(sheet, at, end)
        if one is not None and one.unit is not None and one.unit.dimension in ("mass", "volume", "count"):
            if found.sheet.text(at, end).casefold().startswith(("1 day", "1 daily")) or DAILY.find(
                tokens, one.number.end, end
            ):
                pack.servings_per_day = Decimal(1)
            _second_size(found, one)
            at = one.end
            continue
        if one is not None and DAILY.find(tokens, one.end, end):
            pack.servings_per_day = one.number.low
            at = _skip_words(found, one.end, end)
            continue
        daily = DAILY.find(tokens, at, end)
        if daily is not None:
            pack.servings_per_day = pack.servings_per_day or Decimal(1)
            at = _skip_words(found, daily.end, end)
            continue
        weighs = _WEIGHS.find(tokens, at, end)
        if weighs is not None:
            at = weighs.end
        elif (
            tokens[at].text in _JOINERS
            or tokens[at].kind in ("mark", "newline")
            or tokens[at].fold in ("approx", "about", "ca", "rounded", "level", "heaped", "or")
        ):
            at += 1
        else:
            break
    if "household_measure" in pack.serving_flags and pack.serving_mass_g is None:
        pack.serving_flags.append("mass_unknown")
    return at


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
    if unit.dimension == "mass" and pack.serving_mass_g is None:
        pack.serving_mass_g = one.number.low * unit.factor * _GRAMS_PER_MG
    elif unit.dimension == "volume" and (pack.serving_volume_ml is None or "household_measure" in pack.serving_flags):
        # A printed millilitre beats every spoon.
        pack.serving_volume_ml = one.number.low * unit.factor
        pack.serving_flags[:] = [flag for flag in pack.serving_flags if flag != "household_measure"]
    if "approximate" in one.flags:
        pack.serving_flags.append("approximate")


def unit_mass(found: Findings, line: Line) -> bool:
    """Recognise ``Each treat weighs approx. 6 g`` and ``Average tablet weight: 1.5 g``.

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
    start = line.start
    each = _EACH_ONE.find(tokens, start, line.end)
    at = each.end if each else start
    if tokens[at].fold in ("average", "avg", "approx", "mean"):
        at += 1
    unit = sheet.units.find(tokens, at, line.end)
    if unit is None or unit.meaning.dimension != "count":
        return False
    weighs = _WEIGHS.find(tokens, unit.end, line.end)
    place = weighs.end if weighs else unit.end
    while place < line.end and tokens[place].text in (":", "=", "of", "is"):
        place += 1
    mass = quantity(sheet, place, line.end)
    if mass is None or mass.unit is None or mass.unit.dimension != "mass" or weighs is None or mass.end != line.end:
        return False
    if tokens[unit.end].fold in ("contains", "of", "de"):
        return False
    found.pack.unit_mass_g = mass.number.low * mass.unit.factor * _GRAMS_PER_MG
    found.pack.unit = found.pack.unit or unit.meaning.unit
    if "approximate" in mass.flags:
        found.pack.container_flags.append("approx_mass")
    found.pack.container_spans.append(sheet.span(line.start, line.end))
    found.cover(line.start, line.end)
    return True


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
    else:
        counted = quantity(sheet, line.start, line.end)
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


def container(found: Findings, line: Line) -> bool:
    """Recognise ``90 ct``, ``Net wt 5.3 oz (150 g)``, ``2 x 60 tablets (twin pack)``, ``120 count (30 free!)``.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line holds nothing but such sizes; the name of a product may stand before a count.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    head = _NET.find(tokens, line.start, line.end)
    at = head.end if head else line.start
    sizes: list[tuple[Decimal, Quantity]] = []
    each = False
    while at < line.end:
        step = _size(found, at, line.end)
        if step is not None:
            sizes.append(step)
            at = step[1].end
            continue
        if (known := PACK_WORDS.find(tokens, at, line.end)) is not None:
            if tokens[at].fold in ("free", "gratis", "extra"):
                found.pack.container_flags.append("promo_inside_count")
            at = known.end
        elif (
            tokens[at].text in _JOINERS
            or tokens[at].text in ("+", "!", "\u212e", ".", "x", "e", "*")
            or tokens[at].kind == "mark"
        ):
            at += 1
        elif tokens[at].fold in (
            "each",
            "ea",
            "per",
            "net",
            "wt",
            "approx",
            "about",
            "e",
            "a",
            "je",
            "of",
            "value",
            "contents",
            "in",
            "de",
            "inhalt",
            "ca",
            "total",
            "je",
            "poids",
            "peso",
        ):
            each = each or tokens[at].fold in ("each", "ea", "je")
            at += 1
        elif (
            (bare := number(sheet, at, line.end)) is not None
            and bare.end < line.end
            and PACK_WORDS.find(tokens, bare.end, line.end)
        ):
            found.pack.container_flags.append("promo_inside_count")
            at = bare.end
        else:
            return False
    if not sizes:
        return False
    for factor, one in sizes:
        _keep_size(
            found,
            factor,
            one,
            (each and len(sizes) > 1)
            or (each and factor == 1 and one.unit is not None and one.unit.dimension == "mass"),
        )
    found.pack.container_spans.append(sheet.span(line.start, line.end))
    found.cover(line.start, line.end)
    return True


def _size(found: Findings, at: int, end: int) -> tuple[Decimal, Quantity] | None:
    """Recognise one size, with the packs that multiply it."""
    sheet, tokens = found.sheet, found.sheet.tokens
    first = quantity(sheet, at, end)
    if first is None:
        return None
    if first.unit is None and first.end < end and tokens[first.end].fold in ("x", "\u00d7"):
        second = quantity(sheet, first.end + 1, end)
        if second is not None and second.unit is not None and second.unit.dimension in ("count", "mass", "volume"):
            return first.number.low, second
    if first.unit is not None and first.unit.dimension in ("count", "mass", "volume"):
        return Decimal(1), first
    if first.unit is None and first.end < end and tokens[first.end].text == "+":
        # "60 + 20 free chews": both are in the pack.
        second = quantity(sheet, first.end + 1, end)
        if second is not None and second.unit is not None and second.unit.dimension == "count":
            found.pack.container_flags.append("promo_inside_count")
            total = Quantity(
                first.start, second.end, type(second.number)(first.start, second.number.end, first.number.low + second.number.low, first.number.low + second.number.low),
                second.unit, None, (),
            )  # fmt: skip
            return Decimal(1), total
    return None


def _keep_size(found: Findings, factor: Decimal, one: Quantity, each: bool) -> None:
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    value = one.number.low * factor
    pack.container_flags.extend(flag for flag in one.flags if flag != "household_measure")
    if factor != 1:
        pack.packs = factor
    if unit.dimension == "count":
        if unit.unit == "serving":
            pack.servings = value
        elif pack.unit_count is None:
            pack.unit_count = value
            pack.unit = unit.unit
            if unit.unit == "piece" and found.sheet.tokens[one.end - 1].fold.startswith("ct"):
                pack.container_flags.append("ct_is_count")
    elif unit.dimension == "mass":
        grams = value * unit.factor * _GRAMS_PER_MG
        if each:
            pack.unit_mass_g = grams
        elif pack.net_g is None or unit.unit in ("gram", "kilogram"):
            if pack.net_g is not None:
                pack.container_flags.append("restated_amount")
            pack.net_g = grams
    elif unit.dimension == "volume":
        if pack.net_ml is not None:
            pack.container_flags.append("restated_amount")
        if pack.net_ml is None or unit.unit in ("millilitre", "litre"):
            pack.net_ml = value * unit.factor
