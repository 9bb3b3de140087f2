"""Recognisers of ingredient lists, allergen lines and what is said to be absent."""

from __future__ import annotations

from service.domain.label_text import words
from service.domain.labels.allergen_words import (
    ALLERGEN_WORDS,
    AROUND_TRACES,
    CONTAINS,
    DENIES,
    MAY_CONTAIN,
    NO_ALLERGEN,
)
from service.domain.labels.findings import Allergen, Findings, Line, ListedText
from service.domain.labels.heading_words import ALLERGEN_HEADINGS
from service.domain.labels.item_shapes import Item, is_substance_amount
from service.domain.labels.phrases import PhraseHit, Phrases
from service.domain.labels.plain_text import plain_text
from service.domain.labels.quantities import quantity
from service.domain.labels.sheet import Sheet, Span
from service.domain.labels.tokens import tokenise
from service.domain.list_splitting import split_list

# Allergens that labelling law names (United States and European Union; source chem-s48 and, for the rest, from memory).
_HEADINGS = Phrases(dict.fromkeys(ALLERGEN_HEADINGS, True))
_NOT_OF_FISH = frozenset(
    """algal algae alga algas microalgae mikroalgen algen algenol algue algues microalgue schizochytrium flax flaxseed
    linseed leinsamen leinol lin lino linaza chia hemp perilla vegan plant plants pflanzlich vegetal vegetale""".split()
)
# Group of an ingredient to the allergen it brings; a glucosamine may as well come from a fungus, so it brings none.
_OF_INGREDIENT = {
    "green-lipped-mussel": "mollusc shellfish",
    "krill-oil": "crustacean shellfish",
    "shellfish-chitin": "shellfish",
}
_OF_GROUP = {"mollusc-source": "mollusc shellfish", "fish-source": "fish"}


