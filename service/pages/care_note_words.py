"""Words, amounts and days of a care note for people."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

from service.pages.wording import amount_for_people, number, span

POSITIONS = {
    "below": "below",
    "within": "within",
    "above": "above",
    "open": "open: inside or not",
    "not_known": "not known",
    "no_guidance": "no range",
}
EVIDENCE = {
    "supported": "supports it",
    "mixed": "mixed",
    "weak": "weak",
    "against": "against it",
    "untested": "not tested",
}
VERDICTS = {
    "stop": "Something here must not be given.",
    "ask_veterinarian": "To be agreed with the veterinarian first.",
    "incomplete": "Not all was understood, or could be judged.",
    "nothing_found": "No record speaks against it. That is no clearance.",
}
LEVELS = {
    "avoid": "Do not give",
    "veterinarian": "Ask first",
    "watch": "Watch",
    "note": "Good to know",
}
REASONS = {
    "no_record": ("pair without any record", "pairs without any record"),
    "unsourced_record_only": ("pair with a record that has no source", "pairs with records that have no source"),
    "recognised_by_name_only": ("plant known by name only", "plants known by name only"),
    "amount_not_stated": ("amount that is not stated", "amounts that are not stated"),
    "medicine_not_named": ("pair with a medicine told by its class only", "pairs with medicines told by class only"),
    "pack_size_not_given": ("whole pack of unknown size", "whole packs of unknown size"),
    "weight_not_given": ("maximum that needs the body weight", "maxima that need the body weight"),
    "no_limit_recorded": ("amount without a recorded maximum", "amounts without a recorded maximum"),
    "amount_hidden_in_blend": ("amount hidden in a blend", "amounts hidden in a blend"),
    "source_not_stated": ("ingredient of unknown source", "ingredients of unknown source"),
}
# Characters that turn the direction of what follows, on a line that is not theirs alone.
_DIRECTIONAL = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
_HISSING = ("s", "x", "z", "ch", "sh")
_NO_PLURAL = frozenset(("ml", "g", "kg", "mg", "tsp", "tbsp"))


def told(text: str) -> str:
    """Put a text on one line: every break and blank is one blank, and no character turns the line around.

    Parameters
    ----------
    text
        As told, or as a label prints it.

    Returns
    -------
    str
        One line.
    """
    return " ".join(_DIRECTIONAL.sub("", text).split())


def count_of(units: Decimal, unit: str) -> str:
    """Write a count with its unit: ``3 tablets``, ``0.5 scoop``, ``5 ml``."""
    word = told(unit)
    plain = word.isascii() and word.isalpha() and word.casefold() not in _NO_PLURAL
    if units <= 1 or not plain:
        return f"{number(units)} {word}"
    return f"{number(units)} {word}{'es' if word.endswith(_HISSING) else 's'}"


def milligrams(low: Decimal | None, high: Decimal | None) -> str:
    """Write an amount in mg to three digits that stay inside its ends, a dash where there is none."""
    if low is None or high is None:
        return "\u2013"
    return f"{span(*amount_for_people(low, high))} mg"


def when(from_day: int | None, to_day: int | None, from_date: date | None, to_date: date | None) -> str:
    """Write from when until when: dates where there are any, else days of the course.

    Parameters
    ----------
    from_day, to_day
        Days of the course, from 1; ``None`` where a stretch began before it or has no end.
    from_date, to_date
        Their dates.

    Returns
    -------
    str
        ``2027-03-01 to 2027-04-11``, ``day 1 to 42`` or ``from day 43 on``.
    """
    if from_date is not None:
        return f"{from_date} to {to_date}" if to_date is not None else f"from {from_date} on"
    if from_day is None:
        return "all along"
    return f"day {from_day} to {to_day}" if to_day is not None else f"from day {from_day} on"
