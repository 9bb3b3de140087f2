"""Short ways to ask for an exposure in tests."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.exposure import exposure
from service.domain.exposure_answer import ExposureAnswer, ExposureRequest
from service.domain.weights import parse_weight
from service.reference.release import Reference


def ask(
    reference: Reference,
    substance: str,
    amount: str,
    *,
    species: str = "dog",
    weight: str = "10 kg",
    age_years: str | None = None,
) -> ExposureAnswer:
    """Ask for a dog of 10 kg unless told otherwise."""
    age = Decimal(age_years) if age_years else None
    return exposure(reference, ExposureRequest(Animal(species, parse_weight(weight), age), substance, amount))


def reached(answer: ExposureAnswer) -> set[str]:
    """Give the ids of the thresholds that are reached."""
    return {row.id for row in answer.thresholds if row.reached}


def codes(answer: ExposureAnswer) -> set[str]:
    """Give the codes of the cautions."""
    return {caution.code for caution in answer.cautions}
