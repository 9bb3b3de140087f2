"""Words and numbers as people read them."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from service.domain.rounding import significant
from service.reference.records import Source

# Between thousands, from five digits on: a comma would be read as a decimal mark by half of the readers.
_NARROW_BLANK = "\u202f"
_UNKNOWN = "\u2013"
# More digits than anyone measures on a kitchen scale or a tablet cutter; the answers for programs carry six.
_DIGITS_FOR_PEOPLE = 3
# Initials behind a surname, and remarks in brackets, are left out of a short name.
_INITIALS = re.compile(r"(?<=[a-z]) [A-Z]{1,4}(?=$|[,;])")
_REMARK = re.compile(r" ?\([^()]*\)")
_LONGEST_BRIEF = 48

EVIDENCE_WORDS = {
    "supported": "Evidence supports it",
    "mixed": "Evidence is mixed",
    "weak": "Evidence is weak",
    "against": "Evidence is against it",
    "untested": "Not tested",
}
EVIDENCE_MEANING = {
    "supported": "systematic reviews and several controlled trials agree on a benefit",
    "mixed": "controlled trials, or the measures within them, disagree",
    "weak": "only small, uncontrolled, indirect or combined trials speak for it",
    "against": "the better trials or reviews find no benefit",
    "untested": "no joint trial of it alone was seen",
}
VERDICT_WORDS = {
    "stop": "Stop",
    "ask_veterinarian": "Ask a veterinarian",
    "incomplete": "Incomplete",
    "nothing_found": "Nothing found",
}
ORIGIN_WORDS = {
    "read": "read",
    "cited": "quoted elsewhere",
    "common_practice": "common practice",
    "memory": "from memory",
}
ORIGIN_MEANING = {
    "read": "seen in the publication itself, often only its abstract or first page",
    "cited": "quoted by a publication that was seen",
    "common_practice": "a rule of the trade without a source, or a step of our own",
    "memory": "recalled, not checked",
}
# How an amount of the guidance came about, one sentence per rule of the dataset.
RULE_WORDS = {
    "trade-rule-per-kg": "A rule of the trade, scaled by body weight",
    "paired-ratio": "Given in trials only together with glucosamine, at a fixed ratio to it",
    "customary-per-kg": "Custom, in milligrams per kilogram",
    "trial-per-kg": "The amount of a trial, in milligrams per kilogram",
    "trial-per-kg-to-metabolic": "From the intake of a trial to the published daily maximum",
    "fixed-trial-amount": "The one amount that several trials share, at every weight",
    "fixed-trial-amount-by-food-share": "The fixed amount of a trial, taken at 30 kg",
    "published-bands": "The weight bands of one trial",
    "food-share-of-trial-diet": "The share that it had in the food of a trial",
}
BASIS_WORDS = {
    "per_kg": "scaled by body weight",
    "per_kg075": "scaled by body weight to the power 0.75, as food intake is",
}
LEVEL_WORDS = {
    "avoid": "Do not combine",
    "veterinarian": "Ask a veterinarian first",
    "watch": "Watch closely",
    "note": "Good to know",
}


def words(value: str | None) -> str:
    """Write a word of the data for people: ``signs_mild`` becomes ``signs mild``; nothing is a dash."""
    return value.replace("_", " ") if value else _UNKNOWN


def sentence_case(text: str) -> str:
    """Begin a text with a capital letter and leave the rest alone."""
    return f"{text[:1].upper()}{text[1:]}"


def number(value: Decimal | float | int | None) -> str:
    """Write a number with a decimal point and, from five digits on, narrow blanks between thousands."""
    if value is None:
        return _UNKNOWN
    exact = value if isinstance(value, Decimal) else Decimal(str(value))
    text = f"{exact.normalize():f}"
    whole, point, rest = text.partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}".replace(",", _NARROW_BLANK)
    return f"{whole}{point}{rest}"


def span(low: Decimal | float | None, high: Decimal | float | None, open_end: str = "or more") -> str:
    """Write a range: ``500 to 1000``, one number where both ends agree, ``60 or more`` where it is open."""
    if low is None:
        return f"up to {number(high)}" if high is not None else _UNKNOWN
    if high is None:
        return f"{number(low)} {open_end}"
    return number(low) if low == high else f"{number(low)} to {number(high)}"


def amount_for_people(low: Decimal, high: Decimal) -> tuple[Decimal, Decimal]:
    """Round an amount to three digits towards the inside of its range, so that it never leaves it.

    Parameters
    ----------
    low, high
        The ends, in one unit.

    Returns
    -------
    tuple of Decimal
        The ends to show; a range too narrow for three digits is given as it is.
    """
    if low == high:
        nearest = significant(low, _DIGITS_FOR_PEOPLE)
        return nearest, nearest
    inner_low = significant(low, _DIGITS_FOR_PEOPLE, ROUND_CEILING)
    inner_high = significant(high, _DIGITS_FOR_PEOPLE, ROUND_FLOOR)
    return (inner_low, inner_high) if inner_low <= inner_high else (low, high)


def origin_words(origin: str) -> str:
    """Name how a value is known."""
    return ORIGIN_WORDS.get(origin, words(origin))


def evidence_words(verdict: str | None) -> str:
    """Name how good the evidence is."""
    return EVIDENCE_WORDS.get(verdict or "untested", words(verdict))


def verdict_words(verdict: str) -> str:
    """Name the verdict of a screen."""
    return VERDICT_WORDS.get(verdict, sentence_case(words(verdict)))


def level_words(level: str) -> str:
    """Name how serious a recorded pair is."""
    return LEVEL_WORDS.get(level, sentence_case(words(level)))


def short_address(url: str) -> str:
    """Give the host of an address, which says enough in a line of text; ``doi.org`` keeps its number."""
    without_scheme = url.partition("://")[2].removeprefix("www.")
    return without_scheme if without_scheme.startswith("doi.org/") else without_scheme.partition("/")[0]


def brief(source: Source) -> str:
    """Name a source in a few words: first author and year, or its title where no author is recorded."""
    authors = _REMARK.sub("", source.authors or "").strip()
    if not authors:
        return _shortened(source.title)
    first, *others = re.split(r"[,;]| et al", authors)
    name = _INITIALS.sub("", first).strip()
    year = f" {source.year[:4]}" if source.year else ""
    return _shortened(f"{name}{' et al.' if others else ''}{year}")


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST_BRIEF else f"{text[:_LONGEST_BRIEF].rsplit(' ', 1)[0]} \u2026"


def cited(source_ids: Iterable[str], sources: Mapping[str, Mapping[str, str | None]]) -> list[Mapping[str, str | None]]:
    """Give the sources of these ids."""
    return [sources[id_] for id_ in source_ids]


def given_only(texts: Mapping[str, str]) -> dict[str, str]:
    """Keep what was filled in, for an address."""
    return {name: text for name, text in texts.items() if text}


FILTERS: dict[str, Callable[..., Any]] = {
    "words": words,
    "number": number,
    "sentence_case": sentence_case,
    "origin_words": origin_words,
    "evidence_words": evidence_words,
    "verdict_words": verdict_words,
    "level_words": level_words,
    "short_address": short_address,
    "cited": cited,
    "given_only": given_only,
}
