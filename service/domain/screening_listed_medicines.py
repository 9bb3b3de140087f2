"""Medicines that stand on a list of ingredients: aspirin in a product, fluoxetine among the herbs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from service.domain.screening_answers import Unrecognised
from service.domain.screening_medicine_names import read_medicines
from service.domain.screening_names import CONDITIONS, MEDICATIONS, TRAITS
from service.domain.screening_subjects import Mention
from service.reference.release import Reference

_GROUP = "drug"
_ADVICE = "This is a medicine: give it under medications, so that everything else is screened against it."
_LONGEST_NAME = 100
_LISTED_APART = frozenset({MEDICATIONS, CONDITIONS, TRAITS})


def listed_medicines(reference: Reference, mentions: Iterable[Mention]) -> dict[str, str]:
    """Find the ingredients on a list that are medicines.

    Parameters
    ----------
    reference
        The release to answer from.
    mentions
        What is named; traces are left out by the caller.

    Returns
    -------
    dict of str to str
        Id of the medicine by id of the ingredient.
    """
    found: dict[str, str] = {}
    for mention in mentions:
        hazard = reference.hazards.get(mention.hazard or "")
        if hazard is None or hazard.group != _GROUP or mention.ingredient in found:
            continue
        for name in (mention.name, reference.ingredients[mention.ingredient].name):
            ids = [one.id for one in read_medicines(reference, name).recognised if one.kind == "medication"]
            if len(ids) == 1 and ids[0] is not None:
                found[mention.ingredient] = ids[0]
                break
    return found


def with_medicine_advice(reference: Reference, texts: Iterable[Unrecognised]) -> tuple[Unrecognised, ...]:
    """Say of texts on a list that were not understood whether they are medicines.

    Parameters
    ----------
    reference
        The release to answer from.
    texts
        What was not understood.

    Returns
    -------
    tuple of Unrecognised
        With the advice to give medicines as such.
    """
    return tuple(
        replace(one, nearest=(), advice=_ADVICE)
        if one.where not in _LISTED_APART
        and one.advice is None
        and len(one.text) <= _LONGEST_NAME
        and read_medicines(reference, one.text).recognised
        else one
        for one in texts
    )
