"""Cutting an ingredient list into items, and how far a denial reaches over its commas."""

from __future__ import annotations

import re
from dataclasses import dataclass

from service.domain.additive_codes import bare_codes, ends_with_code, names_additive_class
from service.domain.denial_words import AND, DUTCH, DUTCH_OR, OR, REOPENING
from service.domain.label_text import clean, fold, words
from service.domain.negating import begins_with_denial, begins_with_free_from, only_denies, states_absence
from service.domain.trace_wording import only_warns_of_traces, traced_parts

# A full stop ends a sentence unless it shortens a word: "vit. D3", "Lactobacillus spp. Probiotics".
_SENTENCE_END = re.compile(
    r"\n+|;|\u2022|\||(?<![Vv]it)(?<![Mm]in)(?<![Mm]ax)(?<!approx)(?<!incl)(?<!spp)(?<!ssp)(?<!var)(?<!\bca)"
    r"(?<=[a-z)\]]{3})\.(?=\s+[A-Z]|\s*$)"
)
_LIST_LABEL = re.compile(
    r"^\s*(?:(?:other|active|inactive|non-?active)\s+)?(?:ingredients?|ingredientes|ingr\u00e9dients|zutaten|zusammensetzung|"
    r"composition|composici\u00f3n|ingredienti)\s*:\s*",
    re.IGNORECASE,
)
_HYPHENATED = re.compile(r"(?<=[^\W\d_])[-\u2010][ \t]*\r?\n[ \t]*(?=[^\W\d_])")
# "Sweeteners: 420" and "sweetener (420)": what follows after the comma may go on with numbers.
_CLASS_WITH_NUMBER = re.compile(r"\b[1-9][0-9]{2,3}[a-z]?\)?\s*$")
_DIGIT = re.compile(r"[0-9]")
_SOFT_HYPHENATED = re.compile(r"\u00ad[ \t]*\r?\n[ \t]*")


@dataclass(frozen=True, slots=True)
class Item:
    """One item of an ingredient list.

    ``carried_negation``: an earlier "free from" reaches it; ``carried_trace``: an earlier "may contain:" does.
    ``sentence`` numbers the sentences of the list.
    """

    text: str
    carried_negation: bool = False
    carried_trace: bool = False
    sentence: int = 0


def split_list(text: str) -> tuple[Item, ...]:
    """Cut an ingredient list into items; nothing is dropped but separators and the heading.

    Parameters
    ----------
    text
        For example ``cellulose, natural sweetener (birch sugar), magnesium stearate``.

    Returns
    -------
    tuple of Item
        In printed order. Bracketed lists are opened: ``vitamins (A, D3)`` gives the head and vitamin A and vitamin D3.
    """
    items: list[Item] = []
    for number, sentence in enumerate(_SENTENCE_END.split(_LIST_LABEL.sub("", _unbroken(text)))):
        parts = [part for part in _split_level(sentence) if part]
        tokens = [words(part) for part in parts]
        first, last = _denied(parts, tokens)
        listed = traced_parts(tokens)
        traced = next((at + 1 for at, part in enumerate(parts) if _warns_of_traces(part)), len(parts))
        for index, part in enumerate(_with_codes(parts)):
            denied, trace = first < index <= last, index >= traced or index in listed
            items.extend(Item(piece, denied, trace, number) for piece in _open_brackets(part))
    return tuple(items)


def _unbroken(text: str) -> str:
    """Put a word that was hyphenated at the end of a line on one line; whether the hyphen belongs to it stays open."""
    return _HYPHENATED.sub("-", _SOFT_HYPHENATED.sub("", text)) if "\n" in text else text


