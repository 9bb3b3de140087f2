"""What a label says of its serving, its pack, its energy and its price, and what follows from that for one unit."""

from __future__ import annotations

from decimal import Decimal

from service.domain.currencies import minor_digits
from service.domain.labels.answer import ContainerReading, EnergyReading, PriceReading, ServingReading
from service.domain.labels.findings import Pack
from service.domain.rounding import amount as rounded

_MG_PER_G = Decimal(1000)


# What `POST /v1/normalise` takes: what lies outside is no size of a real pack, and was misread or misprinted.
_LEAST, _MOST_UNITS, _MOST_COUNT, _MOST_GRAMS = Decimal("0.001"), Decimal(1000), Decimal(1_000_000), Decimal(100_000)
_MOST_PRICE, _MOST_PRICE_DECIMALS = Decimal(10_000_000), 6
_MOST_KCAL = Decimal(10_000)


# What weighs less or more is no tablet, chew or capsule: the count or the mass is of something else.
_WEIGHED = ("tablet", "chew", "capsule", "piece")
_LEAST_UNIT_G, _MOST_UNIT_G = Decimal("0.1"), Decimal(20)


def settle(pack: Pack) -> None:
    """Complete the serving from the mass of a unit, and take back sizes that no pack has, such as 1 mcg tablets.

    Parameters
    ----------
    pack
        What was read; the characters of a size that was taken back stay in its spans, flagged ``size_implausible``.
    """
    _weigh_by_the_pack(pack)
    if pack.unit_mass_g is not None and pack.serving_mass_g is None and pack.serving_units is not None:
        same = pack.unit in (None, pack.serving_unit)
        pack.serving_mass_g = pack.unit_mass_g * pack.serving_units if same else None
    if pack.unit_volume_ml is not None and pack.serving_volume_ml is None and pack.serving_units is not None:
        same = pack.unit in (None, pack.serving_unit)
        pack.serving_volume_ml = pack.unit_volume_ml * pack.serving_units if same else None
    units = serving_units_of(pack)
    if units is not None and not _LEAST <= units <= _MOST_UNITS:
        pack.serving_units = pack.serving_unit = pack.serving_mass_g = pack.serving_volume_ml = None
        pack.serving_flags.append("size_implausible")
    if pack.serving_mass_g is not None and not _LEAST <= pack.serving_mass_g <= _MOST_GRAMS:
        pack.serving_mass_g = None
        pack.serving_flags.append("size_implausible")
    if pack.unit_mass_g is not None and not _LEAST <= pack.unit_mass_g <= _MOST_GRAMS:
        pack.unit_mass_g = None
        pack.container_flags.append("size_implausible")
    count = unit_count_of(pack, serving_units_of(pack))
    if count is not None and not _LEAST <= count <= _MOST_COUNT:
        pack.unit_count = pack.servings = pack.net_g = pack.net_ml = None
        pack.container_flags.append("size_implausible")
    energy = unit_energy_of(pack, serving_units_of(pack))
    if energy is not None and energy > _MOST_KCAL:
        pack.kcal_per_unit = pack.kcal_per_serving = pack.kcal_per_kg = None
        pack.energy_flags.append("energy_implausible")
    if pack.price is not None and not _is_price(pack.price):
        pack.price = None
        pack.price_flags.append("price_implausible")


def _weigh_by_the_pack(pack: Pack) -> None:
    """``90 tablets (180 g)``: where no size of a unit is printed, that of the pack tells it."""
    told = pack.unit_mass_g is not None or pack.serving_mass_g is not None
    if told or not pack.net_g or not pack.unit_count or (pack.packs or 1) != 1:
        return
    one = pack.net_g / pack.unit_count
    if pack.unit in _WEIGHED and _LEAST_UNIT_G <= one <= _MOST_UNIT_G:
        pack.unit_mass_g = rounded(one)
        pack.container_flags.append("unit_mass_from_net")


def _is_price(price: Decimal) -> bool:
    exponent = price.normalize().as_tuple().exponent
    return 0 < price <= _MOST_PRICE and isinstance(exponent, int) and exponent >= -_MOST_PRICE_DECIMALS


def unit_word(pack: Pack) -> str:
    """Say what one unit is called.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    str
        ``serving`` where the label gives only the mass of a serving, ``unit`` where it gives nothing.
    """
    unit = pack.serving_unit if pack.serving_unit not in (None, "serving") else pack.unit
    if unit in ("teaspoon", "tablespoon", "cup", "drop", "fluid-ounce", "litre", "centilitre", "decilitre") or (
        unit is None and pack.net_ml and pack.serving_mass_g is None and not pack.serving_is_open
    ):
        # Spoons hold millilitres: a liquid is counted in these, unless its amounts are for a serving that is not told.
        return "millilitre"
    return unit or ("serving" if pack.serving_mass_g is not None else "unit")


def serving_units_of(pack: Pack) -> Decimal | None:
    """Count the units of a serving.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    Decimal or None
        1 where a serving is told only by its mass and nothing says what a unit is; ``None`` where nothing tells it.
    """
    if pack.serving_unit is None or pack.serving_units is None:
        return Decimal(1) if pack.serving_mass_g is not None and unit_word(pack) == "serving" else None
    return pack.serving_volume_ml if unit_word(pack) == "millilitre" and pack.serving_volume_ml else pack.serving_units


