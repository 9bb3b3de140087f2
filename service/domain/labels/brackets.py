"""What the brackets beside names and amounts say: contents, equivalents, sources, bounds, purity, mere words."""

from __future__ import annotations

from dataclasses import replace

from service.domain.labels.item_shapes import (
    DEEPEST,
    Aside,
    Draft,
    Scope,
    is_share,
    is_substance_amount,
    number_within,
)
from service.domain.labels.quantities import Quantity, per, quantity
from service.domain.labels.vocabulary import BOUNDS, PROVIDING

DAILY_VALUES = frozenset("ar nrv vnr vrn rda dv ri cdr dri".split())
_TIMES = frozenset(("x", "\u00d7"))
PURE = frozenset("pure purity reinheit rein purete pur pureza puro".split())


def take_bracket(scope: Scope, draft: Draft, at: int, inside: tuple[int, int]) -> None:
    """Take in a bracket behind a name or an amount.

    Parameters
    ----------
    scope
        Where items are read.
    draft
        Filled with what the bracket says.
    at
        The opening bracket.
    inside
        The tokens between the brackets.
    """
    aside = _aside(scope, at, inside)
    if aside.kind == "content" and _tells_purity(scope, aside):
        share = next(item.quantity for item in aside.items if is_share(item.quantity))
        draft.purity, aside = share, replace(aside, kind="words", items=())
    if aside.kind == "restated" and is_share(aside.quantity) and draft.quantity is None:
        # "Chondroitin sulfate (90 %) 400 mg"
        draft.purity, aside = aside.quantity, replace(aside, kind="words", items=(), quantity=None)
    if aside.kind == "content" and _tells_daily_value(scope, aside):
        draft.second, aside = aside.items[0].quantity, replace(aside, kind="words", items=())
    if aside.kind == "per":
        draft.per = per(scope.sheet, at, scope.end)
    draft.asides.append(aside)


def _tells_daily_value(scope: Scope, aside: Aside) -> bool:
    """``(100 % NRV*)`` is a share of a daily value, no part of the amount."""
    first = aside.items[0]
    names = [token.fold for token in scope.sheet.tokens[slice(*first.name)] if token.kind == "word"]
    return len(aside.items) == 1 and len(names) == 1 and names[0] in DAILY_VALUES


def _tells_purity(scope: Scope, aside: Aside) -> bool:
    """``(90 % purity, bovine)``, ``(methylsulfonylmethane, 99.9 % pure)``: a share of the material."""
    for item in aside.items:
        if is_share(item.quantity):
            words = {token.fold for token in scope.sheet.tokens[item.start : item.end + 1] if token.kind == "word"}
            following = scope.sheet.tokens[item.end : min(item.end + 2, scope.end)]
            return bool(PURE & (words | {token.fold for token in following}))
    return False


def _aside(scope: Scope, at: int, inside: tuple[int, int]) -> Aside:
    """Say what a bracket is by how it begins, and whether it holds amounts."""
    sheet, (first, stop) = scope.sheet, inside
    if per(sheet, first, stop) is not None and (found := per(sheet, first, stop)) and found.end == stop:
        return Aside("per", at, stop + 1)
    bound = BOUNDS.find(sheet.tokens, first, stop)
    if bound is not None and bound.end == stop:
        return Aside("bound", at, stop + 1)
    hit = PROVIDING.find(sheet.tokens, first, stop)
    if hit is not None and hit.meaning in ("equivalent", "source"):
        told = told_aside(scope, hit.meaning, at, hit.end, stop)
        restates = hit.meaning == "equivalent" and told.quantity is not None
        restates = (
            restates and told.quantity is not None and (told.quantity.start, told.quantity.end) == (hit.end, stop)
        )
        return Aside("restated" if restates else told.kind, at, stop + 1, (), told.quantity)
    if first < stop and sheet.tokens[first].text == "\u00b1":
        # "(\u00b1 10 %)" is a tolerance.
        return Aside("words", at, stop + 1)
    alone = quantity(sheet, first, stop)
    if alone is not None and alone.unit is not None and (alone.end == stop or _multiplied(scope, alone.end, stop)):
        return Aside("restated" if alone.end == stop else "words", at, stop + 1, (), alone)
    if scope.depth < DEEPEST and number_within(sheet, first, stop, stop - first):
        begin = hit.end if hit is not None and hit.meaning == "content" else first
        items = scope.read(scope.sheet, begin, stop, None, scope.depth + 1)
        amounts = (_equivalent(scope, place, stop) for place in range(first, stop))
        told_equivalent = next((one for one in amounts if one is not None), None)
        if told_equivalent is not None:
            # "(freeze-dried; equals 1500 mg fresh)": what it was, not what is in it.
            return Aside("equivalent", at, stop + 1, (), told_equivalent)
        if items and items[0].name[0] >= items[0].name[1]:
            # "Bromelain (2,400 GDU/g)", "50 mg (75 IU, as d-alpha tocopherol)": another figure for the same thing.
            return Aside("restated", at, stop + 1, items, items[0].quantity)
        if any(item.quantity is not None for item in items):
            return Aside("content", at, stop + 1, items)
    return Aside("words", at, stop + 1)


def _multiplied(scope: Scope, at: int, stop: int) -> bool:
    """``(500 mg x 2)`` restates an amount as so many times another."""
    tokens = scope.sheet.tokens
    return at + 2 == stop and tokens[at].fold in _TIMES and tokens[at + 1].kind == "number"


def told_aside(scope: Scope, kind: str, start: int, at: int, stop: int) -> Aside:
    """Tell of a clause that says where a substance comes from or what it is worth.

    Parameters
    ----------
    scope
        Where items are read.
    kind
        ``equivalent`` or ``source``.
    start, at, stop
        Where the clause begins, where its words end, and where it ends.

    Returns
    -------
    Aside
        With the first amount of a substance in it.
    """
    amount = next(
        (
            found
            for place in range(at, min(stop, at + 12))
            if is_substance_amount(found := quantity(scope.sheet, place, stop))
        ),
        None,
    )
    return Aside(kind, start, stop, (), amount)


def _equivalent(scope: Scope, at: int, stop: int) -> Quantity | None:
    hit = PROVIDING.find(scope.sheet.tokens, at, stop)
    if hit is None or hit.meaning != "equivalent":
        return None
    found = quantity(scope.sheet, hit.end, stop)
    return found if is_substance_amount(found) else None
