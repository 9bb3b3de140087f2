"""How far a denial reaches over the commas of a list: "no garlic, onion, chocolate", "ohne Mais, Xylit und Knoblauch".

A hazard must not vanish because an item before it denied something, so a list is only denied as a whole where nothing
in it speaks for a list of what the product holds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import groupby

from service.domain.denial_words import AND, CONTAINING, REOPENING
from service.domain.label_text import words
from service.domain.list_splitting import Item, split_list
from service.domain.name_index import NameIndex
from service.domain.negating import begins_with_denial, begins_with_free_from, rest_of_denial
from service.reference.records import Name

_FEWEST_HAZARDS = 3
_LONGEST = 8
_GOVERNING = frozenset("ohne zonder sans sin without senza".split())
_ADDED = re.compile(r"added|zusatz|zugesetzt|ajout|anadid|adicion|aggiunt|toegevoegd")
_AMOUNT_OR_BRACKET = re.compile(r"[0-9(\[{]")


def with_denied_lists(
    items: Sequence[Item], index: NameIndex, is_grave: Callable[[Name], bool], is_of_a_recipe: Callable[[Name], bool]
) -> tuple[Item, ...]:
    """Carry a denial on over the whole of a sentence that only lists what is not in it.

    Parameters
    ----------
    items
        The items of a list.
    index
        The known spellings.
    is_grave, is_of_a_recipe
        Say of a spelling whether it leads to a hazard that matters at once, and whether to what a product is made of.

    Returns
    -------
    tuple of Item
        A bare list of at least three hazards is denied as one: two names are too few to tell it from "no garlic, onion
        powder". A list that a word like "without" governs is denied where an "and" closes it.
    """
    found: list[Item] = []
    for _number, grouped in groupby(items, key=lambda item: item.sentence):
        sentence = list(grouped)
        texts = [item.text for item in sentence]
        listed = _only_hazards(texts, index, is_grave) or _is_governed(texts, index, is_of_a_recipe)
        found += [replace(item, carried_negation=True) for item in sentence] if listed else sentence
    return tuple(found)


def denied_over_commas(name: str, length: int, carry: Callable[[Sequence[Item]], Sequence[Item]]) -> frozenset[int]:
    """Find the words of one text that a denial before a comma reaches, as it does in an ingredient list.

    Parameters
    ----------
    name
        As printed.
    length
        How many words it has.
    carry
        What :func:`with_denied_lists` does.

    Returns
    -------
    frozenset of int
        Positions; none where the words of the parts are not those of the whole.
    """
    found: set[int] = set()
    at = 0
    for item in carry(split_list(name)):
        end = at + len(words(item.text))
        found.update(range(at, end) if item.carried_negation else ())
        at = end
    return frozenset(found) if at == length else frozenset()


def _only_hazards(texts: list[str], index: NameIndex, is_grave: Callable[[Name], bool]) -> bool:
    first = words(texts[0])
    if len(texts) < _FEWEST_HAZARDS or not begins_with_denial(first):
        return False
    named = [rest_of_denial(first), *map(words, texts[1:])]
    return all(any(is_grave(row) for row in index.rows_of(name)) for name in named)


def _is_governed(texts: list[str], index: NameIndex, is_of_a_recipe: Callable[[Name], bool]) -> bool:
    """Say whether "without" and the like open a list that an "and" closes and that names no ingredient of its own."""
    if not 1 < len(texts) <= _LONGEST or any(_AMOUNT_OR_BRACKET.search(text) for text in texts):
        return False
    said = [words(text) for text in texts]
    if not _governs(said[0]) or AND.isdisjoint(said[-1]) or any(_ADDED.search(word) for word in said[0]):
        return False
    if any(not REOPENING.isdisjoint(tokens) for tokens in said[1:]):
        return False
    return not any(is_of_a_recipe(hit.row) for tokens in said[1:] for hit in index.scan(tokens))


def _governs(tokens: tuple[str, ...]) -> bool:
    if tokens[:1] and tokens[0] in _GOVERNING:
        return True
    denies_holding = not CONTAINING.isdisjoint(tokens[:4]) and begins_with_denial(_from_denial(tokens))
    return denies_holding or begins_with_free_from(tokens)


def _from_denial(tokens: tuple[str, ...]) -> tuple[str, ...]:
    """Leave out what stands before the denial: "contains no", "bevat geen", "does not contain"."""
    return next((tokens[at:] for at in range(min(3, len(tokens))) if begins_with_denial(tokens[at:])), ())
