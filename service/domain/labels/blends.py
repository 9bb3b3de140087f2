"""From a line that totals several substances to a blend with bounds for each member."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from service.domain.fact_names import read_fact_name
from service.domain.labels.answer import Blend, BlendMember, PerReading, ProductFact
from service.domain.labels.blend_bounds import BlendBounds, MemberBounds, blend_bounds
from service.domain.labels.facts import LONGEST_NAME, FactReader, per_text, texts_of
from service.domain.labels.findings import PanelLine
from service.domain.labels.item_shapes import Item
from service.domain.labels.quantities import Quantity
from service.domain.labels.sheet import Sheet
from service.domain.rounding import amount as rounded
from service.domain.rounding import amount_range

MOST_MEMBERS = 60


def blend_of(reader: FactReader, line: PanelLine) -> tuple[Blend, tuple[ProductFact, ...]]:
    """Read a blend.

    Parameters
    ----------
    reader
        Reads names as ``normalise`` does.
    line
        The line with its members.

    Returns
    -------
    tuple
        The blend, and the facts by which ``normalise`` and ``screen`` see it: its members, disclosed amounts with them.
    """
    sheet, found = reader.sheet, line.item.quantity
    total = found.number.low * found.unit.factor if found and found.unit and found.unit.dimension == "mass" else None
    members = line.members[:MOST_MEMBERS]
    members = [_of_the_total(member, found) for member in members]
    disclosed = [_mass(member) for member in members]
    bounds = _bounds(total, disclosed)
    texts = texts_of(sheet, line)
    flags = [*bounds.flags, *(found.flags if found else ())]
    if total is None:
        activity = found is not None and found.unit is not None and found.unit.dimension == "activity"
        flags.append("activity_unit" if activity else "total_not_stated")
    inner = [part for member in members for aside in member.asides if aside.kind == "content" for part in aside.items]
    if inner:
        flags.append("nested_blend")
        flags += [] if all(_mass(part) is not None for part in inner) else ["amounts_undisclosed", "descending_order"]
    if len(line.members) > MOST_MEMBERS:
        flags.append("members_left_out")
    read = _members(sheet, members, bounds)
    per = PerReading(line.per.kind, line.per.count, line.per.unit.unit if line.per.unit else None) if line.per else None
    end = max((member.end for member in members), default=line.item.end)
    blend = Blend(
        name=texts.name,
        amount=texts.amount,
        mg=rounded(total) if total else None,
        per=per or PerReading("serving", Decimal(1), "serving"),
        bound=found.bound if found else None,
        members=read,
        flags=tuple(dict.fromkeys(flags)),
        span=sheet.span(line.item.start, max(end, line.item.end)),
    )
    return blend, _product_facts(reader, line, blend, members)


def _members(sheet: Sheet, members: Sequence[Item], bounds: BlendBounds) -> tuple[BlendMember, ...]:
    """Read members with their bounds; without a total there are none."""
    each = bounds.members or (None,) * len(members)
    return tuple(_member(sheet, member, one) for member, one in zip(members, each, strict=True))


def rounded_or_zero(value: Decimal) -> Decimal:
    """Round an amount; a bound of nothing stays nothing.

    Parameters
    ----------
    value
        In mg.

    Returns
    -------
    Decimal
        In mg.
    """
    return rounded(value) if value else Decimal(0)


def _mass(member: Item) -> Decimal | None:
    found = member.quantity
    if found is None or found.refused or found.unit is None or found.unit.dimension != "mass":
        return None
    return found.number.low * found.unit.factor


def _of_the_total(member: Item, total: Quantity | None) -> Item:
    """``Blend 1 g: MSM 30 %``: the share is one of the blend."""
    share = member.quantity
    if total is None or total.unit is None or total.unit.dimension != "mass" or total.refused:
        return member
    if share is None or share.refused or share.unit is None or share.unit.dimension != "fraction":
        return member
    low, high = (total.number.low * each * share.unit.factor for each in (share.number.low, share.number.high))
    flags = (*share.flags, "share_of_blend")
    return replace(
        member, quantity=replace(share, number=replace(share.number, low=low, high=high), unit=total.unit, flags=flags)
    )


def _bounds(total: Decimal | None, disclosed: list[Decimal | None]) -> BlendBounds:
    if total is None or not disclosed:
        return BlendBounds((), ("amounts_undisclosed",))
    return blend_bounds(total, disclosed)


def _member(sheet: Sheet, member: Item, bounds: MemberBounds | None) -> BlendMember:
    name = sheet.text(*member.name).strip(" :-,.|")
    reading = read_fact_name(sheet.reference, name)
    exact = _mass(member)
    low = high = None
    if bounds is not None:
        low, high = rounded_or_zero(bounds.low), rounded_or_zero(bounds.high)
        if bounds.low and bounds.low != bounds.high:
            low, high = amount_range(bounds.low, bounds.high)
    inner = tuple(one for aside in member.asides if aside.kind == "content" for one in aside.items)[:MOST_MEMBERS]
    nested = _bounds(exact, [_mass(one) for one in inner]) if inner else None
    return BlendMember(
        name=name,
        ingredient=reading.ingredient,
        form=reading.form.id if reading.form else None,
        hazard=reading.hazards[0].hazard if reading.hazards else None,
        # What the others leave can settle the last hidden amount.
        mg=rounded(exact) if exact else low if low == high else None,
        mg_low=low,
        mg_high=high,
        members=_members(sheet, inner, nested) if nested else (),
        span=sheet.span(member.start, member.end),
    )


def _product_facts(reader: FactReader, line: PanelLine, blend: Blend, members: list[Item]) -> tuple[ProductFact, ...]:
    """Write the blend with its hidden members, and each known member by itself."""
    hidden = [one.name for one in blend.members if one.mg is None]
    facts = []
    for member, one in zip(members, blend.members, strict=True):
        if _mass(member) is not None:
            texts = texts_of(reader.sheet, PanelLine(member, line.per, "", 0, 0))
            facts.append(reader.checked(texts.name, texts.amount))
        elif one.mg and line.item.quantity is not None:
            facts.append(reader.checked(one.name, f"{one.mg:f} mg{per_text(line.per, line.item.quantity)}"))
    name = f"{blend.name}: {', '.join(hidden)}" if hidden or not blend.members else blend.name
    if (hidden or not blend.members) and len(name) <= LONGEST_NAME:
        return (reader.checked(name.rstrip(": "), blend.amount), *facts)
    # Too many members for one name: each is screened by itself, its amount unknown.
    return (*(reader.checked(member, None) for member in hidden), *facts)
