"""From a printed amount to mg of the labelled substance, and of its moiety, in one unit of the product."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.amounts import LabelAmount
from service.domain.fact_names import FactReading
from service.domain.products import Product

_MG_PER_G = Decimal(1000)
_MILLILITRES = {"ml", "millilitre", "milliliter"}
# Natural and all-racemic vitamin E have different activity per mg; the name tells which (source chem-s08, chem-s11).
_NATURAL = re.compile(r"(?<![a-z])(?:d|rrr)-?\s?(?:alpha|\u03b1)", re.IGNORECASE)
_RACEMIC = re.compile(r"(?<![a-z])(?:dl|all-?\s?rac)-?\s?(?:alpha|\u03b1)", re.IGNORECASE)
# US label rule: 1 IU of the synthetic form counts as 0.45 mg alpha-tocopherol, of the natural one as 0.67 (chem-s08).
_SYNTHETIC_ACTIVE_MG_PER_IU = Decimal("0.45")


@dataclass(frozen=True, slots=True)
class MassReading:
    """mg per unit of the product; ``None`` where the label gives no mass. ``printed_mg`` is per serving, as printed."""

    mg_low: Decimal | None
    mg_high: Decimal | None
    moiety_low_mg: Decimal | None
    moiety_high_mg: Decimal | None
    printed_mg: Decimal | None
    flags: tuple[str, ...]


NO_MASS = MassReading(None, None, None, None, None, ())


def mass_reading(name: str, reading: FactReading, amount: LabelAmount, product: Product) -> MassReading:
    """Turn a printed amount into mg per unit.

    Parameters
    ----------
    name
        The fact's name as printed (tells natural from synthetic vitamin E).
    reading
        What the name refers to.
    amount
        The printed amount, per serving.
    product
        Gives serving size and unit mass.

    Returns
    -------
    MassReading
        mg of the labelled substance and of its moiety in one unit; low and high where the label leaves them open.
    """
    # "500 mg per chew" says itself what it is for; everything else is per serving.
    stated_per_unit = amount.per is not None and _same_unit(amount.per, product.unit)
    per_unit = Decimal(1) if stated_per_unit else Decimal(1) / (product.serving_units or Decimal(1))
    dimension = amount.unit.dimension
    if dimension == "mass":
        low, high = amount.low * amount.unit.factor, amount.high * amount.unit.factor
        return _with_moiety(low * per_unit, high * per_unit, low, reading, _hidden(reading))
    if dimension == "iu":
        return _from_iu(name, reading, amount, per_unit)
    if dimension in ("mass_per_mass", "fraction"):
        return _from_share(reading, amount, product)
    if dimension == "iu_per_mass" and (unit_mass_g := _unit_mass_g(product)) is not None:
        # Units of this dimension are IU per kg: 1 g of product holds a thousandth of them.
        return _from_iu(name, reading, amount, amount.unit.factor * unit_mass_g / _MG_PER_G)
    if dimension == "mass_per_volume" and product.unit.casefold() in _MILLILITRES:
        factor = amount.unit.factor
        return _with_moiety(amount.low * factor, amount.high * factor, None, reading, ())
    if dimension in ("mass_per_volume", "iu_per_mass"):
        return replace(NO_MASS, flags=("no_serving_mass",))
    return replace(NO_MASS, flags=("no_mass_in_this_unit",))


def _same_unit(one: str, other: str) -> bool:
    return one.rstrip("s") in other.casefold() or other.casefold().rstrip("s") in one


def _hidden(reading: FactReading) -> tuple[str, ...]:
    return () if reading.members == () else ("members_not_credited",)


def _with_moiety(
    low: Decimal, high: Decimal, printed: Decimal | None, reading: FactReading, flags: tuple[str, ...]
) -> MassReading:
    if reading.share_low is None or reading.share_high is None:
        return MassReading(low, high, None, None, printed, flags)
    return MassReading(low, high, low * reading.share_low, high * reading.share_high, printed, flags)


def _from_iu(name: str, reading: FactReading, amount: LabelAmount, per_unit: Decimal) -> MassReading:
    form = reading.form
    if form is None or form.iu_per_mg_low is None or form.iu_per_mg_high is None:
        return replace(NO_MASS, flags=("no_iu_factor",))
    least, most = form.iu_per_mg_low, form.iu_per_mg_high
    racemic = _RACEMIC.search(name) is not None
    if racemic:
        most = least
    elif _NATURAL.search(name):
        least = most
    low, high = amount.low / most, amount.high / least
    share = (form.share_low or Decimal(1)) if form.kind != "as_labelled" else Decimal(1)
    flags: tuple[str, ...] = ()
    moiety_low = low * share
    if least != most or racemic:
        # By mass and by activity a synthetic IU holds different amounts: low for value, high for limits.
        moiety_low, flags = min(moiety_low, amount.low * _SYNTHETIC_ACTIVE_MG_PER_IU), ("two_vitamin_e_bases",)
    return MassReading(
        low * per_unit, high * per_unit, moiety_low * per_unit, high * share * per_unit,
        low if low == high else None, flags,
    )  # fmt: skip


def _unit_mass_g(product: Product) -> Decimal | None:
    if product.unit_mass_g is None and product.serving_mass_g is not None:
        return product.serving_mass_g / (product.serving_units or Decimal(1))
    return product.unit_mass_g


def _from_share(reading: FactReading, amount: LabelAmount, product: Product) -> MassReading:
    """``8000 mg/kg`` or ``16 %`` of the product needs the mass of a unit, which only the label can give."""
    unit_mass_g = _unit_mass_g(product)
    if unit_mass_g is None:
        return replace(NO_MASS, flags=("no_serving_mass",))
    # The factor of these units is the share of the whole: 0.01 for %, 0.000001 for mg/kg.
    scale = amount.unit.factor * unit_mass_g * _MG_PER_G
    return _with_moiety(amount.low * scale, amount.high * scale, None, reading, ())


def restated_mg(reading: FactReading, amount: LabelAmount) -> Decimal | None:
    """Turn a second figure for the same amount, ``25 mcg (1,000 IU)``, into mg.

    Parameters
    ----------
    reading
        What the fact's name refers to; its form gives the IU factor.
    amount
        The printed amount with its second figure.

    Returns
    -------
    Decimal or None
        mg per serving; ``None`` where there is no second figure or no factor for it.
    """
    if amount.restated is None:
        return None
    number, unit = amount.restated
    if unit.dimension == "mass":
        return number * unit.factor
    if unit.dimension == "iu" and reading.form is not None and reading.form.iu_per_mg_high is not None:
        return number / reading.form.iu_per_mg_high
    return None
