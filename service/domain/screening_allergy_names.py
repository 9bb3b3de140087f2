"""Allergies in plain words: which food "allergic to cod" or "poulet: allergie" is about."""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.resolving import resolver_for
from service.domain.screening_names import name_words
from service.reference.release import Reference

FISH, SHELLFISH, ANY_FOOD = "fish-allergy", "shellfish-allergy", "food-allergy"
# The entries of the dataset that these two allergies are about.
ENTRY_OF = {FISH: "fish", SHELLFISH: "shellfish-chitin"}
_ALLERGY = frozenset(
    "allergy allergies allergic allergie allergique alergia alergico alergica allergisch intolerance intolerant "
    "intolerancia unvertraglichkeit sensitivity sensitivities hypersensitivity".split()
)
# What the text of an allergy says besides the food.
_BESIDES = frozenset(
    "reaction adverse food foods futtermittelallergie futterallergie alimentaire alimentaria to the a an of and or is "
    "has with had severe mild known suspected possible cannot have eat sensitive gegen au aux a la al del de du des "
    "los las el protein proteins skin itchy dog cat".split()
)


def foods_said(text: str) -> frozenset[str]:
    """List the words of an allergy that name the food.

    Parameters
    ----------
    text
        As written, for example ``allergic to prawns``.

    Returns
    -------
    frozenset of str
        In the singular of this module, for example ``prawn``; empty where no food is named.
    """
    return singular(word for word in name_words(text) if word not in _BESIDES | _ALLERGY)


def singular(words: Iterable[str]) -> frozenset[str]:
    """Take "prawns" and "prawn" as one word, in what is said and on the label alike.

    Parameters
    ----------
    words
        Comparable words.

    Returns
    -------
    frozenset of str
        Without a last "s".
    """
    return frozenset(word[:-1] if word.endswith("s") and len(word) > 3 else word for word in words)


def allergy_to(reference: Reference, text: str) -> str | None:
    """Say which allergy a text means by the food that it names.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written, for example ``allergic to cod``.

    Returns
    -------
    str or None
        Id of a condition; ``None`` where no allergy is spoken of, or to something that is no known ingredient: pollen,
        fleas, penicillin.
    """
    words = name_words(text)
    food = " ".join(word for word in words if word not in _BESIDES | _ALLERGY)
    if not food or _ALLERGY.isdisjoint(words):
        return None
    resolution = resolver_for(reference).resolve(food, suggest=False)
    if resolution.match != "exact" or not resolution.meanings or resolution.negated:
        return None
    meant = {meaning.ingredient for meaning in resolution.meanings}
    found = next((allergy for allergy, entry in ENTRY_OF.items() if entry in meant), ANY_FOOD)
    return found if found in reference.conditions else None
