"""Recognisers of the size of a pack: counts, net mass and volume, packs of packs, a title with its size."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import NET_CONTENT_HEADINGS
from service.domain.labels.numerals import number
from service.domain.labels.pack_sizes import Size, Sizes, keep_sizes
from service.domain.labels.phrases import Phrases, any_of
from service.domain.labels.quantities import Quantity, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.sized_units import hyphenated
from service.domain.labels.supplies import SUPPLY, days_behind
from service.domain.labels.vocabulary import PACK_WORDS, PER
from service.reference.records import Unit

_NET = Phrases(dict.fromkeys(NET_CONTENT_HEADINGS, True))
_GRAMS_PER_MG = Decimal("0.001")
# Less than this without a heading is an amount of a substance or a dose, not a pack.
_SMALLEST_PACK_G, _SMALLEST_COUNT = Decimal(20), Decimal(5)
_PACK_MASSES = ("gram", "kilogram", "ounce", "pound")
_PACK_DIMENSIONS = ("count", "mass", "volume")
_BESIDE = frozenset("( ) [ ] = , / : - \u2013 \u2014 \u2022 \u00b7 + ! \u212e . x e *".split())
_BESIDE_WORDS = frozenset(
    "net wt approx about a of value contents in de inhalt ca total poids peso with mit avec con sample".split()
)
_EACH = frozenset("each ea je per chacun cada".split())
_EACH_BEHIND_A_COUNT = _EACH | frozenset("a zu of de x \u00d7".split())
_PACK_OF = any_of(
    "pack of | packs of | box of | set of | case of | lot de | pack de | caja de | \u00e9tui de | packung mit"
)
_MOST_PACKS = 50
_BODY_WEIGHTS = ("kilogram", "pound", "stone")
_MOST_AT_ONCE = Decimal(12)
_FOR = frozenset("for fur pour para per".split())
_FREE = frozenset("free gratis extra".split())


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
        Whether the line holds nothing but such sizes.
    """
    sheet = found.sheet
    if PER.find(sheet.tokens, line.start, line.end) is not None and per(sheet, line.start, line.end) is not None:
        # "Per 5 ml (1 pump):" says what amounts are for.
        return False
    packs = _packs(sheet, line.start, line.end)
    head = _NET.find(sheet.tokens, line.start, line.end)
    read = _sizes(found, head.end if head and packs is None else line.start, line.end)
    if read is None:
        return False
    sizes = read.sizes
    if any(one.is_count and one.quantity.number.low % 1 for one in sizes):
        # "£17.99 each" counts no pieces.
        return False
    if head is None and _speaks_of_an_animal(found, line, sizes):
        return False
    if not sizes or not (head or any(one.each or one.factor != 1 or _is_pack_size(one.quantity) for one in sizes)):
        # "400 mg" alone in its line is an amount whose name stands elsewhere.
        return False
    keep_sizes(found, read)
    found.pack.container_flags += ["promo_inside_count"] if read.free else []
    found.pack.container_spans.append(sheet.span(line.start, line.end))
    found.cover(line.start, line.end)
    for start, end in read.remarks:
        found.state("claim", start, end)
    return True


def _sizes(found: Findings, at: int, end: int) -> Sizes | None:
    """Read sizes and what may stand among them; ``None`` where anything else does."""
    tokens = found.sheet.tokens
    read = Sizes()
    each = False
    while at < end:
        if (packs := _packs(found.sheet, at, end)) is not None:
            read.packs, at = packs
            continue
        if (size := _size(found, at, end)) is not None:
            of = _counted_unit(found.sheet, *size, end)
            read.sizes.append(Size(*size, each, of[0] if of is not None else None))
            at, each = of[1] if of is not None else size[1].end, False
            continue
        if read.sizes and (remark_end := _remark(found, at, end)) is not None:
            read.remarks.append((at, remark_end))
            at = remark_end
            continue
        step = _beside(found, at, end)
        if step is None:
            return None
        if read.sizes and tokens[at].fold in _EACH_BEHIND_A_COUNT:
            # "120 tablets of 1.5 g" and "4.2 g each"
            last = read.sizes[-1]
            each = last.is_count
            read.count_of_each = read.count_of_each or (each and tokens[at].fold in _EACH)
            of_pack = PACK_WORDS.find(tokens, at + 1, end) is not None
            last.each = last.each or (not each and tokens[at].fold in _EACH and not of_pack)
        read.free = read.free or any(token.fold in _FREE for token in tokens[at:step])
        at = step
    return read


