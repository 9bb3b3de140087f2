"""Names of medicines and conditions, looked up exactly."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from service.domain.screening_answers import Recognised, Unrecognised
from service.domain.suggesting import nearest_ids
from service.reference.release import Reference


def fold_name(text: str) -> str:
    """Make the name of a medicine or condition comparable: case, blanks and apostrophes; never endings."""
    return " ".join(text.replace("\u2019", "'").casefold().replace("-", " ").replace("_", " ").split())


def read_medicine(reference: Reference, text: str) -> Recognised | Unrecognised:
    """Look a medicine up by generic name, variant or class.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written. Nothing is guessed from an ending.

    Returns
    -------
    Recognised or Unrecognised
        Kind ``medication`` or ``drug_class``; else the nearest generic names, which are never taken as meant.
    """
    kind, id_ = _medicine_names(reference).get(fold_name(text), ("", ""))
    if id_:
        return Recognised(text, "medications", kind, id_)
    medicines, classes = reference.medications.values(), reference.drug_classes.values()
    generic = (*(row.name for row in medicines), *(row.name for row in classes))
    return Unrecognised(text, "medications", nearest_ids(text, generic))


def read_condition(reference: Reference, text: str) -> Recognised | Unrecognised:
    """Look a condition or trait up by id, name or synonym.

    Parameters
    ----------
    reference
        The release to answer from.
    text
        As written.

    Returns
    -------
    Recognised or Unrecognised
        Kind ``condition``; else the nearest names.
    """
    id_ = _condition_names(reference).get(fold_name(text))
    if id_ is not None:
        return Recognised(text, "conditions", "condition", id_)
    return Unrecognised(text, "conditions", nearest_ids(text, (row.name for row in reference.conditions.values())))


@lru_cache(maxsize=8)
def _medicine_names(reference: Reference) -> Mapping[str, tuple[str, str]]:
    names: dict[str, tuple[str, str]] = {}
    # A word that is both one medicine and a class ("tetracycline") means the medicine: that is the narrower claim.
    for medicine in reference.medications.values():
        for name in (medicine.id, medicine.name, *medicine.variants):
            names.setdefault(fold_name(name), ("medication", medicine.id))
    for drug_class in reference.drug_classes.values():
        for name in (drug_class.id, drug_class.name, *drug_class.variants):
            names.setdefault(fold_name(name), ("drug_class", drug_class.id))
    return MappingProxyType(names)


@lru_cache(maxsize=8)
def _condition_names(reference: Reference) -> Mapping[str, str]:
    names: dict[str, str] = {}
    for row in reference.conditions.values():
        for name in (row.id, row.name, *row.synonyms):
            names.setdefault(fold_name(name), row.id)
    return MappingProxyType(names)
