"""Names with their amounts: ``Glucosamine HCl 500 mg per chew``, ``500 mg MSM``, ``EPA 300, DHA 200``."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from service.domain.labels.brackets import PURE
from service.domain.labels.item_names import (
    JOINS,
    after_prefix,
    end_of_name,
    mass_after_share,
    name_follows,
    separates,
)
from service.domain.labels.item_shapes import (
    LEADERS,
    Aside,
    Draft,
    Item,
    Scope,
    is_share,
    is_substance_amount,
    skip_leaders,
)
from service.domain.labels.item_tails import both_bounds, read_tail
from service.domain.labels.numerals import number
from service.domain.labels.quantities import Quantity, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import PROVIDING
from service.reference.records import Unit

MOST_ITEMS = 400


def read_items(sheet: Sheet, start: int, end: int, inherited: Unit | None = None, depth: int = 0) -> tuple[Item, ...]:
    """Cut a line into names with their amounts.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The line, without its heading.
    inherited
        Unit of the column or of the bracket's parent, for bare numbers.
    depth
        How many brackets are open.

    Returns
    -------
    tuple of Item
        In printed order; every token of the line belongs to an item or is a separator.
    """
    # Several recognisers look at the same line.
    key = ("items", start, end, inherited.alias if inherited is not None else None, depth)
    if key not in sheet.seen:
        sheet.seen[key] = _read_items(sheet, start, end, inherited, depth)
    return cast("tuple[Item, ...]", sheet.seen[key])


def _read_items(sheet: Sheet, start: int, end: int, inherited: Unit | None, depth: int) -> tuple[Item, ...]:
    scope = Scope(sheet, end, inherited, depth, read_items)
    found: list[Item] = []
    at = start
    while at < end:
        at = _skip_separators(sheet, at, end)
        if at >= end:
            break
        if len(found) >= MOST_ITEMS:
            # No line of a label has so many; what is left is handed back as one piece without name or amount.
            found.append(Item(at, end, (at, at), None))
            break
        item, after = _marked(scope, at)
        if found and _is_purity(sheet, item) and found[-1].quantity is not None and found[-1].purity is None:
            found[-1] = replace(found[-1], end=item.end, purity=item.quantity)
        else:
            found.append(item)
        at = max(after, at + 1)
    return tuple(found)


def _skip_separators(sheet: Sheet, at: int, end: int) -> int:
    tokens = sheet.tokens
    while at < end and (
        tokens[at].kind == "newline" or tokens[at].text in LEADERS or tokens[at].text == "/" or tokens[at].fold in JOINS
    ):
        if tokens[at].text in (".", ",") and number(sheet, at, end) is not None:
            break
        if tokens[at].fold in ("e", "y", "en", "a") and not _joins(sheet, at, end):
            break
        at += 1
    return at


def _joins(sheet: Sheet, at: int, end: int) -> bool:
    """Say whether a letter joins two names: the ``e`` of Italian, not that of ``E 967``."""
    tokens = sheet.tokens
    return at + 1 < end and tokens[at + 1].kind == "word" and not tokens[at + 1].glued


def _marked(scope: Scope, at: int) -> tuple[Item, int]:
    """Read one item, name first or amount first."""
    begin = at
    while at < scope.end and scope.sheet.tokens[at].kind == "mark":
        at += 1
    item, after = _unmarked(scope, at)
    marks = tuple(token.text for token in scope.sheet.tokens[begin:at])
    return (replace(item, start=begin, marks=(*marks, *item.marks)) if marks else item), after


def _calcium(scope: Scope, at: int) -> tuple[Item, int] | None:
    """``Ca 1 g / P 0.8 g``: the symbol of calcium is also short for circa; no name behind the amount, so it is one."""
    if at + 1 >= scope.end or scope.sheet.tokens[at].text != "Ca" or scope.sheet.tokens[at + 1].text == ".":
        return None
    place = skip_leaders(scope.sheet, at + 1, scope.end)
    found = quantity(scope.sheet, place, scope.end, scope.inherited)
    if not is_substance_amount(found) or found is None or name_follows(scope, found.end):
        return None
    draft = Draft(at, name=(at, at + 1), quantity=found)
    return _closed(scope, draft, read_tail(scope, draft, found.end))


def _bracketed_first(scope: Scope, at: int) -> tuple[Item, int] | None:
    """``(500 mg) Glucosamine HCl``: the amount stands in a bracket before the name."""
    inside = scope.sheet.inside(at)
    if inside is None or inside[1] + 1 >= scope.end or not name_follows(scope, inside[1] + 1):
        return None
    alone = quantity(scope.sheet, *inside)
    if alone is None or alone.end != inside[1] or not is_substance_amount(alone):
        return None
    draft = Draft(at, quantity=alone)
    end = end_of_name(scope, inside[1] + 1, draft)
    if quantity(scope.sheet, end, scope.end, scope.inherited) is not None:
        return None
    draft.name = (inside[1] + 1, end)
    return _closed(scope, draft, read_tail(scope, draft, end))


def _unmarked(scope: Scope, at: int) -> tuple[Item, int]:
    special = _calcium(scope, at) or _bracketed_first(scope, at)
    if special is not None:
        return special
    first = quantity(scope.sheet, at, scope.end, scope.inherited)
    bare = first is not None and first.unit is None and scope.depth > 0 and name_follows(scope, first.end)
    if first is not None and (is_substance_amount(first) or first.refused or bare):
        return _amount_first(scope, at, first)
    return _name_first(scope, at)


def _amount_first(scope: Scope, at: int, first: Quantity) -> tuple[Item, int]:
    """Read ``500 mg (of) glucosamine``; also an amount alone in its line."""
    draft = Draft(at, quantity=first)
    place = read_tail(scope, draft, first.end)
    if place < scope.end and scope.sheet.tokens[place].fold in ("of", "de", "di", "von", "d'"):
        place += 1
    name_end = end_of_name(scope, place, draft)
    draft.name = (place, name_end)
    return _closed(scope, draft, read_tail(scope, draft, name_end))


def _name_first(scope: Scope, at: int) -> tuple[Item, int]:
    draft = Draft(at)
    name_end = end_of_name(scope, at, draft)
    draft.name = (after_prefix(scope, at, name_end), name_end)
    draft.asides = [aside for aside in draft.asides if aside.start >= draft.name[0]]
    place = skip_leaders(scope.sheet, name_end, scope.end)
    # Behind a comma that ends the item an amount belongs to the next one: "decaffeinated, <1 % caffeine".
    ended = name_end < scope.end and scope.sheet.tokens[name_end].text in (",", ";") and separates(scope, name_end)
    found = None if ended else quantity(scope.sheet, place, scope.end, scope.inherited)
    if found is None:
        _take_bracketed(scope, draft)
        return _closed(scope, draft, read_tail(scope, draft, name_end))
    minus = place > at and scope.sheet.tokens[place - 1].text == "-" and scope.sheet.tokens[place].glued
    draft.quantity = replace(found, flags=(*found.flags, "dash_before_number")) if minus else found
    place = read_tail(scope, draft, _more(scope, draft, found.end))
    _join_bounds(scope.sheet, draft)
    if is_share(found):
        place = _amount_after_share(scope, draft, found, place)
    return _closed(scope, draft, place)


def _more(scope: Scope, draft: Draft, at: int) -> int:
    """Read the other amounts of ``500/400 mg``, one for each name between slashes."""
    tokens = scope.sheet.tokens
    while at < scope.end and tokens[at].text == "/" and per(scope.sheet, at, scope.end) is None:
        following = quantity(scope.sheet, at + 1, scope.end)
        if following is None:
            break
        draft.more.append(following)
        at = following.end
    return at


def _join_bounds(sheet: Sheet, draft: Draft) -> None:
    """``Crude protein min/max 20 %/25 %``, ``min 20 %/max 25 %``: two bounds and two amounts make one range."""
    found = draft.quantity
    if found is None or len(draft.more) != 1:
        return
    end = draft.name[1]
    told = [aside for aside in draft.asides if aside.kind == "words" and _names_both(sheet, aside.start + 1, aside.end)]
    if told and told[0].end == end:
        end = told[0].start
        draft.asides.remove(told[0])
        found, second = replace(found, bound="min"), replace(draft.more[0], bound="max")
    elif found.bound == "max" and _names_both(sheet, end - 2, end):
        end -= 2
        found, second = replace(found, bound="min"), replace(draft.more[0], bound="max")
    else:
        second = draft.more[0]
    both = both_bounds(found, second)
    if both is not None:
        draft.quantity, draft.name = both, (draft.name[0], end)
        draft.more.clear()


def _names_both(sheet: Sheet, at: int, end: int) -> bool:
    """``min /`` before a maximum, or ``min/max`` in a bracket."""
    words = [token.fold.rstrip(".") for token in sheet.tokens[max(0, at) : end] if token.text not in (".", ")")]
    return words in (["min", "/"], ["minimum", "/"], ["min", "/", "max"], ["minimum", "/", "maximum"])


def _take_bracketed(scope: Scope, draft: Draft) -> None:
    """``Super blend (1.2 g)``, ``MSM (200 mg)``: the only amount stands in the bracket that ends the name."""
    last = draft.asides[-1] if draft.asides else None
    if draft.purity is not None and last is not None and last.end == draft.name[1] and _is_alone(draft.purity, last):
        # "Gr\u00fcnlippmuschelpulver (15 %)" in a list: no amount follows, so it is a share of the product.
        draft.quantity, draft.purity, draft.name = draft.purity, None, (draft.name[0], last.start)
        draft.asides.pop()
        return
    if (
        last is not None
        and last.kind == "content"
        and last.end == draft.name[1]
        and _tells_amount_and_source(scope, last)
    ):
        # "Zinc (15 mg as zinc oxide)"
        told = last.items[0]
        draft.quantity, draft.name = told.quantity, (draft.name[0], last.start)
        draft.asides[-1] = Aside("source", told.name[0], told.name[1])
        return
    if last is None or last.kind != "restated" or last.end != draft.name[1] or last.quantity is None or last.items:
        return
    if is_substance_amount(last.quantity):
        draft.quantity, draft.name = last.quantity, (draft.name[0], last.start)
        draft.asides.pop()


def _is_alone(share: Quantity, aside: Aside) -> bool:
    return (share.start, share.end) == (aside.start + 1, aside.end - 1)


def _tells_amount_and_source(scope: Scope, aside: Aside) -> bool:
    """Say whether a bracket gives the amount and then what it comes from."""
    first = aside.items[0] if len(aside.items) == 1 else None
    if first is None or first.quantity is None or not is_substance_amount(first.quantity):
        return False
    hit = PROVIDING.find(scope.sheet.tokens, *first.name)
    return first.quantity.start < first.name[0] and hit is not None and hit.meaning == "source"


def _amount_after_share(scope: Scope, draft: Draft, share: Quantity, place: int) -> int:
    """``Boswellia extract 65 % boswellic acids 200 mg``, ``chondroitin 90 % 500 mg``: the mass is the amount."""
    told = mass_after_share(scope, share, place)
    if told is None:
        return place
    name_end, mass = told
    draft.quantity = mass
    if name_end > place and not _are_pure(scope.sheet, place, name_end):
        part = Item(share.start, name_end, (place, name_end), share)
        draft.asides.append(Aside("content", share.start, name_end, (part,)))
    else:
        draft.purity = share
    return read_tail(scope, draft, mass.end)


def _is_purity(sheet: Sheet, item: Item) -> bool:
    """``Chondroitin sulfate 400 mg, purity 90 %``: a share of what stands before."""
    return is_share(item.quantity) and item.name[0] < item.name[1] and _are_pure(sheet, *item.name)


def _are_pure(sheet: Sheet, start: int, end: int) -> bool:
    return all(token.fold in PURE for token in sheet.tokens[start:end] if token.kind == "word")


def _closed(scope: Scope, draft: Draft, end: int) -> tuple[Item, int]:
    item = Item(
        draft.start, end, draft.name, draft.quantity, draft.per, tuple(draft.asides), draft.second,
        draft.purity, tuple(draft.more), tuple(draft.columns), tuple(draft.marks), draft.size,
    )  # fmt: skip
    return item, end