def _packs(sheet: Sheet, at: int, end: int) -> tuple[Decimal, int] | None:
    """``Pack of 3``, ``3-pack``, ``3 packs of``: how many packs, and the token behind."""
    tokens = sheet.tokens
    hit = _PACK_OF.find(tokens, at, end)
    bare = quantity(sheet, hit.end, end) if hit is not None else None
    if bare is not None and bare.unit is None and not bare.refused and _is_count_of_packs(bare.number.low):
        return bare.number.low, bare.end
    if at + 2 < end and tokens[at].text.isdigit() and tokens[at + 1].text == "-" and tokens[at + 2].fold == "pack":
        packs = Decimal(tokens[at].text)
        return (packs, at + 3) if tokens[at + 1].glued and _is_count_of_packs(packs) else None
    return None


def _is_count_of_packs(packs: Decimal) -> bool:
    return 1 < packs <= _MOST_PACKS and not packs % 1


def _counted_unit(sheet: Sheet, factor: Decimal, one: Quantity, end: int) -> tuple[Unit, int] | None:
    """``60 x 2 g chews``: what each of the sixty is."""
    if factor == 1 or one.unit is None or one.unit.dimension == "count":
        return None
    hit = sheet.units.find(sheet.tokens, one.end, end)
    return (hit.meaning, hit.end) if hit is not None and hit.meaning.dimension == "count" else None


def _remark(found: Findings, at: int, end: int) -> int | None:
    """Step over ``(open and mix with food)``: a bracket of words that size nothing."""
    tokens = found.sheet.tokens
    if tokens[at].text != "(" or at + 1 >= end or _beside(found, at + 1, end) is not None:
        return None
    inside = at + 1
    while inside < end and tokens[inside].kind == "word" and tokens[inside].fold not in _FREE:
        inside += 1
    return inside + 1 if inside < end and tokens[inside].text == ")" else None


def _speaks_of_an_animal(found: Findings, line: Line, sizes: list[Size]) -> bool:
    """``10 kg - 1 tablet``, ``5 ml per 10 kg``: a body weight beside a portion is no size of a pack."""
    heavy = [one for one in sizes if one.quantity.unit is not None and one.quantity.unit.unit in _BODY_WEIGHTS]
    portions = [one for one in sizes if one not in heavy and one.factor == 1 and _is_portion(one.quantity)]
    if heavy and any(one.quantity.bound for one in heavy):
        return True
    sheet = found.sheet
    whats = (per(sheet, at, line.end) for at in range(line.start, line.end))
    per_weight = any(what is not None and what.unit is not None and what.unit.unit in _BODY_WEIGHTS for what in whats)
    return per_weight or (bool(portions) and bool(heavy))


def _is_portion(one: Quantity) -> bool:
    """Say whether an animal can be given as much at once."""
    if one.unit is None or one.number.high > _MOST_AT_ONCE:
        return False
    return one.unit.dimension in ("count", "volume") or one.unit.unit in ("gram", "milligram")


def _beside(found: Findings, at: int, end: int) -> int | None:
    """Step over what may stand among sizes; a bare number only before a word for packs or what is free."""
    sheet, tokens = found.sheet, found.sheet.tokens
    if (lasts := days_behind(sheet, at, end)) is not None:
        # "60 capsules, 2 month supply"
        return lasts + 1 if lasts < end and tokens[lasts].fold in SUPPLY else None
    if tokens[at].fold in _FOR and (until := days_behind(sheet, at + 1, end)) is not None:
        # "60 Tabletten f\u00fcr 30 Tage"
        return until
    known = PACK_WORDS.find(tokens, at, end) or _NET.find(tokens, at, end)
    if known is not None:
        return known.end
    if (
        tokens[at].text in _BESIDE
        or tokens[at].kind == "mark"
        or tokens[at].fold in _BESIDE_WORDS | _EACH_BEHIND_A_COUNT
    ):
        return at + 1
    bare = number(sheet, at, end)
    if bare is not None and bare.end + 1 < end and tokens[bare.end].fold == "x":
        # "150 ct (2 x 75)": the count in packs.
        second = number(sheet, bare.end + 1, end)
        return second.end if second is not None else None
    return bare.end if bare is not None and PACK_WORDS.find(tokens, bare.end, end) is not None else None


