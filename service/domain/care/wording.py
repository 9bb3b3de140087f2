"""Words and amounts in the sentences of a care note."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from service.domain.care.answer import CareFinding
from service.domain.rounding import significant
from service.domain.screening_answers import plain

_DIGITS = 3
_REMARK = re.compile(r", | \(")
_ABBREVIATION = re.compile(r"[A-Z]{2,}[a-z]?\)")
_FIRST_SENTENCE = re.compile(r".*?[.!?](?=\s|$)")
# Findings of these kinds do not name what they are about.
_NAMELESS = ("interaction", "condition", "presentation")


def listed(names: Sequence[str], last: str = "and") -> str:
    """Join names for a sentence.

    Parameters
    ----------
    names
        At least one.
    last
        The word before the last one.

    Returns
    -------
    str
        For example ``a, b and c``.
    """
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"


def sentence(text: str) -> str:
    """End a text with a full stop, and begin it with a capital letter.

    Parameters
    ----------
    text
        A phrase or a sentence.

    Returns
    -------
    str
        A sentence.
    """
    trimmed = text.strip()
    ended = trimmed if trimmed.endswith((".", "!", "?")) else f"{trimmed}."
    return f"{ended[:1].upper()}{ended[1:]}"


def milligrams(low: Decimal, high: Decimal) -> str:
    """Write an amount for a sentence, to three digits that stay inside its ends.

    Parameters
    ----------
    low, high
        Both readings in mg.

    Returns
    -------
    str
        ``750 mg`` or ``444 to 589 mg``.

    Examples
    --------
    >>> milligrams(Decimal("1495.65"), Decimal("2233.11"))
    '1500 to 2230 mg'
    """
    inner_low, inner_high = significant(low, _DIGITS, ROUND_CEILING), significant(high, _DIGITS, ROUND_FLOOR)
    if inner_low > inner_high:
        inner_low = inner_high = significant(low, _DIGITS)
    ends = dict.fromkeys((plain(inner_low), plain(inner_high)))
    return f"{' to '.join(ends)} mg"


def short_name(name: str) -> str:
    """Shorten a name to its abbreviation where it gives one, else leave its remark in brackets out.

    Parameters
    ----------
    name
        Name of an ingredient, medicine or condition.

    Returns
    -------
    str
        ``MSM`` for ``methylsulfonylmethane (MSM)``, ``vitamin E`` for ``vitamin E (alpha-tocopherol)``.
    """
    head, bracket, remark = name.partition(" (")
    return remark[:-1] if bracket and _ABBREVIATION.fullmatch(remark) else head


def in_a_sentence(name: str) -> str:
    """Write the name of a form inside a sentence: without its remarks, and only abbreviations keep their capital.

    Parameters
    ----------
    name
        For example ``Chondroitin sulfate, as labelled (sodium salt, dried)`` or ``EPA plus DHA, as labelled``.

    Returns
    -------
    str
        For example ``chondroitin sulfate`` and ``EPA plus DHA``.
    """
    short = _REMARK.split(name, maxsplit=1)[0]
    return short if not short[1:2].islower() else f"{short[:1].lower()}{short[1:]}"


def in_short(finding: CareFinding) -> str:
    """Say in one sentence what a finding is about.

    Parameters
    ----------
    finding
        A finding of the screen.

    Returns
    -------
    str
        The first sentence of what :func:`about` says.
    """
    text = about(finding)
    first = _FIRST_SENTENCE.match(text)
    return first[0] if first else text


def about(finding: CareFinding) -> str:
    """Say what a finding is about and what can happen.

    Parameters
    ----------
    finding
        A finding of the screen.

    Returns
    -------
    str
        One sentence or several. What the record of a pair or the presentation of a product says is told with their
        names before it; other findings name what they are about themselves.
    """
    if finding.kind not in _NAMELESS:
        return sentence(finding.effect)
    names = " with ".join(dict.fromkeys(map(short_name, finding.subject_names)))
    return f"{sentence(names)[:-1]}: {sentence(finding.effect)}"
