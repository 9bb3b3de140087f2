"""Lines with amounts: facts, blends with their members, constituents under their parents."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from service.domain.labels.blend_lines import blend_line, is_blend
from service.domain.labels.container import container
from service.domain.labels.energy import energy
from service.domain.labels.findings import Findings, Line, PanelLine
from service.domain.labels.item_shapes import Item
from service.domain.labels.items import read_items
from service.domain.labels.lists import bare_name
from service.domain.labels.parents import parent_line
from service.domain.labels.quantities import Per, per, quantity
from service.domain.labels.serving import serving, servings_in_pack
from service.domain.labels.shared_amounts import each_of_slashed, footnoted
from service.domain.labels.sheet import Sheet
from service.domain.labels.unit_masses import unit_of_mass
from service.domain.labels.vocabulary import PACK_WORDS, PROVIDING
from service.reference.records import Unit

_NAMES_NOTHING = frozenset(
    "from of contains contain each per amount and or with total the for by at in to serving as is are supplied "
    "provided present found standardized standardised sourced derived made".split()
)
_CLAIMED = frozenset(
    """satisfaction guaranteed guarantee natural organic pure vegan vegetarian recyclable off save money back more
    fresh""".split()
)
# "50 % more glucosamine", "absorption 90 %", "reduces stiffness by 40 %": shares of something else than the product.
_CLAIMS_OF_A_SHARE = frozenset(
    """more less than absorption absorbed absorbs bioavailability bioavailable digestible digestibility reduces reduce
    reduced reduction vary varies improves improvement improved faster better stronger increase increases increased
    mehr weniger besser plus moins mas menos customers owners dogs vets percent off recommended savings discount
    natural naturally cheaper higher lower""".split()
)
_OR = frozenset("or oder ou".split())
_LONGEST_UNIT = 10
_GRAMS_PER_MG = Decimal("0.001")
_ENERGY = ("energy", "energy_per_mass")
_OF_A_SUBSTANCE = (
    *("mass", "iu", "activity", "vitamin_equivalent", "fraction", "mass_per_mass", "iu_per_mass", "activity_per_mass"),
)


def panel_line(found: Findings, line: Line) -> bool:
    """Read a line that holds at least one amount of a substance, or a number that was meant to be one.

    Parameters
    ----------
    found
        Filled with the items of the line.
    line
        The line, without its heading.

    Returns
    -------
    bool
        Whether it holds one.
    """
    sheet = found.sheet
    part_of_above = _begins_with_a_clause(found, line)
    end, unit, per_all = _unit_of_the_line(found, line)
    items = read_items(sheet, part_of_above or line.start, end, unit or found.column_unit)
    if not any(_has_amount(item) and not _counts_nothing(sheet, item) for item in items):
        return False
    if part_of_above is not None:
        # "of which: EPA 90 mg, DHA 110 mg" below the oil.
        found.lines[-1].parts += [item for item in items if item.quantity is not None]
        found.cover(line.start, line.end)
        return True
    items = each_of_slashed(sheet, footnoted(sheet, items))
    head = items[0]
    if is_blend(sheet, head) and (head.quantity is not None or head.end < line.end):
        return blend_line(found, line, items)
    shared = per_all or _shared_per(sheet, items)
    unread: list[Item] = []
    for item in items:
        if not _keep(found, line, item, item.per or shared or found.per):
            unread.append(item)
    found.cover(line.start, line.end)
    for item in unread:
        found.uncover(item.start, item.end)
        if _of_another_kind(item):
            _read_otherwise(found, line, item)
    return True


def _keep(found: Findings, line: Line, item: Item, what: Per | None) -> bool:
    """Keep one item; ``False`` for an amount of nothing, which whoever reads the label must see as unread."""
    if item.quantity is None:
        bare_name(found, item)
        parts = [part for aside in item.asides if aside.kind == "content" for part in aside.items]
        # "Soft chews with MSM 500 mg": what has no amount of its own is no parent, its contents are facts.
        return all([_keep(found, line, part, what) for part in parts]) and item.name[0] < item.name[1]
    item = _by_mass(_bounded(found, item))
    _keep_size(found, item)
    if item.quantity is None:
        return False
    if _is_volume(item) and any(aside.kind == "content" for aside in item.asides):
        # "Salmon oil 1 ml providing EPA 90 mg": no mass without a density, but its contents have theirs.
        found.flags.append("volume_without_density")
        return _keep(found, line, replace(item, quantity=None), what)
    if _of_another_kind(item):
        return False
    if unit_of_mass(found, item.name, item.quantity) or _pack_of_mass(found, line, item):
        return True
    if item.name[0] >= item.name[1] or _counts_nothing(found.sheet, item):
        return False
    words = {token.fold for token in found.sheet.tokens[slice(*item.name)] if token.kind == "word"}
    is_share = item.quantity.unit is not None and item.quantity.unit.dimension == "fraction"
    if words <= _CLAIMED or (is_share and not words.isdisjoint(_CLAIMS_OF_A_SHARE)):
        # "100 % satisfaction guaranteed" is a claim, however much of it there is.
        found.state("claim", item.start, item.end)
        return True
    alternative = found.sheet.tokens[item.name[0]].fold in _OR
    if alternative:
        item = replace(item, name=(item.name[0] + 1, item.name[1]))
    flags = ("alternative",) if alternative else ()
    entry = PanelLine(item, what, found.section, found.group, line.segment.indent, flags=flags)
    parent = None if alternative else parent_line(found, entry)
    if parent is not None:
        parent.parts.append(item)
    else:
        found.lines.append(entry)
    return True


def _keep_size(found: Findings, item: Item) -> None:
    """``150 mg per tablet of 2 g``: what one tablet weighs."""
    size = item.size
    if size is not None and size.unit is not None and size.unit.dimension == "mass":
        found.pack.unit_mass_g = found.pack.unit_mass_g or size.number.low * size.unit.factor * _GRAMS_PER_MG


def _unit_of_the_line(found: Findings, line: Line) -> tuple[int, Unit | None, Per | None]:
    """``Zn 10, Mn 5, Cu 1 (mg per chew)``: a bracket at the end gives all bare numbers of the line their unit."""
    sheet, end = found.sheet, line.end
    opened = next(
        (at for at in range(max(line.start, end - _LONGEST_UNIT), end) if sheet.closing.get(at) == end - 1), None
    )
    if opened is None:
        return end, None, None
    hit = sheet.units.find(sheet.tokens, opened + 1, end - 1)
    if hit is None or hit.meaning.dimension == "count":
        return end, None, None
    what = per(sheet, hit.end, end - 1)
    ends = what.end if what is not None else hit.end
    return (opened, hit.meaning, what) if ends == end - 1 else (end, None, None)


def _begins_with_a_clause(found: Findings, line: Line) -> int | None:
    """``of which``, ``davon``, ``standardised to`` at the head of a line: its amounts are parts of the line above."""
    hit = PROVIDING.find(found.sheet.tokens, line.start, line.end)
    last = found.lines[-1] if found.lines else None
    if last is None or last.group != found.group or line.segment.new_block or last.section == "blend":
        return None
    bracketed = found.sheet.closing.get(line.start - 1) == line.end
    if hit is None or hit.meaning != "content":
        # A whole line in brackets speaks of the line above: "[65 % (97.5 mg) boswellic acids]".
        return line.start if bracketed and line.segment.new_line else None
    return hit.end


def _has_amount(item: Item) -> bool:
    if item.quantity is not None and (
        item.quantity.refused
        or item.quantity.unit is None
        or item.quantity.unit.dimension not in ("count", "energy", "energy_per_mass")
    ):
        return item.quantity.unit is not None or item.quantity.refused is not None or item.name[1] > item.name[0]
    return any(_has_amount(inner) for aside in item.asides for inner in aside.items)


def _bounded(found: Findings, item: Item) -> Item:
    """``Minimum per chew:`` above the amounts makes each of them a minimum."""
    if found.bound is None or item.quantity is None or item.quantity.bound is not None:
        return item
    return replace(item, quantity=replace(item.quantity, bound=found.bound))


def _pack_of_mass(found: Findings, line: Line, item: Item) -> bool:
    """``100 g tube`` is the size of the pack."""
    hit = PACK_WORDS.find(found.sheet.tokens, *item.name)
    return hit is not None and hit.end == item.name[1] and container(found, Line(line.segment, item.start, item.end))


def _by_mass(item: Item) -> Item:
    """``Salmon oil 1 tsp (4.6 g)``: the mass in the bracket is the amount."""
    found = item.quantity
    if found is None or found.unit is None or found.unit.dimension != "volume":
        return item
    mass = next((one.quantity for one in item.asides if one.kind == "restated" and one.quantity), None)
    if mass is None or mass.unit is None or mass.unit.dimension != "mass":
        return item
    return replace(item, quantity=mass, asides=tuple(one for one in item.asides if one.quantity is not mass))


def _of_another_kind(item: Item) -> bool:
    """Say whether an amount among facts counts units, millilitres or energy: a serving, a pack, calories."""
    found = item.quantity
    return found is not None and found.unit is not None and found.unit.dimension in ("count", "volume", *_ENERGY)


def _is_volume(item: Item) -> bool:
    found = item.quantity
    return found is not None and found.unit is not None and found.unit.dimension == "volume"


def _read_otherwise(found: Findings, line: Line, item: Item) -> None:
    """Offer such an item to the recognisers of what it may be; else it stays unread."""
    part = Line(replace(line.segment, start=item.start, end=item.end), item.start, item.end)
    for recogniser in (energy, servings_in_pack, serving, container):
        if recogniser(found, part):
            return


def _counts_nothing(sheet: Sheet, item: Item) -> bool:
    """``Suite 200``, ``x 90 g``: a bare number behind no known name, or an amount of no word, is no fact."""
    found = item.quantity
    if found is None or found.refused:
        return False
    words = [token.fold for token in sheet.tokens[slice(*item.name)] if token.kind == "word" and len(token.text) > 1]
    if set(words) <= _NAMES_NOTHING:
        # "K 99 mg" names potassium by its symbol.
        return sheet.exact(sheet.text(*item.name)).ingredient is None
    return found.unit is None and sheet.exact(sheet.text(*item.name)).ingredient is None


def _shared_per(sheet: Sheet, items: tuple[Item, ...]) -> Per | None:
    """``EPA 180 mg, DHA 120 mg per capsule``: what stands at the end of a line holds for all of it."""
    last = items[-1]
    return (
        last.per
        if last.per is not None and last.per.kind != "product_mass" and all(item.per is None for item in items[:-1])
        else None
    )


def amount_only(found: Findings, line: Line) -> bool:
    """Say whether a line holds an amount and nothing else: its name stands in the line above.

    Parameters
    ----------
    found
        The label.
    line
        The line.

    Returns
    -------
    bool
        Marks and a share of a daily value may follow the amount.
    """
    items = read_items(found.sheet, line.start, line.end, found.column_unit)
    if len(items) != 1 or items[0].name[0] < items[0].name[1]:
        return False
    one = quantity(found.sheet, line.start, line.end, found.column_unit)
    return one is not None and one.unit is not None and one.unit.dimension in _OF_A_SUBSTANCE
