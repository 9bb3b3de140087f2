"""What may stand behind an amount: what it is for, brackets, clauses, shares of a daily value, further columns."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from service.domain.labels.brackets import DAILY_VALUES, take_bracket, told_aside
from service.domain.labels.item_names import end_of_words, name_follows
from service.domain.labels.item_shapes import DEEPEST, Aside, Draft, Item, Scope, number_within, skip_leaders
from service.domain.labels.quantities import Per, Quantity, per, quantity
from service.domain.labels.sized_units import sized_per
from service.domain.labels.vocabulary import BLEND_WORDS, BODY_WEIGHT, BOUNDS, PROVIDING


def read_tail(scope: Scope, draft: Draft, at: int) -> int:
    """Read what may stand behind an amount, in any order: what it is for, brackets, marks, clauses, per cents.

    Parameters
    ----------
    scope
        Where items are read.
    draft
        Filled with what is read.
    at
        The token behind the amount.

    Returns
    -------
    int
        The first token that is none of it.
    """
    tokens = scope.sheet.tokens
    place = at
    while place < scope.end:
        token = tokens[place]
        if token.kind == "mark":
            draft.marks.append(token.text)
            place += 1
            continue
        if (after := _per_body_weight(scope, draft, place)) is not None:
            place = after
            continue
        if draft.quantity is not None and per(scope.sheet, place, scope.end) is not None:
            place = _what_for(scope, draft, place)
            continue
        inside = scope.sheet.inside(place)
        second_bound = _bound_and_amount(scope, place, inside)
        if inside is not None and inside[1] < scope.end and not second_bound:
            take_bracket(scope, draft, place, inside)
            place = inside[1] + 1
            continue
        after = _daily_value(scope, draft, place) or _spelt_clause(scope, draft, place)
        if after is None:
            break
        place = after
    return place


def _what_for(scope: Scope, draft: Draft, at: int) -> int:
    """``150 mg per tablet of 2 g``: what the amount is for, and the size of one."""
    told = sized_per(scope.sheet, at, scope.end)
    what = told.per if told is not None else per(scope.sheet, at, scope.end)
    if what is None:
        return at + 1
    if draft.per is None or draft.per.unit is None:
        draft.per = what
    if told is not None and told.size is not None:
        draft.size = told.size
        return told.end
    return _size_in_bracket(scope, draft, what)


def _size_in_bracket(scope: Scope, draft: Draft, what: Per) -> int:
    """``150 mg per chew (4 g)``: more than the amount is no second figure for it, but what one weighs."""
    inside = scope.sheet.inside(what.end) if what.kind == "unit" and what.end < scope.end else None
    if inside is None or inside[1] >= scope.end or draft.quantity is None or draft.quantity.unit is None:
        return what.end
    one = quantity(scope.sheet, *inside)
    if one is None or one.end != inside[1] or one.unit is None or one.unit.dimension != "mass":
        return what.end
    amount = draft.quantity
    if amount.unit is None or amount.unit.dimension != "mass":
        return what.end
    if one.number.low * one.unit.factor <= amount.number.high * amount.unit.factor:
        return what.end
    draft.size = one
    return inside[1] + 1


def _bound_and_amount(scope: Scope, at: int, inside: tuple[int, int] | None) -> bool:
    """``(min) 2.0 % (max) 2.5 %``: the second bracket bounds the amount behind it."""
    if inside is None or inside[1] + 1 >= scope.end:
        return False
    hit = BOUNDS.find(scope.sheet.tokens, *inside)
    return hit is not None and hit.end == inside[1] and quantity(scope.sheet, inside[1] + 1, scope.end) is not None


def _per_body_weight(scope: Scope, draft: Draft, at: int) -> int | None:
    """``20 mg/kg body weight``: no share of the product, but an amount for each kilogram of the animal."""
    found = draft.quantity
    if (
        found is None
        or found.unit is None
        or found.unit.dimension != "mass_per_mass"
        or not found.unit.unit.endswith("-per-kilogram")
    ):
        return None
    weight = BODY_WEIGHT.find(scope.sheet.tokens, at, scope.end)
    mass = scope.sheet.units.find(scope.sheet.tokens, found.number.end, found.number.end + 1)
    if weight is None or mass is None:
        return None
    draft.quantity = replace(found, unit=mass.meaning)
    draft.per = Per(found.number.end, weight.end, "body_weight", Decimal(1), scope.sheet.reference.units["kg"])
    return weight.end


def _daily_value(scope: Scope, draft: Draft, at: int) -> int | None:
    """``150 mg 25 %``: a share of a daily value behind an amount, unless a name follows it."""
    whole = draft.quantity
    if whole is None or whole.unit is None:
        return None
    place = skip_leaders(scope.sheet, at, scope.end)
    tolerance = place < scope.end and scope.sheet.tokens[place].text == "\u00b1"
    found = quantity(scope.sheet, place + tolerance, scope.end)
    if found is None and place < scope.end and scope.sheet.tokens[place].text == "/":
        # "min 20 % / max 25 %"
        second = quantity(scope.sheet, place + 1, scope.end)
        found = second if second is not None and both_bounds(whole, second) is not None else None
    if found is None or found.unit is None:
        return None
    if tolerance:
        # "500 mg \u00b1 5 %" says how far the amount may be off, not how much of a daily value it is.
        draft.quantity = replace(whole, flags=(*whole.flags, "tolerance_stated"))
        return found.end
    if (merged := both_bounds(_with_told_bound(scope, draft, whole), found)) is not None:
        draft.quantity = merged
        return found.end
    another = found.unit.dimension == whole.unit.dimension or "unit_inherited" in whole.flags
    if another and not name_follows(scope, found.end) and place == at:
        # A second column, for another number of units: the first one counts.
        draft.columns.append(found)
        return found.end
    if found.unit.dimension not in ("fraction", "reference_share") or found.bound is not None:
        return None
    if (
        found.unit.dimension == "fraction"
        and found.end < scope.end
        and scope.sheet.tokens[found.end].fold in DAILY_VALUES
    ):
        draft.second = found
        return found.end + 1
    if found.unit.dimension == "fraction" and name_follows(scope, found.end):
        return _constituent_share(scope, draft, found)
    draft.second = found
    return found.end


def _with_told_bound(scope: Scope, draft: Draft, whole: Quantity) -> Quantity:
    """Give an amount the bound that stands in a bracket behind its name: ``calcium (min) 2.0 %``."""
    for aside in draft.asides:
        hit = BOUNDS.find(scope.sheet.tokens, aside.start + 1, aside.end - 1) if aside.kind == "bound" else None
        if hit is not None and hit.meaning != "about" and whole.bound is None:
            return replace(whole, bound=hit.meaning)
    return whole


def both_bounds(first: Quantity, second: Quantity) -> Quantity | None:
    """``not less than 0.8 %, not more than 1.3 %``: one amount between two bounds.

    Parameters
    ----------
    first, second
        Two amounts with a bound each.

    Returns
    -------
    Quantity or None
        The range; ``None`` where they do not bound one amount from both sides.
    """
    if first.unit is None or second.unit is None or {first.bound, second.bound} != {"min", "max"}:
        return None
    low, high = (first, second) if first.bound == "min" else (second, first)
    if first.unit.unit != second.unit.unit or low.number.low > high.number.high:
        return None
    whole = replace(first.number, end=first.number.end, low=low.number.low, high=high.number.high)
    return replace(first, number=whole, bound=None, flags=(*first.flags, "range", "min_and_max"))


def _constituent_share(scope: Scope, draft: Draft, found: Quantity) -> int | None:
    """``Boswellia extract 200 mg 65 % boswellic acids``: the share names a part of the amount before it."""
    whole, end = draft.quantity, end_of_words(scope, found.end)
    if whole is None or whole.unit is None or whole.unit.dimension != "mass" or quantity(scope.sheet, end, scope.end):
        return None
    part = Item(found.start, end, (found.end, end), found)
    draft.asides.append(Aside("content", found.start, end, (part,)))
    return end


def _spelt_clause(scope: Scope, draft: Draft, at: int) -> int | None:
    """Read ``providing EPA 180 mg and DHA 120 mg``, ``standardised to 65 % boswellic acids``, ``= 18 mg Zn``."""
    place = at
    if place < scope.end and scope.sheet.tokens[place].text == ",":
        place += 1
    hit = PROVIDING.find(scope.sheet.tokens, place, scope.end)
    if hit is None or scope.depth >= DEEPEST or (hit.meaning == "source" and draft.quantity is None):
        return None
    if hit.meaning != "source" and not number_within(scope.sheet, hit.end, scope.end, 8):
        return None
    if hit.meaning == "source" and (place != at or draft.name[0] >= draft.name[1]):
        return None
    if hit.meaning == "content":
        items = scope.read(scope.sheet, hit.end, scope.end, None, scope.depth + 1)
        last = items[-1] if items else None
        own_end = None
        if draft.quantity is None and last is not None and last.name[0] >= last.name[1] and len(items) > 1:
            # "Yucca extract std. to 10 % saponins 5 mg": the last amount is the extract's own.
            draft.quantity, draft.per, items, own_end = last.quantity, last.per, items[:-1], last.end
        if own_end is None and draft.quantity is not None and not _names_a_blend(scope, draft):
            items = _parts_only(scope, draft, items)
        end = items[-1].end if items else scope.end
        draft.asides.append(Aside("content", place, end, items))
        return own_end or end
    stop = _clause_end(scope, hit.end)
    draft.asides.append(told_aside(scope, hit.meaning, place, hit.end, stop))
    return stop


def _names_a_blend(scope: Scope, draft: Draft) -> bool:
    """Say whether the parts of something are other substances: those of a blend are."""
    start, end = draft.name
    return any(BLEND_WORDS.find(scope.sheet.tokens, at, end) for at in range(start, end))


def _parts_only(scope: Scope, draft: Draft, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Cut a clause off where another substance begins: ``400 mg, of which 332 mg glucosamine, MSM 50 mg``."""
    own = {scope.sheet.exact(scope.sheet.text(*draft.name)).ingredient}
    own |= {scope.sheet.exact(scope.sheet.text(*item.name)).ingredient for item in items[:1]}
    for at, item in enumerate(items[1:], 1):
        ingredient = scope.sheet.exact(scope.sheet.text(*item.name)).ingredient
        if ingredient is not None and ingredient not in own:
            return items[:at]
    return items


def _clause_end(scope: Scope, at: int) -> int:
    tokens = scope.sheet.tokens
    return next((place for place in range(at, scope.end) if tokens[place].text == ","), scope.end)
