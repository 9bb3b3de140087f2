"""From a printed amount to mg of the labelled substance, and of its moiety, in one unit of the product."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.amounts import LabelAmount
from service.domain.fact_names import FactReading
from service.domain.international_units import mass_of_units
from service.domain.products import Product
from service.reference.release import Reference

_MG_PER_G = Decimal(1000)
# 1 mcg of retinol activity is 1 mcg of retinol, 1 mg of tocopherol equivalent 1 mg of alpha-tocopherol.
_MG_PER_EQUIVALENT = {"mcg RAE": Decimal("0.001"), "mcg RE": Decimal("0.001"), "mg alpha-TE": Decimal(1)}
_MILLILITRES = {"ml", "millilitre", "milliliter"}


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


def mass_reading(
    reference: Reference, name: str, reading: FactReading, amount: LabelAmount, product: Product
) -> MassReading:
    """Turn a printed amount into mg per unit.

    Parameters
    ----------
    reference
        The release to answer from.
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
    per_unit = Decimal(1) / (amount.per_units or product.serving_units or Decimal(1))
    dimension = amount.unit.dimension
    if amount.bound in ("max", "less_than"):
        # "Up to 500 mg" promises nothing: none is credited, all of it is counted against limits.
        amount = replace(amount, low=Decimal(0))
    if dimension == "mass":
        low, high = amount.low * amount.unit.factor, amount.high * amount.unit.factor
        found = _with_moiety(low * per_unit, high * per_unit, low, reading, _hidden(reading))
        if reading.stated_mg is None:
            return found
        stated_low, stated_high = reading.stated_mg
        return replace(found, moiety_low_mg=stated_low * per_unit, moiety_high_mg=stated_high * per_unit)
    if dimension == "iu":
        return _from_iu(reference, name, reading, amount, per_unit)
    if dimension == "vitamin_equivalent" and amount.unit.base_unit in _MG_PER_EQUIVALENT and reading.form is not None:
        # An equivalent is a mass of the vitamin itself, whatever compound supplies it (chem-s07).
        factor = amount.unit.factor * _MG_PER_EQUIVALENT[amount.unit.base_unit] * per_unit
        low, high = amount.low * factor, amount.high * factor
        return MassReading(None, None, low, high, None, ("activity_unit",))
    if dimension in ("mass_per_mass", "fraction"):
        return _from_share(reading, amount, product)
    if dimension == "iu_per_mass" and (unit_mass_g := _unit_mass_g(product)) is not None:
        # Units of this dimension are IU per kg: 1 g of product holds a thousandth of them.
        return _from_iu(reference, name, reading, amount, amount.unit.factor * unit_mass_g / _MG_PER_G)
    if dimension in ("mass_per_volume", "iu_per_volume"):
        return _from_volume(reference, name, reading, amount, product)
    if dimension == "iu_per_mass":
        return replace(NO_MASS, flags=("no_serving_mass",))
    return replace(NO_MASS, flags=("no_mass_in_this_unit",))


def _from_volume(
    reference: Reference, name: str, reading: FactReading, amount: LabelAmount, product: Product
) -> MassReading:
    """``100 mg/ml`` is an amount of a unit where the units are millilitres; else the volume of a unit is not known."""
    if product.unit.casefold() not in _MILLILITRES:
        return replace(NO_MASS, flags=("no_serving_mass",))
    factor = amount.unit.factor
    if amount.unit.dimension == "iu_per_volume":
        return _from_iu(reference, name, reading, amount, factor)
    return _with_moiety(amount.low * factor, amount.high * factor, None, reading, ())


def _hidden(reading: FactReading) -> tuple[str, ...]:
    return () if reading.members == () else ("members_not_credited",)


def _with_moiety(
    low: Decimal, high: Decimal, printed: Decimal | None, reading: FactReading, flags: tuple[str, ...]
) -> MassReading:
    if reading.share_low is None or reading.share_high is None:
        return MassReading(low, high, None, None, printed, flags)
    return MassReading(low, high, low * reading.share_low, high * reading.share_high, printed, flags)


def _from_iu(
    reference: Reference, name: str, reading: FactReading, amount: LabelAmount, per_unit: Decimal
) -> MassReading:
    found = mass_of_units(reference, reading.form, amount.low, amount.high, name) if reading.form is not None else None
    if found is None:
        return replace(NO_MASS, flags=("no_iu_factor",))
    return MassReading(
        found.low_mg * per_unit, found.high_mg * per_unit,
        found.moiety_low_mg * per_unit, found.moiety_high_mg * per_unit,
        found.low_mg if found.low_mg == found.high_mg else None, found.flags,
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