def unit_count_of(pack: Pack, serving_units: Decimal | None) -> Decimal | None:
    """Count the units in the pack: as printed, in millilitres, servings times units, or net mass by that of a unit.

    Parameters
    ----------
    pack
        What the label says.
    serving_units
        Units of a serving.

    Returns
    -------
    Decimal or None
        ``None`` where nothing tells it.
    """
    if unit_word(pack) == "millilitre" and pack.net_ml is not None:
        return pack.net_ml
    if pack.unit_count is not None:
        return pack.unit_count
    if pack.servings is not None and serving_units is not None:
        return pack.servings * serving_units
    if pack.net_ml is not None and pack.unit_volume_ml:
        return rounded(pack.net_ml / pack.unit_volume_ml)
    unit_mass = _unit_mass(pack)
    return rounded(pack.net_g / unit_mass) if pack.net_g is not None and unit_mass else None


def _unit_mass(pack: Pack) -> Decimal | None:
    if pack.unit_mass_g is not None:
        return pack.unit_mass_g
    units = serving_units_of(pack)
    return pack.serving_mass_g / units if pack.serving_mass_g is not None and units else None


def unit_energy_of(pack: Pack, serving_units: Decimal | None) -> Decimal | None:
    """Give the energy of one unit in kcal.

    Parameters
    ----------
    pack
        What the label says.
    serving_units
        Units of a serving.

    Returns
    -------
    Decimal or None
        ``None`` where the label does not tell it.
    """
    if pack.kcal_per_unit is not None:
        return pack.kcal_per_unit
    if pack.kcal_per_serving is not None and serving_units:
        return rounded(pack.kcal_per_serving / serving_units) if pack.kcal_per_serving else pack.kcal_per_serving
    unit_mass = _unit_mass(pack)
    return rounded(pack.kcal_per_kg * unit_mass / _MG_PER_G) if pack.kcal_per_kg and unit_mass else None


def serving_reading(pack: Pack) -> ServingReading | None:
    """Give what is printed of the serving.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    ServingReading or None
        ``None`` where nothing is printed.
    """
    if not pack.serving_spans:
        return None
    return ServingReading(
        pack.serving_units, pack.serving_unit, pack.serving_mass_g, pack.serving_volume_ml, pack.servings_per_day,
        tuple(dict.fromkeys(pack.serving_flags)), tuple(pack.serving_spans),
    )  # fmt: skip


def container_reading(pack: Pack) -> ContainerReading | None:
    """Give what is printed of the pack.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    ContainerReading or None
        ``None`` where nothing is printed.
    """
    if not pack.container_spans:
        return None
    net_g = pack.net_g
    if net_g is None and pack.unit_count is not None and pack.unit_mass_g is not None:
        net_g = pack.unit_count * pack.unit_mass_g
    return ContainerReading(
        pack.unit_count, pack.unit, pack.servings, net_g, pack.net_ml, pack.packs, pack.unit_mass_g,
        "approximate" in pack.container_flags or "approx_mass" in pack.container_flags,
        tuple(dict.fromkeys(pack.container_flags)), tuple(pack.container_spans),
    )  # fmt: skip


def energy_reading(pack: Pack) -> EnergyReading | None:
    """Give what is printed of the energy.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    EnergyReading or None
        ``None`` where nothing is printed.
    """
    if not pack.energy_spans:
        return None
    implied = None
    unit_mass = _unit_mass(pack)
    if pack.kcal_per_unit is None and pack.kcal_per_kg and unit_mass:
        # 3,600 kcal/kg and a chew of 4 g: 14.4 kcal a chew.
        pack.kcal_per_unit = rounded(pack.kcal_per_kg * unit_mass / _MG_PER_G)
        pack.energy_flags.append("computed_from_unit_mass")
    if pack.kcal_per_unit and pack.kcal_per_kg:
        implied = rounded(pack.kcal_per_unit / pack.kcal_per_kg * _MG_PER_G)
    flags = (*pack.energy_flags, *(("implied_unit_mass",) if implied else ()))
    return EnergyReading(
        pack.kcal_per_kg, pack.kcal_per_unit, pack.kcal_per_serving, pack.unit, implied, tuple(dict.fromkeys(flags)),
        tuple(pack.energy_spans),
    )  # fmt: skip


def price_reading(pack: Pack) -> PriceReading | None:
    """Give what is printed of the price.

    Parameters
    ----------
    pack
        What the label says.

    Returns
    -------
    PriceReading or None
        ``None`` where nothing is printed.
    """
    if pack.price is None:
        return None
    digits = minor_digits(pack.currency) if pack.currency else None
    minor = int(pack.price.scaleb(digits)) if digits is not None else None
    flags = (*pack.price_flags, *(("zero_minor_units",) if digits == 0 else ()))
    return PriceReading(pack.price, pack.currency, minor, tuple(dict.fromkeys(flags)), tuple(pack.price_spans))
