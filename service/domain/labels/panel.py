"""Lines with amounts: facts, blends with their members, constituents under their parents."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from service.domain.fact_names import read_fact_name
from service.domain.labels.container import container
from service.domain.labels.energy import energy
from service.domain.labels.findings import Findings, Line, PanelLine
from service.domain.labels.item_shapes import Aside, Item, with_inherited
from service.domain.labels.items import read_items
from service.domain.labels.lists import ingredient_list
from service.domain.labels.quantities import Per, Quantity, per, quantity
from service.domain.labels.serving import serving, servings_in_pack, unit_of_mass
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BLEND_WORDS, PACK_WORDS, PROVIDING
from service.reference.records import Unit

# Which parts printed below a material are contained in it and not added to it: what the material is made of.
_NAMES_NOTHING = frozenset(
    "from of contains contain each per amount and or with total the for by at in to serving".split()
)
_CLAIMED = frozenset(
    """satisfaction guaranteed guarantee natural organic pure vegan vegetarian recyclable off save money back more
    fresh""".split()
)
_OR = frozenset("or oder ou".split())
_LONGEST_UNIT = 10
_ENERGY = ("energy", "energy_per_mass")
_OF_A_SUBSTANCE = (
    *("mass", "iu", "activity", "vitamin_equivalent", "fraction", "mass_per_mass", "iu_per_mass", "activity_per_mass"),
)
_OIL_PARTS = frozenset(
    "epa dha dpa ala eicosapentaenoic docosahexaenoic omega omega-3 omega3 phospholipids astaxanthin "
    "eicosapentaensaure "
    "docosahexaensaure".split()
)
_PARTS = {
    "oil": _OIL_PARTS,
    "ol": _OIL_PARTS,
    "huile": _OIL_PARTS,
    "aceite": _OIL_PARTS,
    "omega": _OIL_PARTS,
    "krill": _OIL_PARTS,
    "fischol": _OIL_PARTS,
    "lachsol": _OIL_PARTS,
    "boswellia": frozenset(("boswellic", "akba", "boswelliasauren")),
    "boswellic": frozenset(("akba",)),
    "turmeric": frozenset(("curcuminoids", "curcumin", "kurkumin", "curcuminoide")),
    "kurkuma": frozenset(("curcuminoids", "curcumin", "kurkumin", "curcuminoide")),
    "curcuma": frozenset(("curcuminoids", "curcumin", "curcuminoides", "curcumine")),
    "pepper": frozenset(("piperine",)),
    "claw": frozenset(("harpagoside", "harpagosides")),
    "teufelskralle": frozenset(("harpagosid", "harpagoside")),
    "ginger": frozenset(("gingerols", "gingerol")),
    "msm": frozenset(("sulfur", "sulphur")),
    "collagen": frozenset(("undenatured", "hydroxyproline", "glycine", "proline")),
    "yucca": frozenset(("saponins",)),
}


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
    items = _each_of_slashed(sheet, _footnoted(sheet, items))
    head = items[0]
    if _is_blend(sheet, head) and (head.quantity is not None or head.end < line.end):
        return _blend_line(found, line, items)
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
        _bare(found, item)
        parts = [part for aside in item.asides if aside.kind == "content" for part in aside.items]
        # "Soft chews with MSM 500 mg": what has no amount of its own is no parent, its contents are facts.
        return all([_keep(found, line, part, what) for part in parts]) and item.name[0] < item.name[1]
    item = _by_mass(_bounded(found, item))
    if item.quantity is None:
        return False
    if _of_another_kind(item):
        return False
    if unit_of_mass(found, item.name, item.quantity) or _pack_of_mass(found, line, item):
        return True
    if item.name[0] >= item.name[1] or _counts_nothing(found.sheet, item):
        return False
    if {token.fold for token in found.sheet.tokens[slice(*item.name)] if token.kind == "word"} <= _CLAIMED:
        # "100 % satisfaction guaranteed" is a claim, however much of it there is.
        found.state("claim", item.start, item.end)
        return True
    alternative = found.sheet.tokens[item.name[0]].fold in _OR
    if alternative:
        item = replace(item, name=(item.name[0] + 1, item.name[1]))
    flags = ("alternative",) if alternative else ()
    entry = PanelLine(item, what, found.section, found.group, line.segment.indent, flags=flags)
    parent = None if alternative else _parent(found, entry)
    if parent is not None:
        parent.parts.append(item)
    else:
        found.lines.append(entry)
    return True


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
        return True
    return found.unit is None and sheet.exact(sheet.text(*item.name)).ingredient is None


def _bare(found: Findings, item: Item) -> None:
    """Keep a name without an amount among names with amounts as an ingredient whose amount is not stated."""
    ingredient_list(found, *item.name)
    found.cover(item.start, item.end)


def _shared_per(sheet: Sheet, items: tuple[Item, ...]) -> Per | None:
    """``EPA 180 mg, DHA 120 mg per capsule``: what stands at the end of a line holds for all of it."""
    last = items[-1]
    return (
        last.per
        if last.per is not None and last.per.kind != "product_mass" and all(item.per is None for item in items[:-1])
        else None
    )


def _footnoted(sheet: Sheet, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Give marked names the amount that a bracket with the same mark states: ``(*1,000 mg each per day)``."""
    for item in items:
        for aside in item.asides:
            notes = [note for note in aside.items if note.quantity is not None and note.name[0] >= note.name[1]]
            begins_marked = sheet.tokens[aside.start + 1].kind == "mark"
            if not notes or not begins_marked:
                continue
            mark = sheet.tokens[aside.start + 1].text
            amount = notes[0].quantity
            if amount is None:
                continue
            amount = replace(amount, flags=(*amount.flags, "amount_in_footnote"))
            return tuple(
                replace(
                    one, quantity=amount, per=notes[0].per, name=_without_bracket(one, aside),
                    asides=tuple(other for other in one.asides if other is not aside),
                )
                if mark in one.marks and one.quantity is None else one
                for one in items
            )  # fmt: skip
    return items


