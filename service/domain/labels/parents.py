"""Which parts printed below or beside a material are contained in it, and not added to it."""

from __future__ import annotations

from dataclasses import replace

from service.domain.labels.findings import Findings, PanelLine
from service.domain.labels.item_shapes import Aside, Item, with_inherited
from service.domain.labels.quantities import Quantity
from service.domain.labels.sheet import Sheet
from service.domain.stated_content import THE_REST

_OIL_PARTS = frozenset(
    "epa dha dpa ala eicosapentaenoic docosahexaenoic omega omega-3 omega3 phospholipids astaxanthin "
    "eicosapentaensaure "
    "docosahexaensaure".split()
)

_FATS = frozenset("oil ol huile aceite omega krill fischol lachsol".split())
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


def parent_line(found: Findings, entry: PanelLine) -> PanelLine | None:
    """Find the line above that this one is a part of: EPA below fish oil, AKBA below boswellic acids.

    Parameters
    ----------
    found
        The lines above.
    entry
        The line.

    Returns
    -------
    PanelLine or None
        ``None`` where nothing says that it is contained in what stands above.
    """
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
    if parts and parts <= THE_REST and above.parts and words & _FATS:
        # "Total omega-3 900 mg: EPA 500 mg, DHA 300 mg, other 100 mg"
        return above
    if not parts & known or words & parts - {"omega"} or _are_omegas_apart(sheet, above.item, entry.item):
        return None
    mine, theirs = entry.item.quantity, above.item.quantity
    if mine.unit is None or theirs.unit is None or mine.unit.dimension != theirs.unit.dimension:
        return None
    if mine.number.low * mine.unit.factor > theirs.number.high * theirs.unit.factor:
        return None
    return above


def _worth(sheet: Sheet, whole: Quantity, aside: Aside) -> Item | None:
    """Give the only part of a bracket, where there is more of it than of the whole and it is no substance."""
    one = aside.items[0] if len(aside.items) == 1 else None
    if one is None or not is_more_than(one.quantity, whole) or sheet.exact(sheet.text(*one.name)).form is not None:
        return None
    return one


def is_more_than(part: Quantity | None, whole: Quantity | None) -> bool:
    """Say whether a part weighs more than what it is printed to be a part of.

    Parameters
    ----------
    part, whole
        Amounts.

    Returns
    -------
    bool
        ``False`` where one of them is no mass.
    """
    if part is None or whole is None or part.unit is None or whole.unit is None or part.refused or whole.refused:
        return False
    if {part.unit.dimension, whole.unit.dimension} != {"mass"}:
        return False
    return part.number.low * part.unit.factor > whole.number.high * whole.unit.factor


def _are_omegas_apart(sheet: Sheet, above: Item, below: Item) -> bool:
    """Tell omega-6 from omega-3, and an omega-3 printed twice from one that holds another; an oil holds them all."""
    whole, part = ([token.fold for token in sheet.tokens[slice(*item.name)]] for item in (above, below))
    if "omega" not in part or not {word for word in whole if word in _PARTS} <= {"omega"}:
        return False
    return whole == part or {word for word in whole if word.isdigit()} != {word for word in part if word.isdigit()}


def inherited_parts(sheet: Sheet, item: Item) -> Item:
    """Give bare numbers in a bracket the unit of the amount before it, where they do not exceed it.

    Parameters
    ----------
    sheet
        The label.
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
        if aside.kind == "content" and (one := _worth(sheet, whole, aside)) is not None:
            # "50 mg (yields 250 mg berry)": what it was made from, or is worth.
            asides.append(replace(aside, kind="equivalent", quantity=one.quantity))
            continue
        bare = [
            part.quantity.number.high
            for part in aside.items
            if part.quantity is not None and part.quantity.unit is None
        ]
        if aside.kind == "content" and bare and sum(bare) <= whole.number.high:
            aside = replace(aside, items=tuple(with_inherited(part, whole.unit) for part in aside.items))
        asides.append(aside)
    return replace(item, asides=tuple(asides))