def allergen_line(found: Findings, line: Line) -> bool:
    """Recognise ``Contains: fish (anchovy)``, ``Allergens: shellfish``, ``May contain traces of soy``.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line is one.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    head = _HEADINGS.find(tokens, line.start, line.end)
    begin = head.end + 1 if head and head.end < line.end else line.start
    may = MAY_CONTAIN.find(tokens, begin, line.end) or _may_in_two_words(sheet, begin, line.end)
    contains = CONTAINS.find(tokens, line.start, line.end)
    if head is None and may is None and contains is None:
        return False
    begin = may.end if may else head.end if head else contains.end if contains else line.start
    end = line.end
    if may:
        begin, end = _what_leaves_traces(sheet, begin, end)
    stated = _words(sheet, begin, end)
    if not stated and may is None and head is None:
        return False
    if head is None and may is None and not _only_allergens(sheet, begin, end):
        return False
    for allergen, start, end in stated:
        found.allergens.append(
            Allergen(allergen, sheet.text(start, end), True, may is not None, sheet.span(start, end))
        )
    for item in split_list(sheet.text(begin, end)):
        found.listed.append(
            ListedText(
                f"may contain {item.text}" if may else item.text.strip(" :."),
                item.carried_negation,
                sheet.span(line.start, line.end),
            )
        )
    found.state("allergens", line.start, line.end)
    return True


def _what_leaves_traces(sheet: Sheet, start: int, end: int) -> tuple[int, int]:
    """Leave out the words around the names: ``that also processes peanuts``, ``der Milch verarbeitet``."""
    tokens = sheet.tokens
    while start < end and (tokens[start].fold in AROUND_TRACES or tokens[start].kind != "word"):
        start += 1
    while end > start and (tokens[end - 1].fold in AROUND_TRACES or tokens[end - 1].kind == "sign"):
        end -= 1
    return start, end


def _may_in_two_words(sheet: Sheet, start: int, end: int) -> PhraseHit[bool] | None:
    """``Kann Soja enthalten``, ``Kann Spuren von Milch enthalten``: the verb stands at the end."""
    tokens = sheet.tokens
    if start + 1 < end and tokens[start].fold == "kann" and any(one.fold == "enthalten" for one in tokens[start:end]):
        return PhraseHit(True, start + 1)
    return None


def stated_facility(found: Findings, line: Line) -> bool:
    """Recognise ``Made in a facility that also processes peanuts`` before its first words are taken for an address.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line speaks of traces.
    """
    sheet = found.sheet
    told = MAY_CONTAIN.find(sheet.tokens, line.start, line.end) or _may_in_two_words(sheet, line.start, line.end)
    return told is not None and allergen_line(found, line)


def _words(sheet: Sheet, start: int, end: int) -> list[tuple[str, int, int]]:
    found, at = [], start
    while at < end:
        hit = ALLERGEN_WORDS.find(sheet.tokens, at, end)
        # "non-shellfish" denies over the hyphen.
        denied = at > start and any(
            DENIES.find(sheet.tokens, place, end)
            for place in (at - 1, at - 2 if sheet.tokens[at - 1].text == "-" else at)
        )
        if hit is None or hit.meaning == NO_ALLERGEN or denied:
            at += 1
            continue
        found.append((hit.meaning, at, hit.end))
        at = hit.end
    return found


def _only_allergens(sheet: Sheet, start: int, end: int) -> bool:
    """``Contains: fish, soy`` is an allergen line; ``contains fish oil 500 mg and MSM`` is not."""
    tokens, at = sheet.tokens, start
    while at < end:
        hit = ALLERGEN_WORDS.find(tokens, at, end)
        if hit is not None:
            at = hit.end
        elif tokens[at].kind == "number":
            return False
        elif tokens[at].kind == "word" and tokens[at].fold not in (
            "and",
            "or",
            "und",
            "et",
            "y",
            "ingredients",
            "products",
            "derived",
            "from",
            "derivatives",
            "protein",
            "traces",
            "of",
        ):
            return False
        else:
            at += 1
    return True


def ingredient_list(found: Findings, start: int, end: int, *, one_sentence: bool = False) -> None:
    """Keep a list of ingredients, item by item.

    Parameters
    ----------
    found
        Filled with the items.
    start, end
        The list without its heading.
    one_sentence
        Whether semicolons part items of one sentence: "does not contain: xylitol; garlic".
    """
    if start >= end:
        return
    short = end - start <= _LONGEST_WITH_AMOUNTS
    if short and any(is_substance_amount(quantity(found.sheet, at, end)) for at in range(start, end)):
        # A printed amount that no fact took: whoever reads the label must look at it.
        found.flags.append("amount_in_list")
    place = found.sheet.tokens[start].start
    text = found.sheet.text(start, end)
    for item in split_list(text.replace(";", ",") if one_sentence else text):
        span, place = _span_of(found.sheet, item.text, place, end)
        found.listed.append(ListedText(item.text, item.carried_negation, span))
    found.cover(start, end)


def bare_name(found: Findings, item: Item) -> None:
    """Keep a name without an amount among names with amounts as an ingredient whose amount is not stated.

    Parameters
    ----------
    found
        Filled with the ingredient.
    item
        The name.
    """
    ingredient_list(found, *item.name)
    found.cover(item.start, item.end)


def _span_of(sheet: Sheet, item: str, place: int, end: int) -> tuple[Span, int]:
    """Find where an item stands, from where the last one ended; blanks may have been made fewer."""
    last = sheet.tokens[end - 1].end
    first, _, rest = item.partition(" ")
    at = sheet.plain.text.find(first, place, last)
    if at < 0:
        return Span(sheet.plain.starts[place], sheet.plain.ends[last - 1]), place
    stop = at + len(first)
    for word in rest.split():
        following = sheet.plain.text.find(word, stop, min(last, stop + 80 + len(word)))
        stop = following + len(word) if following >= 0 else stop
    return Span(sheet.plain.starts[at], sheet.plain.ends[stop - 1]), stop


def allergen_of(ingredient: str | None, groups: tuple[str, ...]) -> str | None:
    """Give the allergen that an ingredient brings.

    Parameters
    ----------
    ingredient
        Its id.
    groups
        Ids of its groups.

    Returns
    -------
    str or None
        ``None`` where none is recorded, which does not mean that there is none.
    """
    if ingredient in _OF_INGREDIENT:
        return _OF_INGREDIENT[ingredient]
    return next((_OF_GROUP[group] for group in groups if group in _OF_GROUP), None)


def names_no_fish(text: str) -> bool:
    """Say whether a name of fatty acids tells that they come from algae or seeds.

    Parameters
    ----------
    text
        As printed.

    Returns
    -------
    bool
        ``True`` for ``DHA (from algal oil)``.
    """
    return not _NOT_OF_FISH.isdisjoint(words(text))


def allergens_named(text: str) -> tuple[str, ...]:
    """Find allergens in the name of an ingredient: ``soy lecithin``, ``whey protein``, ``wheat germ``.

    Parameters
    ----------
    text
        One item of a list that denies nothing.

    Returns
    -------
    tuple of str
        Those of labelling law; meats are not among them.
    """
    tokens = tokenise(plain_text(text))
    found, at = [], 0
    while at < len(tokens):
        hit = ALLERGEN_WORDS.find(tokens, at, len(tokens))
        if hit is not None and hit.meaning in _OF_LAW:
            found.append(hit.meaning)
        at = hit.end if hit is not None else at + 1
    return tuple(dict.fromkeys(found))


_OF_LAW = frozenset(
    (
        *("crustacean shellfish", "mollusc shellfish", "shellfish", "fish", "milk", "egg", "soy", "wheat", "gluten"),
        *("peanut", "tree nut", "sesame", "celery", "mustard", "lupin", "sulphites"),
    )
)
_LONGEST_WITH_AMOUNTS = 600
_WORDS_OF_A_NAME = 6
_MADE_FROM_CHITIN = frozenset("glucosamine glucosamin chitosan glucosamina".split())
_SOURCE_ALLERGENS = frozenset(
    ("crustacean shellfish", "mollusc shellfish", "shellfish", "fish", "egg", "milk", "soy", "wheat")
)


def allergens_told(found: Findings) -> list[Allergen]:
    """Find allergens that a bracket behind a name tells as its source: ``glucosamine HCl (shellfish)``.

    Parameters
    ----------
    found
        The label as read.

    Returns
    -------
    list of Allergen
        Each once. Shellfish that gives glucosamine is crustacean: its chitin is what the glucosamine is made from.
    """
    sheet, told = found.sheet, dict[str, Allergen]()
    denied = [one.span for one in found.statements if one.kind == "negation"]
    for opened, closed in sheet.closing.items():
        place = sheet.span(opened, opened + 1).start
        if not found.covered[opened] or any(span.start <= place < span.end for span in denied):
            continue
        before = {token.fold for token in sheet.tokens[max(0, opened - _WORDS_OF_A_NAME) : opened]}
        for allergen, start, end in _words(sheet, opened + 1, closed):
            if allergen in _SOURCE_ALLERGENS:
                chitin = allergen == "shellfish" and before & _MADE_FROM_CHITIN
                name = "crustacean shellfish" if chitin else allergen
                told.setdefault(name, Allergen(name, sheet.text(start, end), True, False, sheet.span(start, end)))
    return list(told.values())
