"""Recognisers of ingredient lists, allergen lines and what is said to be absent."""

from __future__ import annotations

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
from service.domain.labels.quantities import quantity
from service.domain.labels.sheet import Sheet, Span
from service.domain.list_splitting import split_list

# Allergens that labelling law names (United States and European Union; source chem-s48 and, for the rest, from memory).
_HEADINGS = Phrases(dict.fromkeys(ALLERGEN_HEADINGS, True))
_LONGEST_WITH_AMOUNTS = 600


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
    stated = allergen_words(sheet, begin, end)
    if not stated and may is None and head is None:
        return False
    if head is None and may is None and not _only_allergens(sheet, begin, end):
        return False
    for allergen, first, stop in stated:
        found.allergens.append(
            Allergen(allergen, sheet.text(first, stop), True, may is not None, sheet.span(first, stop))
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


def allergen_words(sheet: Sheet, start: int, end: int) -> list[tuple[str, int, int]]:
    """Find the allergens that a stretch of a label names and does not deny.

    Parameters
    ----------
    sheet
        The label.
    start, end
        First and past-the-end token.

    Returns
    -------
    list of tuple
        Allergen, first token, past-the-end token.
    """
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