def _each_of_slashed(sheet: Sheet, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """``Glucosamine HCl/chondroitin sulfate 500/400 mg``: as many names as numbers, in the same order."""
    found: list[Item] = []
    for item in items:
        names = _slashed_names(sheet, item.name)
        amounts = _slashed_amounts(sheet, item)
        if len(names) == len(amounts) > 1:
            found += [replace(item, name=name, quantity=one) for name, one in zip(names, amounts, strict=True)]
        else:
            found.append(item)
    return tuple(found)


def _slashed_names(sheet: Sheet, name: tuple[int, int]) -> list[tuple[int, int]]:
    cuts = [
        at
        for at in range(*name)
        if sheet.tokens[at].text in ("/", "&") or sheet.tokens[at].fold in ("and", "und", "et", "y")
    ]
    edges = [name[0] - 1, *cuts, name[1]]
    return [(left + 1, right) for left, right in pairwise(edges) if right > left + 1]


def _slashed_amounts(sheet: Sheet, item: Item) -> list[Quantity]:
    """Read ``500/400 mg`` and ``500 mg/400 mg``."""
    whole = item.quantity
    if whole is None or not item.more:
        return []
    several = (whole, *item.more)
    unit = next((one.unit for one in reversed(several) if one.unit is not None), None)
    return [replace(one, unit=one.unit or unit, flags=(*one.flags, "slash_list")) for one in several]


def _without_bracket(item: Item, aside: Aside) -> tuple[int, int]:
    return item.name[0], min(item.name[1], aside.start) if aside.start >= item.name[0] else item.name[1]


def _is_blend(sheet: Sheet, item: Item) -> bool:
    """Say whether a name is that of a blend: its word says so and no recorded substance has that name."""
    start, end = item.name
    if not any(BLEND_WORDS.find(sheet.tokens, at, end) for at in range(start, min(end, start + 12))):
        return False
    outer = _outer_name(sheet, item)
    return "amount_hidden_in_blend" in read_fact_name(sheet.reference, sheet.text(*outer)).flags


def _outer_name(sheet: Sheet, item: Item) -> tuple[int, int]:
    first = next((aside.start for aside in item.asides if item.name[0] < aside.start < item.name[1]), item.name[1])
    return item.name[0], first


def _blend_line(found: Findings, line: Line, items: tuple[Item, ...]) -> bool:
    sheet, head = found.sheet, items[0]
    members = [
        member for aside in head.asides if aside.kind in ("content", "words") for member in _members(sheet, aside)
    ]
    colon = head.end < line.end and sheet.tokens[head.end].text in (":", "=")
    rest = list(items[1:])
    if head.quantity is None or colon or (rest and not members and all(item.quantity is None for item in rest)):
        members += rest
        rest = []
    members = [_nested(sheet, member) for member in members]
    entry = PanelLine(
        replace(head, name=_outer_name(sheet, head)),
        head.per or found.per,
        "blend",
        found.group,
        line.segment.indent,
        members,
    )
    found.lines.append(entry)
    for item in rest:
        if item.quantity is None:
            _bare(found, item)
        else:
            found.lines.append(PanelLine(item, item.per or found.per, found.section, found.group, line.segment.indent))
    found.cover(line.start, line.end)
    return True


def _members(sheet: Sheet, aside: Aside) -> tuple[Item, ...]:
    if aside.items:
        return aside.items
    return read_items(sheet, aside.start + 1, aside.end - 1, None, 1)


def _nested(sheet: Sheet, member: Item) -> Item:
    """Take the brackets off a member that is a blend itself: ``[Joint blend 500 mg: glucosamine HCl, MSM]``."""
    inside = sheet.inside(member.start)
    if inside is None or inside[1] + 1 != member.end:
        return member
    items = read_items(sheet, *inside)
    if not items:
        return member
    inner = Aside("content", inside[0], inside[1], items[1:])
    return replace(items[0], end=inside[1], asides=(*items[0].asides, inner))


def members_with_amounts(found: Findings, line: Line) -> bool:
    """Read a line below a blend that names members, some with their amounts: behind a semicolon, indented, or mixed.

    Parameters
    ----------
    found
        Filled with the members.
    line
        The line.

    Returns
    -------
    bool
        Whether a blend without members stands right above, or on the same line.
    """
    last = found.lines[-1] if found.lines else None
    if last is None or last.section != "blend" or last.group != found.group or line.segment.new_block:
        return False
    if line.segment.new_line:
        items = read_items(found.sheet, line.start, line.end, found.column_unit)
        mixed = len(items) > 1 and any(item.quantity is None for item in items)
        if last.members or not (mixed or line.segment.indent > last.indent):
            return False
    last.members.extend(read_items(found.sheet, line.start, line.end))
    found.cover(line.start, line.end)
    return True


def blend_members(found: Findings, line: Line) -> bool:
    """Read a line of names below a blend that has named none of its members yet.

    Parameters
    ----------
    found
        Filled with the members.
    line
        The line.

    Returns
    -------
    bool
        Whether such a blend is open in this block.
    """
    last = found.lines[-1] if found.lines else None
    if last is None or last.section != "blend" or last.group != found.group or line.segment.new_block:
        return False
    same_line = not line.segment.new_line
    if not same_line and last.members and line.segment.indent <= last.indent and not _ends_in_comma(found, last):
        return False
    last.members.extend(read_items(found.sheet, line.start, line.end))
    found.cover(line.start, line.end)
    return True


def _ends_in_comma(found: Findings, blend: PanelLine) -> bool:
    end = blend.members[-1].end if blend.members else blend.item.end
    return end < len(found.sheet.tokens) and found.sheet.tokens[end].text == ","


def _parent(found: Findings, entry: PanelLine) -> PanelLine | None:
    """Find the line above that this one is a part of: EPA below fish oil, AKBA below boswellic acids."""
    if not found.lines:
        return None
    above = found.lines[-1]
    if (
        above.group != entry.group
        or above.section == "blend"
        or above.item.quantity is None
        or entry.item.quantity is None
    ):
        return None
    sheet = found.sheet
    parts = {token.fold for token in sheet.tokens[slice(*entry.item.name)] if token.kind == "word"}
    words = {token.fold for token in sheet.tokens[slice(*above.item.name)] if token.kind == "word"}
    known = frozenset().union(*(_PARTS[word] for word in words if word in _PARTS))
    if not parts & known or words & parts - {"omega"}:
        return None
    mine, theirs = entry.item.quantity, above.item.quantity
    if mine.unit is None or theirs.unit is None or mine.unit.dimension != theirs.unit.dimension:
        return None
    if mine.number.low * mine.unit.factor > theirs.number.high * theirs.unit.factor:
        return None
    return above


def inherited_parts(item: Item) -> Item:
    """Give bare numbers in a bracket the unit of the amount before it, where they do not exceed it.

    Parameters
    ----------
    item
        For example ``Omega 3 500 mg (EPA 300, DHA 200)``.

    Returns
    -------
    Item
        With units, flagged as inherited; unchanged where the parts would be more than the whole.
    """
    whole = item.quantity
    if whole is None or whole.unit is None or whole.unit.dimension == "count":
        return item
    asides = []
    for aside in item.asides:
        bare = [
            part.quantity.number.high
            for part in aside.items
            if part.quantity is not None and part.quantity.unit is None
        ]
        if aside.kind == "content" and bare and sum(bare) <= whole.number.high:
            aside = replace(aside, items=tuple(with_inherited(part, whole.unit) for part in aside.items))
        asides.append(aside)
    return replace(item, asides=tuple(asides))


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
