"""What a line says of the size of a pack, and how it is kept: the first figure holds, a second one is compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal

from service.domain.labels.findings import Findings
from service.domain.labels.quantities import Quantity
from service.reference.records import Unit

_GRAMS_PER_MG = Decimal("0.001")
# Two prints of one size differ by rounding and by the ounce that was meant.
_SAME = Decimal("0.05")
_LARGEST_UNIT_G = Decimal(20)


@dataclass(slots=True)
class Size:
    """One size of a pack; ``each`` where it is that of a unit, ``of`` the unit of ``60 x 2 g chews``."""

    factor: Decimal
    quantity: Quantity
    each: bool
    of: Unit | None = None

    @property
    def is_count(self) -> bool:
        """Say whether it counts units."""
        return self.quantity.unit is not None and self.quantity.unit.dimension == "count"


@dataclass(slots=True)
class Sizes:
    """The sizes of a line, how many packs it counts, whether part is free, and remarks in brackets."""

    sizes: list[Size] = field(default_factory=list)
    packs: Decimal | None = None
    count_of_each: bool = False
    free: bool = False
    remarks: list[tuple[int, int]] = field(default_factory=list)


def keep_sizes(found: Findings, read: Sizes) -> None:
    """Keep every size of a line.

    Parameters
    ----------
    found
        Filled with the sizes.
    read
        What the line says.
    """
    for one in read.sizes:
        _keep_size(found, one, read)


def _keep_size(found: Findings, size: Size, read: Sizes) -> None:
    pack, one, factor = found.pack, size.quantity, size.factor
    unit = one.unit
    if unit is None:
        return
    pack.container_flags += [flag for flag in one.flags if flag != "household_measure"]
    if size.of is not None:
        _keep_units_of_size(found, size, size.of)
        return
    if read.packs is not None:
        # "Pack of 3 (90 ct each)" says how many there are, "Pack of 3, 90 ct" leaves it open.
        factor = factor * read.packs if read.count_of_each and size.is_count else factor
        pack.container_flags += [] if read.count_of_each else ["several_sizes"]
    pack.packs = read.packs or (factor if factor != 1 else pack.packs)
    _KEEPERS[unit.dimension](found, one.number.low * factor, one, size.each)


def _keep_units_of_size(found: Findings, size: Size, unit: Unit) -> None:
    """``60 x 2 g chews``: their number, and what each of them holds."""
    pack, one = found.pack, size.quantity
    if one.unit is None:
        return
    pack.unit_count, pack.unit = pack.unit_count or size.factor, pack.unit or unit.unit
    amount = one.number.low * one.unit.factor
    if one.unit.dimension == "mass":
        pack.unit_mass_g = amount * _GRAMS_PER_MG
        pack.net_g = pack.net_g or size.factor * pack.unit_mass_g
    else:
        pack.unit_volume_ml, pack.net_ml = amount, pack.net_ml or size.factor * amount


def _keep_count(found: Findings, value: Decimal, one: Quantity, _each: bool) -> None:
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    if unit.unit == "serving":
        pack.servings = value
    elif pack.unit_count is None:
        pack.unit_count, pack.unit = value, unit.unit
        if unit.unit == "piece" and found.sheet.tokens[one.end - 1].fold.startswith("ct"):
            pack.container_flags.append("ct_is_count")


def _keep_mass(found: Findings, value: Decimal, one: Quantity, each: bool) -> None:
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    grams = value * unit.factor * _GRAMS_PER_MG
    if "separator_ambiguous" in one.flags and grams < _LARGEST_UNIT_G and not each and pack.packs is None:
        # No pack holds "1.000 g" with three decimals; the flag stays.
        grams = one.number.high * unit.factor * _GRAMS_PER_MG
    if pack.packs is not None and one.number.low * unit.factor * _GRAMS_PER_MG <= _LARGEST_UNIT_G and not each:
        # "240 g (60 x 4 g)": so small a part is a unit, no pack.
        pack.unit_count, pack.packs = pack.unit_count or pack.packs, None
        pack.unit_mass_g = one.number.low * unit.factor * _GRAMS_PER_MG
    if each:
        pack.unit_mass_g = grams
        return
    if pack.net_g is None:
        pack.net_g = grams
    elif abs(grams - pack.net_g) <= _SAME * pack.net_g:
        pack.container_flags.append("restated_amount")
        pack.net_g = grams if unit.unit in ("gram", "kilogram") else pack.net_g
    else:
        pack.container_flags.append("several_sizes")


def _keep_volume(found: Findings, value: Decimal, one: Quantity, _each: bool) -> None:
    pack, unit = found.pack, one.unit
    if unit is None:
        return
    millilitres = value * unit.factor
    if pack.net_ml is None:
        pack.net_ml = millilitres
    elif abs(millilitres - pack.net_ml) <= _SAME * pack.net_ml:
        pack.container_flags.append("restated_amount")
        pack.net_ml = millilitres if unit.unit in ("millilitre", "litre") else pack.net_ml
    else:
        pack.container_flags.append("several_sizes")


_KEEPERS: dict[str, Callable[[Findings, Decimal, Quantity, bool], None]] = {
    "count": _keep_count,
    "mass": _keep_mass,
    "volume": _keep_volume,
}
