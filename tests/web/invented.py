"""Invented requests that are accepted as they stand; tests break one thing at a time."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

DOSE = {"species": "dog", "weight": "34 kg", "ingredient": "glucosamine"}

_PRODUCT: dict[str, Any] = {
    "id": "p1",
    "name": "Plain tablet",
    "unit": "tablet",
    "unit_count": 120,
    "price": 14.40,
    "currency": "USD",
    "serving": {"units": 2},
    "unit_energy_kcal": None,
    "divisible": "halves",
    "facts": [{"name": "Glucosamine HCl", "amount": "1000 mg"}, {"name": "MSM", "amount": "400 mg"}],
    "other_ingredients": "cellulose, magnesium stearate",
}


def product(**changes: object) -> dict[str, Any]:
    """Give the invented tablet, changed."""
    return {**deepcopy(_PRODUCT), **changes}


def normalise_body() -> dict[str, Any]:
    """Give a body for ``POST /v1/normalise``."""
    return {"product": product()}


def compare_body(**changes: object) -> dict[str, Any]:
    """Give a body for ``POST /v1/compare``."""
    other = product(id="p2", name="Dear tablet", price=40, serving={"units": 1})
    body = {
        "animal": {"species": "dog", "weight": "34 kg", "age_years": 6},
        "targets": [{"ingredient": "glucosamine"}],
        "products": [product(), other],
    }
    return {**body, **changes}


def screen_body(**changes: object) -> dict[str, Any]:
    """Give a body for ``POST /v1/screen``."""
    return {"animal": {"species": "dog", "weight_kg": 34}, "ingredients_text": "cellulose", **changes}
