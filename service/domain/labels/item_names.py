"""Where a name among amounts ends: at an amount, at a comma that no amount follows, at a clause."""

from __future__ import annotations

from service.domain.labels.brackets import take_bracket
from service.domain.labels.item_shapes import Draft, Scope, is_share, is_substance_amount, number_within
from service.domain.labels.numerals import number
from service.domain.labels.quantities import Quantity, is_letter_for_digit, per, quantity
from service.domain.labels.vocabulary import PROVIDING

# "Mangan(II)-sulfat, Monohydrat": the comma stands inside one name.
_HYDRATES = frozenset(
    "monohydrat monohydrate monohydrato dihydrat dihydrate trihydrat trihydrate tetrahydrat tetrahydrate pentahydrat "
    "pentahydrate chelated chelate cheliert quelado quelato heptahydrat heptahydrate anhydrous wasserfrei "
    "anhydre anhidro".split()
)
# Quality grades of pharmacopoeias and trade; none of them is a name.
_GRADES = frozenset("usp bp ep fcc nf jp pure purified food feed pharmaceutical grade min max".split())
JOINS = frozenset(("and", "und", "et", "y", "&", "+", "e", "en"))
# "Glucosamina e MSM" joins two names, "vitamin E" is one.
_LETTERS_THAT_JOIN = frozenset("e y".split())
_VITAMINS = frozenset("vitamin vitamina vitamine vit".split())
_MOST_WORDS_OF_A_PART = 6
_BOUND_FIRST = frozenset(
    "min max minimum maximum not less no nlt nmt at up mindestens mind hochstens bis about approx ca circa etwa "
    "environ over "
    "au al jusqu'a hasta minimo maximo moins menos weniger nicht como env aprox average typ unos rund minimal maximal "
    "plus pas almeno massimo fino meno minder minstens below".split()
)


def end_of_name(scope: Scope, at: int, draft: Draft) -> int:
    """Find where a name ends: at an amount, at a comma that no amount follows, at a clause.

    Parameters
    ----------
    scope
        Where items are read.
    at
        Where the name begins.
    draft
        Filled with the brackets and footnote marks inside the name.

    Returns
    -------
    int
        The token behind the name.
    """
    tokens, place = scope.sheet.tokens, at
    while place < scope.end:
        token = tokens[place]
        inside = scope.sheet.inside(place)
        if inside is not None and inside[1] < scope.end:
            if place > at:
                take_bracket(scope, draft, place, inside)
            place = inside[1] + 1
            continue
        if token.kind == "mark":
            draft.marks.append(token.text)
        if token.text == ":" and draft.asides and draft.asides[-1].end == place and draft.asides[-1].kind == "restated":
            # "Super blend (1.2 g): MSM, ...": the total stands in the bracket, the members follow.
            return place
        if separates(scope, place) or _amount_begins(scope, place) or (place > at and _clause(scope, place)):
            return place
        if draft.quantity is not None and place > at and per(scope.sheet, place, scope.end) is not None:
            # "2 mg copper per chew": what the amount is for is no part of the name.
            return place
        place += 1
    return place


def separates(scope: Scope, at: int) -> bool:
    """Say whether a comma, a semicolon or an "and" ends the item here.

    Parameters
    ----------
    scope
        Where items are read.
    at
        The token.

    Returns
    -------
    bool
        ``False`` for a comma inside a name or before its amount.
    """
    token = scope.sheet.tokens[at]
    if token.text == ";":
        return True
    if token.text == "/" and scope.depth > 0:
        # "(180 EPA/120 DHA)"
        return number(scope.sheet, at + 1, scope.end) is not None
    if token.text == ",":
        hydrate = at + 1 < scope.end and scope.sheet.tokens[at + 1].fold in _HYDRATES
        return not (hydrate or _is_decimal(scope, at) or _amount_after(scope, at + 1))
    if token.fold in _LETTERS_THAT_JOIN and (
        token.text.isupper() or token.glued or scope.sheet.tokens[at - 1].fold in _VITAMINS
    ):
        return False
    return token.fold in JOINS and _substance_at(scope, at + 1)


