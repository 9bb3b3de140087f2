"""Amounts as labels print them: a number and a unit from a closed table. Text never reaches a unit parser."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
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
_LESS_WORDS = (
    "less than",
    "<",
    "below",
    "under",
    "weniger als",
    "unter",
    "moins de",
    "inf\u00e9rieur \u00e0",
    "menos de",
)
_MIN_WORDS = (
    *("min", "min.", "minimum", "minimal", "not less than", "no less than", "nlt", "at least", "more than", "over"),
    *("mindestens", "mind.", "nicht weniger als", "mehr als", "au moins", "plus de", "al menos", "como m\u00ednimo"),
    *("m\u00ednimo", "m\u00edn.", "minimo", "m\u00e1s de", ">=", "\u2265", ">"),
)
_MAX_WORDS = (
    *("max", "max.", "maximum", "maximal", "not more than", "no more than", "nmt", "at most", "up to"),
    *("h\u00f6chstens", "bis zu", "nicht mehr als", "jusqu'\u00e0", "jusqu\u2019\u00e0", "au plus", "hasta"),
    *("m\u00e1ximo", "m\u00e1x.", "massimo", "fino a", "<=", "\u2264"),
)
_ABOUT_WORDS = (
    *(
        "approx",
        "approx.",
        "approximately",
        "about",
        "ca",
        "ca.",
        "circa",
        "~",
        "\u2248",
        "typ.",
        "typically",
        "typical",
    ),
    *("average", "avg", "avg.", "etwa", "rund", "environ", "env.", "aprox.", "aproximadamente", "unos"),
)
_BOUND_WORDS = (
    *((word, "less_than") for word in _LESS_WORDS),
    *((word, "min") for word in _MIN_WORDS),
    *((word, "max") for word in _MAX_WORDS),
    *((word, "about") for word in _ABOUT_WORDS),
)
_NAME_BOUNDS = {"min": "min", "max": "max", "m\u00edn": "min", "m\u00e1x": "max", "nlt": "min", "nmt": "max"} | {
    "minimum": "min", "maximum": "max", "m\u00ednimo": "min", "m\u00e1ximo": "max", "minimo": "min", "massimo": "max",
    "not less than": "min", "not more than": "max", "mind": "min", "mindestens": "min", "h\u00f6chstens": "max",
}  # fmt: skip
_NAME_BOUND = re.compile(rf"[\s,;:(\[]+({'|'.join(_NAME_BOUNDS)})\.?\s*[)\]]?[\s*:]*$", re.IGNORECASE)
_FOOTNOTES = "*#\u2020\u2021\u00a7 \t\u00a0"
_RESTATED = re.compile(rf"[(\[]\s*(?:=\s*)?(?P<number>{_NUMBER})\s*(?P<unit>[^()\[\]0-9]{{1,20}}?)\s*[)\]]")
_ASIDE = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_PER = re.compile(
    rf"(?P<unit>.*?)(?:\s*/\s*|(?:^|\s+)(?:per|pro|par|por|je)\s+)(?P<count>{_NUMBER})?\s*(?P<word>[^\W\d_].*)",
    re.IGNORECASE | re.DOTALL,
)
_EACH = re.compile(r"\s+(?P<word>each|ea\.?|apiece|daily)$", re.IGNORECASE)
_BETWEEN = re.compile(
    rf"^(?:between|from|zwischen|von|entre|de)\s+(?P<low>{_NUMBER})\s*(?:and|to|und|bis|et|y|\u00e0|a)\s+(?={_NUMBER})",
    re.IGNORECASE,
)
_UNIT_IN_RANGE = re.compile(
    rf"(?P<low>{_NUMBER})\s*(?P<unit>[^\W\d_]+|%)\s*(?:-|\u2013|\u2014|to|bis|\u00e0|a)\s*(?P<high>{_NUMBER})\s*(?P=unit)(?!\w)",
    re.IGNORECASE,
)
# From a nanogram written in grams to counts of microbes; beyond lies only a slip or an attack.
_SMALLEST, _LARGEST = Decimal("1e-9"), Decimal("1e15")
_RESTATEMENT_TOLERANCE = Decimal("0.05")


@dataclass(frozen=True, slots=True)
class LabelAmount:
    """An amount as printed: a number (two readings where the print is ambiguous), a unit and a bound.

    ``per_units`` is the number of tablets, chews, ... that the amount itself says it is for; ``None``: a serving.
    ``aside`` is a bracket that is no second figure for the same amount.
    """

    low: Decimal
    high: Decimal
    unit: Unit
    bound: str | None
    flags: tuple[str, ...]
    restated: tuple[Decimal, Unit] | None = None
    per_units: Decimal | None = None
    aside: str | None = None


@dataclass(frozen=True, slots=True)
class _Per:
    """``per 2 chews``: ``unit`` is ``None`` where the word is no known unit (``per day``)."""

    count: Decimal
    unit: Unit | None


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
    plain = clean(text).strip(_FOOTNOTES + ";:,=")
    if plain.startswith(("(", "[")) and plain.endswith((")", "]")):
        plain = plain[1:-1].strip(_FOOTNOTES)
    if len(plain) > 120:
        raise InvalidInput(Issue(where, "is longer than 120 characters; give one amount, for example '500 mg'"))
    if re.search(r"(?<![A-Za-z])[0-9]+[.,]?[0-9]*[oO]+(?:[0-9oO]|\b)|(?<![A-Za-z])[oO][0-9]", plain):
        raise InvalidInput(Issue(where, f"{text!r} has a letter O among its digits; write the digit 0"))
    plain = _UNIT_IN_RANGE.sub(r"\g<low>-\g<high> \g<unit>", _BETWEEN.sub(r"\g<low>-", plain))
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
    unit_text, aside, per_text = _unit_words(rest)
    unit, per = _unit_and_per(reference, unit_text, per_text, text, where)
    flags = [*number.flags, *((unit.flag,) if unit.flag else ()), *(("approximate",) if about else ())]
    # A bracket that is no second figure for the same amount speaks of a part or a source of it: never added.
    aside = None if restated is not None else aside
    flags += ["aside_not_counted"] if aside else []
    flags += ["read_as_per_serving"] if per is not None and per.unit is None else []
    found = LabelAmount(number.low, number.high, unit, bound, tuple(dict.fromkeys(flags)), restated, aside=aside)
    return found if per is None or per.unit is None else _for_what(reference, found, per, text, where)


def bound_in_name(name: str) -> tuple[str, str | None]:
    """Take a bound off a fact's name: ``Glucosamine HCl (min)`` guarantees a floor, not a content.

    Parameters
    ----------
    name
        As printed.

    Returns
    -------
    tuple
        The name without it, and ``min``, ``max`` or ``None``.
    """
    match = _NAME_BOUND.search(name)
    return (name[: match.start()], _NAME_BOUNDS[match[1].casefold()]) if match else (name, None)


def _unit_words(rest: str) -> tuple[str, str | None, str | None]:
    """Take apart what follows the number: the unit, a bracket, and a bracket that says ``per 2 chews``."""
    brackets = [text.strip(_FOOTNOTES) for text in _ASIDE.findall(rest)]
    unit_text = _ASIDE.sub(" ", rest).strip(_FOOTNOTES)
    if not unit_text and brackets:
        # "500 (mg)": here the bracket is the unit itself.
        return brackets[0], None, None
    per = next((text for text in brackets if (match := _PER.fullmatch(text)) and not match["unit"]), None)
    aside = next((text for text in brackets if text and text != per), None)
    return unit_text, aside, per


def _unit_and_per(
    reference: Reference, unit_text: str, per_text: str | None, text: str, where: str
) -> tuple[Unit, _Per | None]:
    """Find the unit and what it is per. ``mg/kg`` is one unit of the table; ``mg/chew`` is a unit and a per."""
    unit = _known_unit(reference, unit_text)
    match = _PER.fullmatch(per_text or unit_text) or _EACH.search(unit_text)
    if match is None or (unit is not None and per_text is None):
        return unit or find_unit(reference, unit_text, text, where), None
    groups = match.groupdict()
    own = unit_text if per_text else (groups.get("unit") or unit_text[: match.start()])
    count = read_number(groups["count"], None, where).low if groups.get("count") else Decimal(1)
    if count <= 0:
        raise InvalidInput(Issue(where, f"{text!r} is an amount per nothing"))
    return find_unit(reference, own.strip(_FOOTNOTES), text, where), _Per(count, _known_unit(reference, groups["word"]))


def _for_what(reference: Reference, found: LabelAmount, per: _Per, text: str, where: str) -> LabelAmount:
    """Settle what an amount is for: so many units or servings, a volume or a mass of the product."""
    unit, count = per.unit, per.count
    if unit is None or (unit.dimension == "count" and unit.unit == "serving"):
        return replace(found, low=found.low / count, high=found.high / count)
    if unit.dimension == "count":
        return replace(found, per_units=count)
    combined = {
        ("mass", "volume"): "mg/ml",
        ("mass", "mass"): "g/g",
        ("iu", "mass"): "IU/mg",
        ("iu", "volume"): "IU/ml",
    }
    alias = combined.get((found.unit.dimension, unit.dimension))
    if alias is None:
        raise InvalidInput(
            Issue(where, f"{text[:80]!r} mixes units that make no amount; write for example '500 mg/ml'")
        )
    scale = found.unit.factor / (count * unit.factor)
    flags = (*found.flags, *((unit.flag,) if unit.flag else ()))
    return replace(found, low=found.low * scale, high=found.high * scale, unit=reference.units[alias], flags=flags)


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
    before_bound, before = _cut_bound(before)
    rest_bound, rest = _cut_bound(rest)
    if before.strip(" :*("):
        detail = f"{text!r} has words before the number that are not understood: {before.strip()!r}"
        raise InvalidInput(Issue(where, detail))
    found = [kind for kind in (before_bound, rest_bound) if kind]
    bound = next((kind for kind in reversed(found) if kind != "about"), None)
    return bound, "about" in found, rest


def _cut_bound(part: str) -> tuple[str | None, str]:
    """Cut the longest bounding word off the end of a part: "not less than" is no "less than"."""
    words = part.casefold().replace("(", " ").replace(")", " ").strip(" :*")
    fitting = [(word, kind) for word, kind in _BOUND_WORDS if words == word or words.endswith(f" {word}")]
    if not fitting:
        return None, part
    word, kind = max(fitting, key=lambda one: len(one[0]))
    cut = part.casefold().rfind(word)
    return kind, part[:cut].rstrip(" (") + part[cut + len(word) :].lstrip(" )")


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
    if (unit := _known_unit(reference, inner)) is not None:
        return unit
    raise InvalidInput(
        Issue(where, f"{inner[:40]!r} in {text[:80]!r} is not a known unit; use for example mg, g, mcg or IU")
    )


def _known_unit(reference: Reference, spelling: str) -> Unit | None:
    compact = re.sub(r"\s*/\s*", "/", re.sub(r"\s+", " ", spelling.strip()))
    for candidate in (compact, compact.rstrip(".")):
        unit = reference.units.get(candidate) or reference.units.get(candidate.casefold())
        if unit is not None:
            return unit
    return reference.units_any_case.get(compact.casefold())


def _restated(
    reference: Reference, match: re.Match[str] | None, locale: str | None, where: str
) -> tuple[Decimal, Unit] | None:
    if match is None:
        return None
    unit = reference.units.get(match["unit"].strip())
    return None if unit is None else (read_number(match["number"], locale, where).low, unit)


def restatement_disagrees(first_mg: Decimal, second_mg: Decimal) -> bool:
    """Say whether two figures for one amount differ by more than 5 % of the larger.

    Parameters
    ----------
    first_mg
        The first figure in mg.
    second_mg
        The second figure in mg.

    Returns
    -------
    bool
        ``True`` where one of them must be a misprint.
    """
    return abs(first_mg - second_mg) > _RESTATEMENT_TOLERANCE * max(first_mg, second_mg)
