"""From a validated product object to the domain's product."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from service.domain.errors import InvalidInput, Issue
from service.domain.products import LabelFact, Product

_SAME_NAME = ("name", "unit", "unit_count", "price", "currency", "unit_mass_g", "unit_energy_kcal", "divisible")
_ALSO_SAME_NAME = ("other_ingredients", "units_per_day", "locale")


def read_product(values: Mapping[str, Any], where: str, default_id: str = "p1") -> Product:
    """Build a product.

    Parameters
    ----------
    values
        What the product schema loaded.
    where
        Path of the object in the body, for errors.
    default_id
        Id of a product that was given none.

    Returns
    -------
    Product
        With everything not given left at the domain's own defaults.

    Raises
    ------
    InvalidInput
        If a price has no currency or a currency no price.
    """
    check_price(values, f"{where}/")
    serving = values.get("serving") or {}
    return Product(
        id=values.get("id", default_id),
        serving_units=serving.get("units"),
        serving_mass_g=serving.get("mass_g"),
        facts=tuple(LabelFact(fact["name"], fact.get("amount")) for fact in values["facts"]),
        **{name: values[name] for name in (*_SAME_NAME, *_ALSO_SAME_NAME) if name in values},
    )


def check_price(values: Mapping[str, Any], where: str) -> None:
    """Refuse a price without a currency and a currency without a price; ``where`` is the path with its slash."""
    if (values.get("price") is None) != (values.get("currency") is None):
        missing = "currency" if values.get("currency") is None else "price"
        raise InvalidInput(Issue(f"{where}{missing}", "is required: a price and its currency are given together"))


def read_products(several: Sequence[Mapping[str, Any]], where: str, letter: str) -> tuple[Product, ...]:
    """Build products whose ids must differ; one without an id is numbered by its position."""
    products = tuple(
        read_product(values, f"{where}/{index}", f"{letter}{index + 1}") for index, values in enumerate(several)
    )
    seen: set[str] = set()
    for index, product in enumerate(products):
        if product.id in seen:
            raise InvalidInput(
                Issue(f"{where}/{index}/id", f"{product.id!r} is used by another product; ids must differ")
            )
        seen.add(product.id)
    return products
