"""How a request states the animal and the dataset release."""

from __future__ import annotations

from service.domain.common import SPECIES
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import Choice, Number, Text

_ONE_OF_THREE = " Give exactly one of `weight`, `weight_kg` and `weight_lb`."


def _species() -> Choice:
    """Declare the species."""
    return Choice("Species of the animal.", among=SPECIES, required=True, example="dog")


def weight() -> Text:
    """Declare the weight as text with a unit."""
    return Text(
        "Body weight with its unit: `34 kg`, `75lb`, `75 lb 8 oz`, `4 st 7 lb`. A number without a unit is refused. "
        "Accepted are 0.1 to 120 kg for dogs and 0.1 to 15 kg for cats." + _ONE_OF_THREE,
        longest=60,
        example="34 kg",
    )


def weight_kg() -> Number:
    """Declare the weight in kg."""
    description = "Body weight in kilograms; at most 15 for cats." + _ONE_OF_THREE
    return Number(description, least="0.1", most=120)


def weight_lb() -> Number:
    """Declare the weight in pounds."""
    description = "Body weight in pounds; 0.1 to 120 kg for dogs, 0.1 to 15 kg for cats." + _ONE_OF_THREE
    return Number(description, least="0.22", most="264.6")


def _age_years() -> Number:
    """Declare the age."""
    return Number(
        "Age in years; amounts for an animal under one year carry a caution or are refused.", most=40, example=6
    )


class PinnedQuerySchema(RequestSchema):
    """Query of an endpoint that computes from the dataset."""

    dataset = Text("Dataset release to answer from; without it the newest serves.", longest=20, example="1.0.0")


class AnimalQuerySchema(PinnedQuerySchema):
    """Query of an endpoint that needs one animal."""

    species = _species()
    weight = weight()
    weight_kg = weight_kg()
    weight_lb = weight_lb()
    age_years = _age_years()


class AnimalSchema(RequestSchema):
    """One animal. Exactly one of the three weights, except where a weight is optional."""

    species = _species()
    weight = weight()
    weight_kg = weight_kg()
    weight_lb = weight_lb()
    age_years = _age_years()
