"""Builds the indexes of the newest release before the first request has to wait for them."""

from __future__ import annotations

from service.domain.common import Animal
from service.domain.describing import list_ingredients
from service.domain.screening import screen
from service.domain.screening_answers import ScreenRequest
from service.reference.release import Reference


def warm_up(reference: Reference) -> None:
    """Ask one question of each kind that builds an index; all are kept from then on."""
    for species in ("dog", "cat"):
        list_ingredients(reference, q="glucosamine", species=species)
        animal = Animal(species=species)
        screen(reference, ScreenRequest(animal, "cellulose", medications=("carprofen",), conditions=("epilepsy",)))