def _denied(parts: list[str], tokens: list[tuple[str, ...]]) -> tuple[int, int]:
    """Find the part that denies and the last one it reaches: in "contains no corn, soy or xylitol" the second.

    Without an "or" nothing is carried on: a hazard must not vanish because an item before it denied something.
    """
    first = next(
        (at for at, said in enumerate(tokens) if states_absence(said) or (not at and begins_with_denial(said))), None
    )
    if first is None:
        return 0, 0
    heading, colon, _rest = parts[first].partition(":")
    if colon and only_denies(words(heading)):
        return first, len(parts)
    # "..., with xylitol or sorbitol" begins a new statement: the "or" behind it denies nothing.
    new = [at for at in range(first + 1, len(parts)) if not REOPENING.isdisjoint(tokens[at][:1])]
    # A list that begins with "free from" and ends with "and" denies all of its members.
    closed = not AND.isdisjoint(tokens[-1])
    if first == 0 and begins_with_free_from(tokens[0]) and closed and len(parts) - 1 not in new:
        return 0, len(parts)
    reach = range(first + 1, new[0] if new else len(parts))
    joining = OR | {DUTCH_OR} if not DUTCH.isdisjoint(tokens[first]) else OR
    return first, next((at for at in reach if not joining.isdisjoint(tokens[at])), first)


def _warns_of_traces(part: str) -> bool:
    """Say whether a part opens with a warning and a colon: "May contain: nuts, xylitol" warns of both."""
    heading, colon, _rest = part.partition(":")
    return bool(colon) and only_warns_of_traces(words(heading))


def _with_codes(parts: list[str]) -> list[str]:
    """Write numbers behind a class of additives as codes: "sweeteners: 420, 967"."""
    written: list[str] = []
    behind_class = False
    for part in parts:
        folded = fold(clean(part)) if _DIGIT.search(part) else ""
        code = bare_codes(folded, behind_class)
        class_with_number = _CLASS_WITH_NUMBER.search(folded) is not None and names_additive_class(folded)
        behind_class = code is not None or class_with_number or ends_with_code(folded)
        # A number in brackets is read as a code wherever it stands alone.
        written.append(part if code is None or part.startswith("(") else code)
    return written


def _split_level(text: str) -> list[str]:
    """Split at commas outside brackets and outside numbers (``0,5 %`` stays whole)."""
    parts, start, depth = [], 0, 0
    for index, char in enumerate(text):
        if char in "([{":
            depth += 1
        elif char in ")]}":
            depth = max(0, depth - 1)
        elif char == "," and depth == 0 and not _inside_number(text, index) and not _shares_a_word(text, index):
            parts.append(text[start:index].strip())
            start = index + 1
    return [*parts, text[start:].strip()]


def _inside_number(text: str, index: int) -> bool:
    return 0 < index < len(text) - 1 and text[index - 1].isdigit() and text[index + 1].isdigit()


def _shares_a_word(text: str, index: int) -> bool:
    """Say whether a comma parts words that end alike: ``garlic-, onion- and soy-free``."""
    return index > 1 and text[index - 1] == "-" and text[index - 2].isalpha()


_VITAMINS = re.compile(r"\bvitamin(?:s|e|en|as|a|es)?$", re.IGNORECASE)
_VITAMIN_LETTER = re.compile(r"[A-EK](?: ?-?[0-9]{1,2})?")
# Real labels nest two deep ("minerals (zinc (as oxide), iron)"); deeper text stays one item.
_DEEPEST_BRACKET = 4


def _open_brackets(part: str, depth: int = 0) -> list[str]:
    if depth == _DEEPEST_BRACKET:
        return [part]
    match = re.fullmatch(r"([^()\[\]{}]+)[(\[{](.+)[)\]}]\s*", part, re.DOTALL)
    if match is None or len(members := _split_level(match[2])) < 2:
        return [part]
    if _VITAMINS.search(match[1].strip()):
        # "vitamins (A, D3, E)" names vitamin A, not the letter.
        members = [f"vitamin {member}" if _VITAMIN_LETTER.fullmatch(member) else member for member in members]
    elif names_additive_class(fold(match[1])):
        members = [bare_codes(fold(clean(member)), class_before=True) or member for member in members]
    return [match[1].strip(), *(piece for member in members if member for piece in _open_brackets(member, depth + 1))]
