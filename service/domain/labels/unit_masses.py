"""Recognisers of the mass of one unit: ``Each treat weighs approx. 6 g``, ``Average tablet weight: 1.5 g``."""

from __future__ import annotations

from decimal import Decimal

from service.domain.labels.findings import Findings, Line
from service.domain.labels.phrases import any_of
from service.domain.labels.quantities import Quantity, quantity
from service.reference.records import Unit

WEIGHS = any_of(
    """
    weighs | weigh | weighing | weight | size | mass | weight is | size is | wt | wt. |
    gewicht | poids | peso | wiegt | pèse | pesa | = | equals | is | contains | entspricht |
    correspond à | equivale a | à | zu je | zu | of | de
    """
)
HOLDS = frozenset("of de zu a contains".split())
# "Weight per chew 4 g", "Gewicht je Tablette 2 g", "poids d'un comprim\u00e9 2 g"
_WEIGHT_OF = any_of(
    """
    weight per | weight of | weight of each | weight of one | weight of a | average weight per | average weight of a |
    average weight of one | size of | size of each | mass of | mass per | gewicht pro | gewicht je | gewicht einer |
    gewicht eines | poids par | poids d'un | poids d'une | poids de chaque | peso por | peso de cada | peso per
    """
)
_EACH_ONE = any_of("each | one | a | 1 | every | jede | jeder | jedes | eine | ein | chaque | un | une | cada | una")
_GRAMS_PER_MG = Decimal("0.001")


def unit_mass(found: Findings, line: Line) -> bool:
    """Recognise ``Each treat weighs approx. 6 g`` and ``Average tablet weight: 1.5 g``.

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
    told = _unit_and_place(found, line)
    if told is None:
        return False
    unit, place, speaks_of_mass = told
    tokens = found.sheet.tokens
    while place < line.end and tokens[place].text in (":", "=", "of", "is", "-", "\u2013"):
        place += 1
    mass = quantity(found.sheet, place, line.end)
    if mass is None or mass.unit is None or mass.unit.dimension != "mass" or mass.refused:
        return False
    if not speaks_of_mass and mass.unit.unit != "gram":
        # "Each capsule: 500 mg" may well be the amount of its substance.
        return False
    if mass.end < line.end and tokens[mass.end].kind == "word":
        return False
    found.pack.unit_mass_g = mass.number.low * mass.unit.factor * _GRAMS_PER_MG
    found.pack.unit = found.pack.unit or unit.unit
    if "approximate" in mass.flags:
        found.pack.container_flags.append("approx_mass")
    found.pack.container_spans.append(found.sheet.span(line.start, mass.end))
    found.cover(line.start, mass.end)
    return True


def _unit_and_place(found: Findings, line: Line) -> tuple[Unit, int, bool] | None:
    """Read ``each chew weighs``, ``average tablet weight``, ``weight per chew``: the unit, and where its mass stands.

    The last says whether the words speak of a mass; ``each chew`` alone does not.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    weight_of = _WEIGHT_OF.find(tokens, line.start, line.end)
    each = _EACH_ONE.find(tokens, weight_of.end if weight_of else line.start, line.end)
    at = each.end if each else weight_of.end if weight_of else line.start
    if at < line.end and tokens[at].fold in ("average", "avg", "approx", "mean"):
        at += 1
    unit = sheet.units.find(tokens, at, line.end)
    if unit is None or unit.meaning.dimension != "count" or unit.meaning.unit == "serving":
        return None
    weighs = WEIGHS.find(tokens, unit.end, line.end)
    if weighs is None or tokens[unit.end].fold in HOLDS:
        counts_each = each is not None and tokens[line.start].kind == "word"
        return (unit.meaning, unit.end, weight_of is not None) if weight_of is not None or counts_each else None
    return unit.meaning, weighs.end, True


def unit_of_mass(found: Findings, name: tuple[int, int], amount: Quantity) -> bool:
    """Recognise ``4.5 g chew`` and ``5 g dose``: the mass of a unit or of a serving, not an amount of a substance.

    Parameters
    ----------
    found
        Filled with the mass.
    name
        Tokens that stand for the name beside the amount.
    amount
        The amount.

    Returns
    -------
    bool
        Whether the name is that of a unit.
    """
    sheet = found.sheet
    hit = sheet.units.find(sheet.tokens, *name)
    if hit is None or hit.end != name[1] or hit.meaning.dimension != "count":
        return False
    if amount.unit is None or amount.unit.dimension != "mass":
        return False
    grams, span = amount.number.low * amount.unit.factor * _GRAMS_PER_MG, sheet.span(amount.start, name[1])
    if hit.meaning.unit == "serving":
        found.pack.serving_mass_g = grams
        found.pack.serving_spans.append(span)
    else:
        found.pack.unit_mass_g, found.pack.unit = grams, found.pack.unit or hit.meaning.unit
        found.pack.container_spans.append(span)
    return True
