"""Recogniser of energy: ``3,450 kcal/kg, 14 kcal per chew``, ``ME (calculated): 3.2 Calories/g``, ``Calories 10``."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import ENERGY_HEADINGS
from service.domain.labels.phrases import Phrases
from service.domain.labels.quantities import Per, Quantity, per, quantity

_HEADINGS = Phrases(dict.fromkeys(ENERGY_HEADINGS, True))
_BESIDE = frozenset(("(", ")", ":", ",", "/", "=", "-", "\u2013", "[", "]", "and", "und", "et", "y", "or", "*", "."))
_WORDS = frozenset(
    "calculated calculated) me as fed metabolizable metabolisable energy calories calorie content approx "
    "approximately about "
    "total provides contains energie enthalt berechnet calcule calculee calculado of by is average product".split()
)
_MG_PER_KG = Decimal(1_000_000)
# 1 kcal is 4.184 kJ exactly (thermochemical; source own-arithmetic).
_KCAL = {"kilocalorie": Decimal(1), "kilojoule": 1 / Decimal("4.184"), "megajoule": 1000 / Decimal("4.184")}
# Two prints of one figure differ by rounding.
_SAME = Decimal("0.05")
_SMALLEST_PLAUSIBLE_KCAL = Decimal("0.5")


def energy(found: Findings, line: Line) -> bool:
    """Recognise what the product holds of energy.

    Parameters
    ----------
    found
        Filled with what the line says.
    line
        The line.

    Returns
    -------
    bool
        Whether the line speaks of energy.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    head = _HEADINGS.find(tokens, line.start, line.end)
    at, seen, stop = (head.end if head else line.start), False, line.start
    lead = per(sheet, at, line.end)
    at = lead.end if lead is not None else at
    if lead is None and found.per is not None and found.per.kind in ("volume", "product_mass"):
        # "Nutritional values per 100 ml: energy 100 kcal".
        lead = found.per
    figures: list[Quantity] = []
    while at < line.end:
        one = quantity(sheet, at, line.end)
        if one is not None and one.unit is not None and one.unit.dimension in ("energy", "energy_per_mass"):
            figures.append(one)
            at = _after(found, one, line.end)
            seen, stop = True, at
        elif one is not None and one.unit is None and head is not None and not seen:
            what = per(sheet, one.end, line.end) or lead
            _store(found, one.number.low, what)
            at = what.end if what is not None and what is not lead else one.end
            seen, stop = True, at
        elif tokens[at].text in _BESIDE or tokens[at].fold in _WORDS or tokens[at].kind == "mark":
            at += 1
        else:
            break
    if not seen:
        return False
    if at >= line.end:
        stop = line.end
    elif head is None:
        # Energy in the middle of something else is left to whoever reads that.
        return False
    # "10 kcal / 41.84 kJ per chew": what stands behind the last figure holds for both.
    lead = lead or _per_of(found, figures[-1], line.end) if figures else lead
    in_kcal = [one for one in figures if one.unit is not None and one.unit.unit.startswith("kilocalorie")]
    # Where kcal are printed, joules only say the same again; what is printed per kilogram goes before the ounce.
    for one in sorted(in_kcal or figures, key=lambda one: _is_converted(found, one, line.end)):
        _keep(found, one, line.end, lead)
    found.pack.energy_spans.append(sheet.span(line.start, stop))
    found.cover(line.start, stop)
    return True


def _after(found: Findings, one: Quantity, end: int) -> int:
    """Give the token after a figure and what it is per."""
    at = _after_me(found, one.end, end)
    what = per(found.sheet, at, end) if one.unit is not None and one.unit.dimension == "energy" else None
    return what.end if what else at


def _keep(found: Findings, one: Quantity, end: int, lead: Per | None) -> None:
    """Store one figure."""
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    if unit.dimension == "energy_per_mass":
        _keep_per_kilogram(found, one.number.low * unit.factor)
        pack.energy_flags.extend(one.flags)
        return
    what = _per_of(found, one, end) or lead
    kcal = one.number.low * _KCAL[unit.unit]
    text = found.sheet.text(one.number.end, one.end)
    if unit.unit == "kilocalorie" and text[:1] == "C" and text.lower().startswith("cal"):
        pack.energy_flags.append("capital_calorie")
    elif text.startswith("cal") and kcal < _SMALLEST_PLAUSIBLE_KCAL:
        pack.energy_flags.append("calorie_perhaps_small")
    _store(found, kcal, what)


def _is_converted(found: Findings, one: Quantity, end: int) -> bool:
    """Say whether energy per kilogram has first to be worked out from a figure: kcal per gram, ounce or pound."""
    if one.unit is not None and one.unit.unit == "kilocalorie-per-kilogram":
        return False
    what = _per_of(found, one, end)
    return what is None or what.unit is None or what.unit.unit != "kilogram"


def _keep_per_kilogram(found: Findings, kcal: Decimal) -> None:
    """Keep energy per kilogram; the first figure holds, and one that disagrees is told."""
    pack = found.pack
    if pack.kcal_per_kg is None:
        pack.kcal_per_kg = kcal
    elif abs(pack.kcal_per_kg - kcal) > _SAME * pack.kcal_per_kg:
        pack.energy_flags.append("label_inconsistent")


def _per_of(found: Findings, one: Quantity, end: int) -> Per | None:
    return per(found.sheet, _after_me(found, one.end, end), end)


def _after_me(found: Findings, at: int, end: int) -> int:
    """Step over the ME of ``kcal ME/kg``."""
    return at + 1 if at < end and found.sheet.tokens[at].fold == "me" else at


def _store(found: Findings, kcal: Decimal, what: Per | None) -> None:
    pack = found.pack
    if what is None or what.kind in ("serving", "day"):
        pack.kcal_per_serving = kcal / (what.count if what else 1)
    elif what.kind == "product_mass" and what.unit is not None:
        _keep_per_kilogram(found, kcal * _MG_PER_KG / (what.count * what.unit.factor))
    elif what.kind in ("unit", "volume"):
        pack.kcal_per_unit = kcal / what.count
        pack.unit = pack.unit or (what.unit.unit if what.unit else None)
    else:
        pack.energy_flags.append("energy_basis_not_understood")