def _is_decimal(scope: Scope, at: int) -> bool:
    """``Yucca ,25 g``: a comma with a blank before it and none behind it begins a number."""
    tokens = scope.sheet.tokens
    return not tokens[at].glued and at + 1 < scope.end and tokens[at + 1].kind == "number" and tokens[at + 1].glued


def _amount_begins(scope: Scope, at: int) -> bool:
    token = scope.sheet.tokens[at]
    if not (token.kind in ("number", "sign") or token.fold in _BOUND_FIRST or _may_be_number(token.text)):
        if not is_letter_for_digit(scope.sheet, at, scope.end):
            return False
    return quantity(scope.sheet, at, scope.end, scope.inherited) is not None


def _substance_at(scope: Scope, at: int) -> bool:
    """``400 mg chondroitin and 250 mg MSM``: behind the "and" an amount of the next substance begins."""
    return is_substance_amount(quantity(scope.sheet, at, scope.end))


def _amount_after(scope: Scope, at: int) -> bool:
    """``Glucosamine HCl, 500 mg``, ``moisture, max. 8 %``, ``MSM, USP 1 g``: the comma stands inside one item."""
    found = quantity(scope.sheet, at, scope.end, scope.inherited)
    while found is None and at < scope.end and scope.sheet.tokens[at].fold in _GRADES:
        at += 1
        found = quantity(scope.sheet, at, scope.end, scope.inherited)
    if found is None or found.unit is None:
        return False
    if is_share(found) and name_follows(scope, found.end):
        # "extract, 2.5 % harpagosides, 40 mg": share and mass both belong to the extract.
        told = mass_after_share(scope, found, found.end)
        return told is not None and not name_follows(scope, told[1].end)
    return not name_follows(scope, found.end)


def name_follows(scope: Scope, at: int) -> bool:
    """Say whether a name begins at a token: a word that says neither what an amount is for nor what something provides.

    Parameters
    ----------
    scope
        Where items are read.
    at
        The token.

    Returns
    -------
    bool
        ``False`` at the end of the line.
    """
    tokens = scope.sheet.tokens
    return (
        at < scope.end
        and tokens[at].kind == "word"
        and per(scope.sheet, at, scope.end) is None
        and not _clause(scope, at)
    )


def _clause(scope: Scope, at: int) -> bool:
    hit = PROVIDING.find(scope.sheet.tokens, at, scope.end)
    if hit is None or hit.meaning == "source":
        return False
    return number_within(scope.sheet, hit.end, scope.end, 8)


def end_of_words(scope: Scope, at: int) -> int:
    """Step over the next few words.

    Parameters
    ----------
    scope
        Where items are read.
    at
        The first of them.

    Returns
    -------
    int
        The first token that is no word.
    """
    end = at
    while end < scope.end and end - at < _MOST_WORDS_OF_A_PART and scope.sheet.tokens[end].kind == "word":
        end += 1
    return end


def mass_after_share(scope: Scope, share: Quantity, place: int) -> tuple[int, Quantity] | None:
    """Find the mass behind a share and the words that it is a share of, with or without a comma between.

    Parameters
    ----------
    scope
        Where items are read.
    share
        The share.
    place
        The token behind it.

    Returns
    -------
    tuple of int and Quantity, or None
        The token behind the words, and the mass.
    """
    name_end = end_of_words(scope, place)
    at = name_end + 1 if name_end < scope.end and scope.sheet.tokens[name_end].text in (",", ":") else name_end
    mass = quantity(scope.sheet, at, scope.end)
    if mass is None or mass.unit is None or mass.unit.dimension != "mass" or share.bound is not None:
        return None
    return name_end, mass


def after_prefix(scope: Scope, at: int, end: int) -> int:
    """``Natürlicher Gehalt: glucosamine 500 mg``: what stands before a colon is no part of a name.

    Parameters
    ----------
    scope
        Where items are read.
    at, end
        The tokens of the name.

    Returns
    -------
    int
        Where the name begins.
    """
    tokens, start, place = scope.sheet.tokens, at, at
    while place < end - 1:
        if place in scope.sheet.closing:
            place = scope.sheet.closing[place]
        elif tokens[place].text == ":" and tokens[place + 1].kind == "word":
            start = place + 1
        place += 1
    return start


def _may_be_number(text: str) -> bool:
    return text[0] in "OoIl" and any(char.isdigit() for char in text)
