"""The animal of a workbench in one sentence."""

from __future__ import annotations

from service.domain.common import Animal
from service.domain.rounding import significant
from service.pages.wording import number


def animal_sentence(animal: Animal | None, medications: tuple[str, ...], conditions: tuple[str, ...]) -> str:
    """Say whom the answers are for: ``For a dog of 34 kg, 11 years old, that takes carprofen.``

    Parameters
    ----------
    animal
        The animal, ``None`` where it could not be read.
    medications, conditions
        As told.

    Returns
    -------
    str
        Empty without an animal.
    """
    if animal is None or animal.weight_kg is None:
        return ""
    parts = [f"For a {animal.species} of {number(significant(animal.weight_kg, 4))} kg"]
    if animal.age_years is not None:
        parts.append(f"{number(animal.age_years)} {'year' if animal.age_years == 1 else 'years'} old")
    if medications:
        parts.append(f"that takes {', '.join(medications)}")
    if conditions:
        parts.append(f"with {', '.join(conditions)}")
    return ", ".join(parts) + "."