def _size(found: Findings, at: int, end: int) -> tuple[Decimal, Quantity] | None:
    """Recognise one size, with the packs that multiply it, or two counts that add up."""
    sheet, tokens = found.sheet, found.sheet.tokens
    first = hyphenated(sheet, at, end) or quantity(sheet, at, end)
    if first is None or first.refused:
        return None
    first = _whole(first)
    if first.unit is not None and first.unit.unit == "pound":
        return Decimal(1), _pounds_and_ounces(found, first, end)
    if first.unit is not None and (sum_ := _with_bonus(found, first, end)) is not None:
        return Decimal(1), sum_
    if first.unit is not None:
        return (Decimal(1), first) if first.unit.dimension in _PACK_DIMENSIONS else None
    packs = PACK_WORDS.find(tokens, first.end, end)
    if packs is not None and packs.end < end and tokens[packs.end].fold in ("x", "\u00d7", "of"):
        # "3 bottles x 30 capsules"
        first = replace(first, end=packs.end)
    sign = tokens[first.end].fold if first.end < end else ""
    sign = "x" if sign == "of" else sign
    second = quantity(sheet, first.end + 1, end) if sign in ("x", "\u00d7", "+") else None
    second = _blistered(sheet, second, end) if second is not None and sign != "+" else second
    if second is None or second.unit is None or second.unit.dimension not in _PACK_DIMENSIONS:
        return None
    if sign != "+":
        return first.number.low, second
    # "60 + 20 free chews": both are in the pack.
    found.pack.container_flags.append("promo_inside_count")
    total = first.number.low + second.number.low
    return Decimal(1), replace(second, start=first.start, number=replace(second.number, low=total, high=total))


def _whole(one: Quantity) -> Quantity:
    """``1.000 Tabletten``: nobody counts tablets to three decimals, so the dot groups."""
    if one.unit is None or one.unit.dimension != "count" or "separator_ambiguous" not in one.flags:
        return one
    flags = ("dot_thousands", *(flag for flag in one.flags if flag != "separator_ambiguous"))
    return replace(one, number=replace(one.number, low=one.number.high), flags=flags)


def _blistered(sheet: Sheet, second: Quantity, end: int) -> Quantity:
    """``6 x 10 x 1 tablet``: ten of one are in each of the six."""
    if second.unit is not None or second.end >= end or sheet.tokens[second.end].fold not in ("x", "\u00d7"):
        return second
    third = quantity(sheet, second.end + 1, end)
    if third is None or third.unit is None or third.unit.dimension != "count":
        return second
    count = second.number.low * third.number.low
    return replace(third, start=second.start, number=replace(third.number, low=count, high=count))


def _with_bonus(found: Findings, first: Quantity, end: int) -> Quantity | None:
    """``150 chews + 30 bonus chews``: both are in the pack."""
    sheet = found.sheet
    if first.unit is None or first.unit.dimension != "count" or first.end >= end or sheet.tokens[first.end].text != "+":
        return None
    second = quantity(sheet, first.end + 1, end)
    if second is None:
        return None
    stop = second.end
    if second.unit is None and stop < end and sheet.tokens[stop].fold in _FREE:
        # "120 tabs + 30 free"
        second, stop = replace(second, unit=first.unit), stop + 1
    if second.unit is None or second.unit.unit != first.unit.unit:
        return None
    found.pack.container_flags.append("promo_inside_count")
    total = first.number.low + second.number.low
    told = number(sheet, stop + 1, end) if stop < end and sheet.tokens[stop].text == "=" else None
    # "120 + 30 = 150": the sum says the same again.
    stop = told.end if told is not None and told.low == total else stop
    return replace(second, start=first.start, end=stop, number=replace(second.number, low=total, high=total))


def _pounds_and_ounces(found: Findings, first: Quantity, end: int) -> Quantity:
    """``1 lb 4 oz`` is one mass."""
    second = quantity(found.sheet, first.end, end)
    if second is None or second.unit is None or second.unit.unit != "ounce" or first.unit is None:
        return first
    pounds = first.number.low + second.number.low * second.unit.factor / first.unit.factor
    return replace(first, end=second.end, number=replace(first.number, low=pounds, high=pounds))


def titled_size(found: Findings, line: Line) -> bool:
    """Recognise ``Joint support powder 500 g``, ``Hip tablets, 120 ct``: a title with the size of the pack behind it.

    Parameters
    ----------
    found
        Filled with the size; the title is kept as a statement.
    line
        The line.

    Returns
    -------
    bool
        Whether words are followed by nothing but counts, volumes, or masses too large for an amount of a substance.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    first = next((at for at in range(line.start, line.end) if quantity(sheet, at, line.end) is not None), None)
    if first is None or first == line.start or found.section in ("active", "additives", "constituents"):
        return False
    one = quantity(sheet, first, line.end)
    if (
        one is None
        or (one.unit is not None and one.unit.flag and one.unit.dimension == "volume")
        or not _is_pack_size(one)
        or any(token.text == "," for token in tokens[line.start : first - 1])
    ):
        return False
    if not container(found, Line(line.segment, first, line.end)):
        return False
    found.state("title", line.start, first)
    return True


def _is_pack_size(one: Quantity) -> bool:
    if one.unit is None or one.refused:
        return False
    if one.unit.dimension == "mass":
        return one.unit.unit in _PACK_MASSES and one.number.low * one.unit.factor * _GRAMS_PER_MG >= _SMALLEST_PACK_G
    return one.unit.dimension in ("count", "volume") and one.number.low >= _SMALLEST_COUNT
