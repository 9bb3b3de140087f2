"""The invented case that ``fabella demo``, the documentation, the screenshots and the tests share.

One file, ``scenario.json``, holds a small shelter of our own making: animals, the printed labels of a dozen products,
what reading these labels gives, and what the screen says. The functions below make of it what requests take.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from importlib import resources
from typing import Any
from urllib.parse import quote, urlencode

Case = dict[str, Any]

# What a request says of an animal; the rest of the case's entry is for people.
_OF_ANIMAL = ("species", "weight", "age_years")
_ENTERED_BY_HAND = ("id", "name", "divisible")


def scenario() -> Case:
    """Return a fresh copy of the whole invented case."""
    loaded: Case = json.loads(resources.files(__name__).joinpath("scenario.json").read_text("utf-8"))
    return loaded


def animals() -> list[Case]:
    """Return every animal of the shelter, with its name, medicines and conditions."""
    return list(scenario()["animals"])


def animal(animal_id: str = "bramble") -> Case:
    """Return one animal of the shelter."""
    return _one_of(animals(), animal_id)


def products() -> list[Case]:
    """Return every product as request bodies take it."""
    return list(scenario()["products"])


def product(product_id: str) -> Case:
    """Return one product as request bodies take it."""
    return _one_of(products(), product_id)


def label(product_id: str) -> str:
    """Return what is printed on a product."""
    return "\n".join(scenario()["labels"][product_id])


def as_read(entry: Mapping[str, Any]) -> Case:
    """Return the part of a product that its label and its price tell, as reading the label gives it."""
    return {name: value for name, value in entry.items() if name not in _ENTERED_BY_HAND}


def animal_body(entry: Mapping[str, Any]) -> Case:
    """Return an animal as request bodies name it."""
    return {name: entry[name] for name in _OF_ANIMAL}


def dose_path(entry: Mapping[str, Any], ingredient: str) -> str:
    """Return the address that asks for the daily amounts of one animal."""
    query = {**animal_body(entry), "ingredient": ingredient}
    return "/v1/dose?" + urlencode(query, quote_via=quote)


def label_body(entry: Mapping[str, Any]) -> Case:
    """Return the body that has a product's label read; the price of the shelf goes with it."""
    priced = {name: entry[name] for name in ("price", "currency")}
    return {"text": label(entry["id"]), **priced}


def compare_body(entry: Mapping[str, Any], several: Sequence[Case], ingredient: str) -> Case:
    """Return the body that ranks products for one animal."""
    return {"animal": animal_body(entry), "targets": [{"ingredient": ingredient}], "products": list(several)}


def screen_body(entry: Mapping[str, Any], given: Case, units_per_day: float | None = None) -> Case:
    """Return the body that screens a product for one animal; one serving a day unless told otherwise."""
    units = given["serving"]["units"] if units_per_day is None else units_per_day
    return {
        "animal": animal_body(entry),
        "products": [{**given, "units_per_day": units}],
        "medications": entry["medications"],
        "conditions": entry["conditions"],
    }


def plan_body(entry: Mapping[str, Any], several: Sequence[Case], ingredient: str, years: int) -> Case:
    """Return the body that plans some years of each product for one animal, side by side, with dates."""
    return {
        "animal": animal_body(entry),
        "products": list(several),
        "ingredient": ingredient,
        "start_date": scenario()["course"]["start_date"],
        "horizon_years": years,
        "medications": entry["medications"],
        "conditions": entry["conditions"],
    }


def combine_body(entry: Mapping[str, Any], several: Sequence[Case], ingredients: Sequence[str]) -> Case:
    """Return the body that asks for the cheapest products that reach several ingredients at once."""
    return {
        "animal": animal_body(entry),
        "targets": [{"ingredient": ingredient} for ingredient in ingredients],
        "products": list(several),
        "medications": entry["medications"],
        "conditions": entry["conditions"],
    }


def care_note_body() -> Case:
    """Return the body that writes the care note of the invented course."""
    case = scenario()
    course = case["course"]
    entry = _one_of(case["animals"], course["animal"])
    given = [
        {**_one_of(case["products"], part["product"]), **{name: part[name] for name in part if name != "product"}}
        for part in course["given"]
    ]
    told = {name: course[name] for name in ("start_date", "note_date", "observations", "questions")}
    return {
        "animal": {**animal_body(entry), "name": entry["name"], "identification": course["identification"]},
        "products": given,
        "medications": entry["medications"],
        "conditions": entry["conditions"],
        **told,
    }


def _one_of(entries: Sequence[Case], wanted: str) -> Case:
    (found,) = [entry for entry in entries if entry["id"] == wanted]
    return found
