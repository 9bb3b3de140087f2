"""The serving and the size of a unit that a heading tells: ``per serving (2 tablets)``, ``per tablet of 2 g``."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.labels.findings import Findings
from service.domain.labels.quantities import Per, Quantity, quantity
from service.domain.labels.serving import take_back_equation
from service.reference.records import Unit

# Two prints of one size differ by rounding.
_SAME = Decimal("0.05")
_SIZES = ("mass", "volume")


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading: its kind, what amounts below are per, the unit of their column, and the token after it."""

    kind: str
    per: Per | None
    unit: Unit | None
    end: int
    bound: str | None = None
    size: Quantity | None = None


def keep_portion(found: Findings, what: Per | None, one: Quantity, inside: tuple[int, int]) -> None:
    """Keep what the bracket of ``per serving (2 tablets)``, ``per tablet (2.5 g)``, ``per \u00bd tsp (1.8 g)`` tells.

    Parameters
    ----------
    found
        Filled with the size.
    what
        What the heading says that its amounts are for.
    one
        What stands in the bracket.
    inside
        Its tokens.
    """
    pack = found.pack
    if what is None or one.unit is None:
        return
    if what.kind in ("serving", "day") and one.unit.dimension == "count" and pack.serving_equated:
        take_back_equation(pack)
    if what.kind == "product_mass" and what.unit is not None and one.unit.dimension == "count":
        # "Per 5 g (1 scoop)"
        if pack.serving_units is None:
            pack.serving_units, pack.serving_unit = one.number.low, one.unit.unit
            pack.serving_mass_g = what.count * what.unit.factor / 1000
            pack.serving_flags.append("serving_from_heading")
            pack.serving_spans.append(found.sheet.span(*inside))
    elif what.kind in ("serving", "day") and one.unit.dimension == "count" and pack.serving_units is None:
        pack.serving_units, pack.serving_unit = one.number.low, one.unit.unit
        pack.servings_per_day = Decimal(1) if what.kind == "day" else pack.servings_per_day
        pack.serving_spans.append(found.sheet.span(*inside))
    elif what.kind in ("serving", "day") and one.unit.dimension in _SIZES:
        _keep_serving_size(found, one, inside)
    elif what.kind == "volume" and one.unit.dimension == "mass" and pack.serving_mass_g is None:
        pack.serving_mass_g = one.number.low * one.unit.factor / 1000
    elif what.kind == "volume" and one.unit.dimension == "count" and what.unit is not None and one.number.low > 0:
        pack.unit_volume_ml = pack.unit_volume_ml or what.count * what.unit.factor / one.number.low
        pack.unit = pack.unit or one.unit.unit
    elif what.unit is not None:
        keep_unit_size(found, inside, what.count, what.unit)


def keep_unit_size(found: Findings, inside: tuple[int, int], count: Decimal, unit: Unit) -> None:
    """Keep the size that stands in a bracket behind so many units.

    Parameters
    ----------
    found
        Filled with the size.
    inside
        Tokens of the bracket.
    count, unit
        What stands before it.
    """
    at = inside[0]
    while at < inside[1] and found.sheet.tokens[at].text in ("=", "~"):
        at += 1
    one = quantity(found.sheet, at, inside[1])
    if one is not None and unit.dimension == "count" and count > 0:
        keep_size(found, one, count, unit)


def keep_size(found: Findings, one: Quantity, count: Decimal, unit: Unit) -> None:
    """Keep the mass or the volume of so many units; where two are printed the first holds.

    Parameters
    ----------
    found
        Filled with the size.
    one
        The mass or volume; anything else is left.
    count, unit
        How many of what it is the size of.
    """
    pack = found.pack
    if one.unit is None or one.unit.dimension not in _SIZES or one.refused:
        return
    size = one.number.low * one.unit.factor / count
    if one.unit.dimension == "mass":
        size /= 1000
        if pack.unit_mass_g is not None and abs(pack.unit_mass_g - size) > _SAME * size:
            pack.container_flags.append("label_inconsistent")
        pack.unit_mass_g = pack.unit_mass_g or size
    else:
        pack.unit_volume_ml = pack.unit_volume_ml or size
    pack.container_flags += ["approx_mass"] if "approximate" in one.flags else []
    pack.unit = pack.unit or unit.unit
    pack.container_spans.append(found.sheet.span(one.start, one.end))


def serving_of_heading(found: Findings, head: Heading, start: int) -> None:
    """Take the serving from a heading such as ``Amount per 2 chews`` where no serving size is printed.

    Parameters
    ----------
    found
        Filled with the serving, flagged, and with the size of a unit.
    head
        The heading, with what it says that its amounts are for.
    start
        Its first token.
    """
    pack, what = found.pack, head.per
    if what is None:
        return
    if head.size is not None and what.unit is not None and what.kind == "unit":
        keep_size(found, head.size, Decimal(1), what.unit)
    elif head.size is not None:
        keep_portion(found, what, head.size, (head.size.start, head.size.end))
    if what.kind not in ("unit", "volume") or what.unit is None or pack.serving_units is not None:
        return
    pack.serving_units, pack.serving_unit = what.count, what.unit.unit
    if what.kind == "volume":
        pack.serving_volume_ml = what.count * what.unit.factor
    pack.serving_flags.append("serving_from_heading")
    pack.serving_spans.append(found.sheet.span(start, head.end))


def _keep_serving_size(found: Findings, size: Quantity, where: tuple[int, int]) -> None:
    """``Je 5-g-Portion``: the mass or volume of a serving."""
    pack = found.pack
    if size.unit is None or pack.serving_mass_g is not None or pack.serving_volume_ml is not None:
        return
    if size.unit.dimension == "mass":
        pack.serving_mass_g = size.number.low * size.unit.factor / 1000
    else:
        pack.serving_volume_ml = size.number.low * size.unit.factor
    pack.serving_flags.append("serving_from_heading")
    pack.serving_spans.append(found.sheet.span(*where))
