"""Names with their amounts: ``Glucosamine HCl 500 mg per chew``, ``500 mg MSM``, ``EPA 300, DHA 200``."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal

from service.domain.labels.quantities import Per, Quantity, number, per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.vocabulary import BODY_WEIGHT, BOUNDS, PROVIDING
from service.reference.records import Unit

_NOT_A_SUBSTANCE = frozenset(("count", "energy", "energy_per_mass"))
# "Mangan(II)-sulfat, Monohydrat": the comma stands inside one name.
_HYDRATES = frozenset(
    "monohydrat monohydrate monohydrato dihydrat dihydrate trihydrat trihydrate tetrahydrat tetrahydrate pentahydrat "
    "pentahydrate heptahydrat heptahydrate anhydrous wasserfrei anhydre anhidro".split()
)
_DAILY_VALUES = frozenset("ar nrv vnr vrn rda dv ri cdr dri".split())
_PURE = frozenset("pure purity reinheit rein purete pur pureza puro".split())
# Quality grades of pharmacopoeias and trade; none of them is a name.
_GRADES = frozenset("usp bp ep fcc nf jp pure purified food feed pharmaceutical grade min max".split())
_JOINS = frozenset(("and", "und", "et", "y", "&", "+", "e", "en"))
# "Glucosamina e MSM" joins two names, "vitamin E" is one.
_LETTERS_THAT_JOIN = frozenset("e y".split())
_VITAMINS = frozenset("vitamin vitamina vitamine vit".split())
_MOST_WORDS_OF_A_PART = 6
# Real labels nest two deep; what lies deeper is words.
_DEEPEST = 4
MOST_ITEMS = 400
_LEADERS = frozenset(
    (".", ";", "\u2026", "_", ":", "-", "\u2013", "\u2014", "=", "\u00b7", "\u2022", "|", ",", "~", ">")
)


@dataclass(frozen=True, slots=True)
class Aside:
    """A bracket or clause beside an amount: ``content``, ``equivalent``, ``source``, ``restated`` or ``words``."""

    kind: str
    start: int
    end: int
    items: tuple[Item, ...] = ()
    quantity: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Item:
    """One name with what is printed beside it, as places of tokens; ``quantity`` is ``None`` for a bare name."""

    start: int
    end: int
    name: tuple[int, int]
    quantity: Quantity | None
    per: Per | None = None
    asides: tuple[Aside, ...] = ()
    second: Quantity | None = None
    purity: Quantity | None = None
    more: tuple[Quantity, ...] = ()
    columns: tuple[Quantity, ...] = ()
    marks: tuple[str, ...] = ()


@dataclass(slots=True)
class _Draft:
    """An item while it is read."""

    start: int
    name: tuple[int, int] = (0, 0)
    quantity: Quantity | None = None
    per: Per | None = None
    asides: list[Aside] = field(default_factory=list)
    second: Quantity | None = None
    purity: Quantity | None = None
    more: list[Quantity] = field(default_factory=list)
    columns: list[Quantity] = field(default_factory=list)
    marks: list[str] = field(default_factory=list)


def is_substance_amount(found: Quantity | None) -> bool:
    """Say whether an amount can be that of a substance: no tablets, no calories.

    Parameters
    ----------
    found
        What :func:`service.domain.labels.quantities.quantity` gave.

    Returns
    -------
    bool
        A bare number is none.
    """
    return found is not None and found.unit is not None and found.unit.dimension not in _NOT_A_SUBSTANCE


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
    reader = _ItemReader(sheet, end, inherited, depth)
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
        item, after = reader.item(at)
        found.append(item)
        at = max(after, at + 1)
    return tuple(found)


def _skip_separators(sheet: Sheet, at: int, end: int) -> int:
    tokens = sheet.tokens
    while at < end and (tokens[at].kind == "newline" or tokens[at].text in _LEADERS or tokens[at].fold in _JOINS):
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


@dataclass(frozen=True, slots=True)
class _ItemReader:
    sheet: Sheet
    end: int
    inherited: Unit | None
    depth: int

    def item(self, at: int) -> tuple[Item, int]:
        """Read one item, name first or amount first."""
        begin = at
        while at < self.end and self.sheet.tokens[at].kind == "mark":
            at += 1
        item, after = self._item(at)
        marks = tuple(token.text for token in self.sheet.tokens[begin:at])
        return (replace(item, start=begin, marks=(*marks, *item.marks)) if marks else item), after

    def _item(self, at: int) -> tuple[Item, int]:
        first = quantity(self.sheet, at, self.end, self.inherited)
        bare = first is not None and first.unit is None and self.depth > 0 and self._name_follows(first.end)
        if first is not None and (is_substance_amount(first) or first.refused or bare):
            return self._amount_first(at, first)
        return self._name_first(at)

    def _amount_first(self, at: int, first: Quantity) -> tuple[Item, int]:
        """Read ``500 mg (of) glucosamine``; also an amount alone in its line."""
        draft = _Draft(at, quantity=first)
        place = self._tail(draft, first.end)
        if place < self.end and self.sheet.tokens[place].fold in ("of", "de", "di", "von", "d'"):
            place += 1
        name_end = self._name_end(place, draft)
        draft.name = (place, name_end)
        return self._closed(draft, self._tail(draft, name_end))

    def _name_first(self, at: int) -> tuple[Item, int]:
        draft = _Draft(at)
        name_end = self._name_end(at, draft)
        draft.name = (self._after_prefix(at, name_end), name_end)
        draft.asides = [aside for aside in draft.asides if aside.start >= draft.name[0]]
        place = _skip_leaders(self.sheet, name_end, self.end)
        # Behind a comma that ends the item an amount belongs to the next one: "decaffeinated, <1 % caffeine".
        ended = name_end < self.end and self.sheet.tokens[name_end].text in (",", ";") and self._separates(name_end)
        found = None if ended else quantity(self.sheet, place, self.end, self.inherited)
        if found is None:
            self._take_bracketed(draft)
            return self._closed(draft, self._tail(draft, name_end))
        minus = place > at and self.sheet.tokens[place - 1].text == "-" and self.sheet.tokens[place].glued
        draft.quantity = replace(found, flags=(*found.flags, "dash_before_number")) if minus else found
        place = self._tail(draft, self._more(draft, found.end))
        if self._is_share(found):
            place = self._amount_after_share(draft, found, place)
        return self._closed(draft, place)

    def _more(self, draft: _Draft, at: int) -> int:
        """Read the other amounts of ``500/400 mg``, one for each name between slashes."""
        tokens = self.sheet.tokens
        while at < self.end and tokens[at].text == "/" and per(self.sheet, at, self.end) is None:
            following = quantity(self.sheet, at + 1, self.end)
            if following is None:
                break
            draft.more.append(following)
            at = following.end
        return at

    def _take_bracketed(self, draft: _Draft) -> None:
        """``Super blend (1.2 g)``, ``MSM (200 mg)``: the only amount stands in the bracket that ends the name."""
        last = draft.asides[-1] if draft.asides else None
        if last is None or last.kind != "restated" or last.end != draft.name[1] or last.quantity is None or last.items:
            return
        if is_substance_amount(last.quantity):
            draft.quantity, draft.name = last.quantity, (draft.name[0], last.start)
            draft.asides.pop()

    def _after_prefix(self, at: int, end: int) -> int:
        """``Natürlicher Gehalt: glucosamine 500 mg``: what stands before a colon is no part of a name."""
        tokens, start = self.sheet.tokens, at
        colons = [
            place for place in range(at, end - 1) if tokens[place].text == ":" and tokens[place + 1].kind == "word"
        ]
        for place in colons:
            if not any(opened <= place < closed for opened, closed in self._brackets(at, end)):
                start = place + 1
        return start

    def _brackets(self, at: int, end: int) -> list[tuple[int, int]]:
        return [(place, self.sheet.closing[place]) for place in range(at, end) if place in self.sheet.closing]

    @staticmethod
    def _is_share(found: Quantity | None) -> bool:
        return found is not None and found.unit is not None and found.unit.dimension == "fraction"

    def _amount_after_share(self, draft: _Draft, share: Quantity, place: int) -> int:
        """``Boswellia extract 65 % boswellic acids 200 mg``, ``chondroitin 90 % 500 mg``: the mass is the amount."""
        told = self._mass_after_share(share, place)
        if told is None:
            return place
        name_end, mass = told
        draft.quantity = mass
        if name_end > place:
            part = Item(share.start, name_end, (place, name_end), share)
            draft.asides.append(Aside("content", share.start, name_end, (part,)))
        else:
            draft.purity = share
        return self._tail(draft, mass.end)

    def _mass_after_share(self, share: Quantity, place: int) -> tuple[int, Quantity] | None:
        """Find the mass behind a share and the words that it is a share of, with or without a comma between."""
        name_end = self._words_end(place)
        at = name_end + 1 if name_end < self.end and self.sheet.tokens[name_end].text in (",", ":") else name_end
        mass = quantity(self.sheet, at, self.end)
        if mass is None or mass.unit is None or mass.unit.dimension != "mass" or share.bound is not None:
            return None
        return name_end, mass

    def _words_end(self, at: int) -> int:
        end = at
        while end < self.end and end - at < _MOST_WORDS_OF_A_PART and self.sheet.tokens[end].kind == "word":
            end += 1
        return end

    def _closed(self, draft: _Draft, end: int) -> tuple[Item, int]:
        item = Item(
            draft.start, end, draft.name, draft.quantity, draft.per, tuple(draft.asides), draft.second,
            draft.purity, tuple(draft.more), tuple(draft.columns), tuple(draft.marks),
        )  # fmt: skip
        return item, end

    def _name_end(self, at: int, draft: _Draft) -> int:
        """Find where a name ends: at an amount, at a comma that no amount follows, at a clause."""
        tokens, place = self.sheet.tokens, at
        while place < self.end:
            token = tokens[place]
            inside = self.sheet.inside(place)
            if inside is not None and inside[1] < self.end:
                if place > at:
                    self._bracket(draft, place, inside)
                place = inside[1] + 1
                continue
            if token.kind == "mark":
                draft.marks.append(token.text)
            if (
                token.text == ":"
                and draft.asides
                and draft.asides[-1].end == place
                and draft.asides[-1].kind == "restated"
            ):
                # "Super blend (1.2 g): MSM, ...": the total stands in the bracket, the members follow.
                return place
            if self._separates(place) or self._amount_begins(place) or (place > at and self._clause(place)):
                return place
            if draft.quantity is not None and place > at and per(self.sheet, place, self.end) is not None:
                # "2 mg copper per chew": what the amount is for is no part of the name.
                return place
            place += 1
        return place

    def _separates(self, at: int) -> bool:
        """Say whether a comma, a semicolon or an "and" ends the item here."""
        token = self.sheet.tokens[at]
        if token.text == ";":
            return True
        if token.text == "/" and self.depth > 0:
            # "(180 EPA/120 DHA)"
            return number(self.sheet, at + 1, self.end) is not None
        if token.text == ",":
            hydrate = at + 1 < self.end and self.sheet.tokens[at + 1].fold in _HYDRATES
            return not (hydrate or self._is_decimal(at) or self._amount_after(at + 1))
        if token.fold in _LETTERS_THAT_JOIN and (token.text.isupper() or self.sheet.tokens[at - 1].fold in _VITAMINS):
            return False
        return token.fold in _JOINS and self._substance_at(at + 1)

    def _is_decimal(self, at: int) -> bool:
        """``Yucca ,25 g``: a comma with a blank before it and none behind it begins a number."""
        tokens = self.sheet.tokens
        return not tokens[at].glued and at + 1 < self.end and tokens[at + 1].kind == "number" and tokens[at + 1].glued

    def _amount_begins(self, at: int) -> bool:
        token = self.sheet.tokens[at]
        if not (token.kind in ("number", "sign") or token.fold in _BOUND_FIRST or _may_be_number(token.text)):
            return False
        return quantity(self.sheet, at, self.end, self.inherited) is not None

    def _substance_at(self, at: int) -> bool:
        """``400 mg chondroitin and 250 mg MSM``: behind the "and" an amount of the next substance begins."""
        return is_substance_amount(quantity(self.sheet, at, self.end))

    def _amount_after(self, at: int) -> bool:
        """``Glucosamine HCl, 500 mg``, ``moisture, max. 8 %``, ``MSM, USP 1 g``: the comma stands inside one item."""
        while at < self.end and self.sheet.tokens[at].fold in _GRADES:
            at += 1
        found = quantity(self.sheet, at, self.end, self.inherited)
        if found is None or found.unit is None:
            return False
        if self._is_share(found) and self._name_follows(found.end):
            # "extract, 2.5 % harpagosides, 40 mg": share and mass both belong to the extract.
            told = self._mass_after_share(found, found.end)
            return told is not None and not self._name_follows(told[1].end)
        return not self._name_follows(found.end)

    def _name_follows(self, at: int) -> bool:
        tokens = self.sheet.tokens
        return (
            at < self.end
            and tokens[at].kind == "word"
            and per(self.sheet, at, self.end) is None
            and not self._clause(at)
        )

    def _clause(self, at: int) -> bool:
        hit = PROVIDING.find(self.sheet.tokens, at, self.end)
        if hit is None or hit.meaning == "source":
            return False
        return _number_within(self.sheet, hit.end, self.end, 8)

    def _bracket(self, draft: _Draft, at: int, inside: tuple[int, int]) -> None:
        """Take in a bracket behind a name or an amount."""
        aside = self._aside(at, inside)
        if aside.kind == "content" and self._tells_purity(aside):
            share = next(item.quantity for item in aside.items if self._is_share(item.quantity))
            draft.purity, aside = share, replace(aside, kind="words", items=())
        if aside.kind == "restated" and self._is_share(aside.quantity) and draft.quantity is None:
            # "Chondroitin sulfate (90 %) 400 mg"
            draft.purity, aside = aside.quantity, replace(aside, kind="words", items=(), quantity=None)
        if aside.kind == "content" and self._tells_daily_value(aside):
            draft.second, aside = aside.items[0].quantity, replace(aside, kind="words", items=())
        if aside.kind == "per":
            draft.per = per(self.sheet, at, self.end)
        draft.asides.append(aside)

    def _tells_daily_value(self, aside: Aside) -> bool:
        """``(100 % NRV*)`` is a share of a daily value, no part of the amount."""
        first = aside.items[0]
        names = [token.fold for token in self.sheet.tokens[slice(*first.name)] if token.kind == "word"]
        return len(aside.items) == 1 and len(names) == 1 and names[0] in _DAILY_VALUES

    def _tells_purity(self, aside: Aside) -> bool:
        """``(90 % purity, bovine)``, ``(methylsulfonylmethane, 99.9 % pure)``: a share of the material."""
        for item in aside.items:
            if self._is_share(item.quantity):
                words = {token.fold for token in self.sheet.tokens[item.start : item.end + 1] if token.kind == "word"}
                following = self.sheet.tokens[item.end : min(item.end + 2, self.end)]
                return bool(_PURE & (words | {token.fold for token in following}))
        return False

    def _tail(self, draft: _Draft, at: int) -> int:
        """Read what may stand behind an amount, in any order: what it is for, brackets, marks, clauses, per cents."""
        tokens = self.sheet.tokens
        place = at
        while place < self.end:
            token = tokens[place]
            if token.kind == "mark":
                draft.marks.append(token.text)
                place += 1
                continue
            if (after := self._per_body_weight(draft, place)) is not None:
                place = after
                continue
            if (found := per(self.sheet, place, self.end)) is not None and draft.quantity is not None:
                draft.per = found if draft.per is None or draft.per.unit is None else draft.per
                place = found.end
                continue
            inside = self.sheet.inside(place)
            second_bound = self._bound_and_amount(place, inside)
            if inside is not None and inside[1] < self.end and not second_bound:
                self._bracket(draft, place, inside)
                place = inside[1] + 1
                continue
            after = self._daily_value(draft, place) or self._spelt_clause(draft, place)
            if after is None:
                break
            place = after
        return place

    def _bound_and_amount(self, at: int, inside: tuple[int, int] | None) -> bool:
        """``(min) 2.0 % (max) 2.5 %``: the second bracket bounds the amount behind it."""
        if inside is None or inside[1] + 1 >= self.end:
            return False
        hit = BOUNDS.find(self.sheet.tokens, *inside)
        return hit is not None and hit.end == inside[1] and quantity(self.sheet, inside[1] + 1, self.end) is not None

    def _per_body_weight(self, draft: _Draft, at: int) -> int | None:
        """``20 mg/kg body weight``: no share of the product, but an amount for each kilogram of the animal."""
        found = draft.quantity
        if (
            found is None
            or found.unit is None
            or found.unit.dimension != "mass_per_mass"
            or not found.unit.unit.endswith("-per-kilogram")
        ):
            return None
        weight = BODY_WEIGHT.find(self.sheet.tokens, at, self.end)
        mass = self.sheet.units.find(self.sheet.tokens, found.number.end, found.number.end + 1)
        if weight is None or mass is None:
            return None
        draft.quantity = replace(found, unit=mass.meaning)
        draft.per = Per(found.number.end, weight.end, "body_weight", Decimal(1), self.sheet.reference.units["kg"])
        return weight.end

    def _daily_value(self, draft: _Draft, at: int) -> int | None:
        """``150 mg 25 %``: a share of a daily value behind an amount, unless a name follows it."""
        whole = draft.quantity
        if whole is None or whole.unit is None:
            return None
        place = _skip_leaders(self.sheet, at, self.end)
        place += place < self.end and self.sheet.tokens[place].text == "\u00b1"
        found = quantity(self.sheet, place, self.end)
        if found is None or found.unit is None:
            return None
        if (merged := self._both_bounds(self._with_told_bound(draft, whole), found)) is not None:
            draft.quantity = merged
            return found.end
        another = found.unit.dimension == whole.unit.dimension or "unit_inherited" in whole.flags
        if another and not self._name_follows(found.end) and place == at:
            # A second column, for another number of units: the first one counts.
            draft.columns.append(found)
            return found.end
        if found.unit.dimension not in ("fraction", "reference_share") or found.bound is not None:
            return None
        if found.unit.dimension == "fraction" and self._name_follows(found.end):
            return self._constituent_share(draft, found)
        draft.second = found
        return found.end

    def _with_told_bound(self, draft: _Draft, whole: Quantity) -> Quantity:
        """Give an amount the bound that stands in a bracket behind its name: ``calcium (min) 2.0 %``."""
        for aside in draft.asides:
            hit = BOUNDS.find(self.sheet.tokens, aside.start + 1, aside.end - 1) if aside.kind == "bound" else None
            if hit is not None and hit.meaning != "about" and whole.bound is None:
                return replace(whole, bound=hit.meaning)
        return whole

    @staticmethod
    def _both_bounds(first: Quantity, second: Quantity) -> Quantity | None:
        """``not less than 0.8 %, not more than 1.3 %``: one amount between two bounds."""
        if first.unit is None or second.unit is None or {first.bound, second.bound} != {"min", "max"}:
            return None
        low, high = (first, second) if first.bound == "min" else (second, first)
        if first.unit.unit != second.unit.unit or low.number.low > high.number.high:
            return None
        whole = replace(first.number, end=first.number.end, low=low.number.low, high=high.number.high)
        return replace(first, number=whole, bound=None, flags=(*first.flags, "range", "min_and_max"))

    def _constituent_share(self, draft: _Draft, found: Quantity) -> int | None:
        """``Boswellia extract 200 mg 65 % boswellic acids``: the share names a part of the amount before it."""
        whole, end = draft.quantity, self._words_end(found.end)
        if whole is None or whole.unit is None or whole.unit.dimension != "mass" or quantity(self.sheet, end, self.end):
            return None
        part = Item(found.start, end, (found.end, end), found)
        draft.asides.append(Aside("content", found.start, end, (part,)))
        return end

    def _spelt_clause(self, draft: _Draft, at: int) -> int | None:
        """Read ``providing EPA 180 mg and DHA 120 mg``, ``standardised to 65 % boswellic acids``, ``= 18 mg Zn``."""
        place = at
        if place < self.end and self.sheet.tokens[place].text == ",":
            place += 1
        hit = PROVIDING.find(self.sheet.tokens, place, self.end)
        if hit is None or self.depth >= _DEEPEST or (hit.meaning == "source" and draft.quantity is None):
            return None
        if hit.meaning != "source" and not _number_within(self.sheet, hit.end, self.end, 8):
            return None
        if hit.meaning == "source" and (place != at or draft.name[0] >= draft.name[1]):
            return None
        if hit.meaning == "content":
            items = read_items(self.sheet, hit.end, self.end, None, self.depth + 1)
            last = items[-1] if items else None
            if draft.quantity is None and last is not None and last.name[0] >= last.name[1] and len(items) > 1:
                # "Yucca extract std. to 10 % saponins 5 mg": the last amount is the extract's own.
                draft.quantity, draft.per, items = last.quantity, last.per, items[:-1]
            if draft.quantity is not None:
                items = self._parts_only(draft, items)
            end = items[-1].end if items else self.end
            draft.asides.append(Aside("content", place, end, items))
            return end
        stop = self._clause_end(hit.end)
        draft.asides.append(self._told(hit.meaning, place, hit.end, stop))
        return stop

    def _parts_only(self, draft: _Draft, items: tuple[Item, ...]) -> tuple[Item, ...]:
        """Cut a clause off where another substance begins: ``400 mg, of which 332 mg glucosamine, MSM 50 mg``."""
        own = {self.sheet.exact(self.sheet.text(*draft.name)).ingredient}
        own |= {self.sheet.exact(self.sheet.text(*item.name)).ingredient for item in items[:1]}
        for at, item in enumerate(items[1:], 1):
            ingredient = self.sheet.exact(self.sheet.text(*item.name)).ingredient
            if ingredient is not None and ingredient not in own:
                return items[:at]
        return items

    def _clause_end(self, at: int) -> int:
        tokens = self.sheet.tokens
        return next((place for place in range(at, self.end) if tokens[place].text == ","), self.end)

    def _told(self, kind: str, start: int, at: int, stop: int) -> Aside:
        amount = next(
            (
                found
                for place in range(at, min(stop, at + 12))
                if is_substance_amount(found := quantity(self.sheet, place, stop))
            ),
            None,
        )
        return Aside(kind, start, stop, (), amount)

    def _aside(self, at: int, inside: tuple[int, int]) -> Aside:
        """Say what a bracket is by how it begins, and whether it holds amounts."""
        sheet, (first, stop) = self.sheet, inside
        if per(sheet, first, stop) is not None and (found := per(sheet, first, stop)) and found.end == stop:
            return Aside("per", at, stop + 1)
        bound = BOUNDS.find(sheet.tokens, first, stop)
        if bound is not None and bound.end == stop:
            return Aside("bound", at, stop + 1)
        hit = PROVIDING.find(sheet.tokens, first, stop)
        if hit is not None and hit.meaning in ("equivalent", "source"):
            told = self._told(hit.meaning, at, hit.end, stop)
            restates = hit.meaning == "equivalent" and told.quantity is not None
            restates = (
                restates and told.quantity is not None and (told.quantity.start, told.quantity.end) == (hit.end, stop)
            )
            return Aside("restated" if restates else told.kind, at, stop + 1, (), told.quantity)
        alone = quantity(sheet, first, stop)
        if alone is not None and alone.end == stop and alone.unit is not None:
            return Aside("restated", at, stop + 1, (), alone)
        if self.depth < _DEEPEST and _number_within(sheet, first, stop, stop - first):
            begin = hit.end if hit is not None and hit.meaning == "content" else first
            items = read_items(sheet, begin, stop, None, self.depth + 1)
            amounts = (self._equivalent(place, stop) for place in range(first, stop))
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

    def _equivalent(self, at: int, stop: int) -> Quantity | None:
        hit = PROVIDING.find(self.sheet.tokens, at, stop)
        if hit is None or hit.meaning != "equivalent":
            return None
        found = quantity(self.sheet, hit.end, stop)
        return found if is_substance_amount(found) else None


_BOUND_FIRST = frozenset(
    "min max minimum maximum not less no nlt nmt at up mindestens mind hochstens bis about approx ca circa etwa "
    "environ over "
    "au al jusqu'a hasta minimo maximo moins menos weniger nicht como env aprox average typ unos rund minimal maximal "
    "plus pas almeno massimo fino meno minder minstens below".split()
)


def _may_be_number(text: str) -> bool:
    return text[0] in "OoIl" and any(char.isdigit() for char in text)


def _number_within(sheet: Sheet, at: int, end: int, most: int) -> bool:
    """Say whether a number that belongs to no name stands among the next tokens."""
    return any(number(sheet, place, end) is not None for place in range(at, min(end, at + most)))


def _skip_leaders(sheet: Sheet, at: int, end: int) -> int:
    while at < end and sheet.tokens[at].text in _LEADERS and quantity(sheet, at, end) is None:
        at += 1
    return at


def with_inherited(item: Item, unit: Unit) -> Item:
    """Give an item the unit that its bracket inherits.

    Parameters
    ----------
    item
        An item whose number has no unit.
    unit
        Unit of the amount that the bracket belongs to.

    Returns
    -------
    Item
        Flagged ``unit_inherited``; unchanged where it has a unit or no number.
    """
    found = item.quantity
    if found is None or found.unit is not None:
        return item
    return replace(item, quantity=replace(found, unit=unit, flags=(*found.flags, "unit_inherited")))
