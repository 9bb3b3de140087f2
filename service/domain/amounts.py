"""Amounts as labels print them: a number and a unit from a closed table. Text never reaches a unit parser."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.domain.errors import InvalidInput, Issue
from service.domain.label_text import clean
from service.domain.numbers import PrintedNumber, read_number
from service.reference.records import Unit
from service.reference.release import Reference

_NUMBER = r"[0-9](?:[0-9.,'\u2019 \u00a0\u2009\u202f]*[0-9])?"
_AMOUNT = re.compile(
    rf"(?P<before>[^0-9]*?)(?P<number>[.,]?{_NUMBER})"
    rf"(?:\s*(?:x|\u00d7|\*)\s*10\s*\^?\s*(?P<power>[0-9]{{1,2}}))?"
    rf"(?:\s*(?:-|\u2013|\u2014|to|bis|\u00e0|a)\s*(?P<second>{_NUMBER}))?"
    r"\s*(?P<rest>.*)",
    re.DOTALL | re.IGNORECASE,
)
_MIN_WORDS = ("min", "min.", "minimum", "not less than", "nlt", "at least", "mindestens", "mind.", ">=", "\u2265", ">")
_MAX_WORDS = (
    "max",
    "max.",
    "maximum",
    "not more than",
    "nmt",
    "at most",
    "up to",
    "h\u00f6chstens",
    "bis zu",
    "<=",
    "\u2264",
)
_LESS_WORDS = ("less than", "<", "weniger als", "moins de", "menos de")
_ABOUT_WORDS = ("approx", "approx.", "approximately", "about", "ca", "ca.", "circa", "~", "\u2248", "typ.", "typically")
_FOOTNOTES = "*#\u2020\u2021\u00a7 \t\u00a0"
_RESTATED = re.compile(rf"[(\[]\s*(?:=\s*)?(?P<number>{_NUMBER})\s*(?P<unit>[^()\[\]0-9]{{1,20}}?)\s*[)\]]")
_ASIDE = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_PER = re.compile(r"\b(?:per|pro|par|por|je|/)\s+(?:1\s+)?([^\W\d_]+(?:\s[^\W\d_]+)?)\s*$", re.IGNORECASE)
# From a nanogram written in grams to counts of microbes; beyond lies only a slip or an attack.
_SMALLEST, _LARGEST = Decimal("1e-9"), Decimal("1e15")
_RESTATEMENT_TOLERANCE = Decimal("0.05")


@dataclass(frozen=True, slots=True)
class LabelAmount:
    """An amount as printed: a number (two readings where the print is ambiguous), a unit and a bound."""

    low: Decimal
    high: Decimal
    unit: Unit
    bound: str | None
    flags: tuple[str, ...]
    restated: tuple[Decimal, Unit] | None = None
    per: str | None = None


def read_amount(reference: Reference, text: str, where: str, locale: str | None = None) -> LabelAmount:
    """Read an amount such as ``1 500 mg``, ``400 IU (10 mcg)``, ``min 16 %`` or ``2-3 g``.

    Parameters
    ----------
    reference
        Release whose unit table is used.
    text
        As printed.
    where
        Name of the field, for the error.
    locale
        Two-letter language of the label, or ``None``.

    Returns
    -------
    LabelAmount
        In the unit as printed.

    Raises
    ------
    InvalidInput
        If there is no number, no unit, an unknown unit, a letter O among the digits, or something left over.
    """
    plain = clean(text).strip(_FOOTNOTES)
    if len(plain) > 120:
        raise InvalidInput(Issue(where, "is longer than 120 characters; give one amount, for example '500 mg'"))
    if re.search(r"(?<![A-Za-z])[0-9]+[.,]?[0-9]*[oO]+(?:[0-9oO]|\b)|(?<![A-Za-z])[oO][0-9]", plain):
        raise InvalidInput(Issue(where, f"{text!r} has a letter O among its digits; write the digit 0"))
    match = _AMOUNT.fullmatch(plain)
    if match is None or re.search(r"[^\W0-9a-zA-Z_]", match["number"]):
        raise InvalidInput(Issue(where, f"{text!r} has no number; give an amount with a unit, for example '500 mg'"))
    number = _number(match, locale, where)
    if number.high <= 0:
        raise InvalidInput(Issue(where, f"{text!r} must be greater than zero; leave the line out if there is none"))
    if number.high > _LARGEST or number.low < _SMALLEST:
        raise InvalidInput(Issue(where, f"{text!r} is a number that no label prints; check its digits and its unit"))
    bound, about, rest = _bound(match["before"], match["rest"], text, where)
    restated = _restated(reference, _RESTATED.search(rest), locale, where)
    unit_text, asides, per = _unit_words(rest)
    unit = find_unit(reference, unit_text, text, where)
    flags = [*number.flags, *((unit.flag,) if unit.flag else ()), *(("approximate",) if about else ())]
    # A bracket that is no second figure for the same amount speaks of a part or a source of it: never added.
    if asides and restated is None:
        flags.append("aside_not_counted")
    return LabelAmount(number.low, number.high, unit, bound, tuple(dict.fromkeys(flags)), restated, per)


def _unit_words(rest: str) -> tuple[str, bool, str | None]:
    """Take the unit out of what follows the number: brackets aside, and ``per chew`` at the end noted."""
    brackets = _ASIDE.findall(rest)
    unit_text = _ASIDE.sub(" ", rest).strip(_FOOTNOTES)
    if not unit_text and brackets:
        # "500 (mg)": here the bracket is the unit itself.
        return brackets[0].strip(_FOOTNOTES), False, None
    per = _PER.search(unit_text)
    if per is not None and per.start() > 0:
        return unit_text[: per.start()].strip(_FOOTNOTES), bool(brackets), per[1].casefold()
    return unit_text, bool(brackets), None


def _number(match: re.Match[str], locale: str | None, where: str) -> PrintedNumber:
    first = read_number(match["number"], locale, where)
    scale = Decimal(10) ** int(match["power"]) if match["power"] else Decimal(1)
    if match["second"] is None:
        return PrintedNumber(first.low * scale, first.high * scale, first.flags)
    second = read_number(match["second"], locale, where)
    if second.high < first.low:
        raise InvalidInput(Issue(where, f"the range {match[0]!r} runs downwards"))
    return PrintedNumber(first.low * scale, second.high * scale, (*first.flags, *second.flags, "range"))


def _bound(before: str, rest: str, text: str, where: str) -> tuple[str | None, bool, str]:
    """Words before or after the number that bound it: ``min 16 %``, ``16 % min``, ``less than 1 mg``."""
    bound, about = None, False
    for part, name in ((before, "before"), (rest, "rest")):
        words = part.casefold().replace("(", " ").replace(")", " ").strip(" :*")
        for kind, choices in (
            ("less_than", _LESS_WORDS),
            ("min", _MIN_WORDS),
            ("max", _MAX_WORDS),
            ("about", _ABOUT_WORDS),
        ):
            found = next((w for w in choices if words == w or words.endswith(f" {w}")), None)
            if found is None:
                continue
            bound, about = (bound, True) if kind == "about" else (kind, about)
            cut = part.casefold().rfind(found)
            part = part[:cut].rstrip(" (") + part[cut + len(found) :].lstrip(" )")
            break
        if name == "before" and part.strip(" :*("):
            raise InvalidInput(
                Issue(where, f"{text!r} has words before the number that are not understood: {part.strip()!r}")
            )
        if name == "rest":
            rest = part
    return bound, about, rest


def find_unit(reference: Reference, spelling: str, text: str, where: str) -> Unit:
    """Find a printed unit in the alias table, exact spelling before folded case.

    Parameters
    ----------
    reference
        Release whose unit table is used.
    spelling
        The unit as printed.
    text, where
        The whole amount and the name of the field, for the error.

    Returns
    -------
    Unit
        The row of the unit table.

    Raises
    ------
    InvalidInput
        If there is no unit or it is not in the table.
    """
    inner = spelling.strip("()[] ").rstrip(".") if spelling.startswith(("(", "[")) else spelling
    if not inner:
        raise InvalidInput(Issue(where, f"{text!r} has no unit; write for example '500 mg'"))
    compact = re.sub(r"\s*/\s*", "/", re.sub(r"\s+", " ", inner))
    for candidate in (compact, compact.rstrip(".")):
        unit = reference.units.get(candidate) or reference.units.get(candidate.casefold())
        if unit is not None:
            return unit
    if (unit := reference.units_any_case.get(compact.casefold())) is not None:
        return unit
    raise InvalidInput(
        Issue(where, f"{inner[:40]!r} in {text[:80]!r} is not a known unit; use for example mg, g, mcg or IU")
    )


def _restated(
    reference: Reference, match: re.Match[str] | None, locale: str | None, where: str
) -> tuple[Decimal, Unit] | None:
    if match is None:
        return None
    unit = reference.units.get(match["unit"].strip())
    return None if unit is None else (read_number(match["number"], locale, where).low, unit)


def restatement_disagrees(first_mg: Decimal, second_mg: Decimal) -> bool:
    """Say whether two figures for one amount differ by more than 5 % of the larger."""
    return abs(first_mg - second_mg) > _RESTATEMENT_TOLERANCE * max(first_mg, second_mg)
