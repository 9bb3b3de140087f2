"""What follows from a class of medicines that is given without saying which medicine of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from service.reference.release import Reference

# Fewer than this many listed medicines are no basis to speak of the class.
_FEWEST_MEMBERS = 2
_ANY_ORAL = "any-oral"


@lru_cache(maxsize=1024)
def implied_classes(reference: Reference, class_id: str) -> tuple[str, ...]:
    """List the wider classes that every listed medicine of a class belongs to.

    Parameters
    ----------
    reference
        The release to answer from.
    class_id
        Id of a class of medicines, for example ``ssri``.

    Returns
    -------
    tuple of str
        For example ``serotonergic-drug``; empty for a class with fewer than two listed medicines, of which one alone
        would speak for all.
    """
    members = _members(reference).get(class_id, frozenset())
    if len(members) < _FEWEST_MEMBERS:
        return ()
    return tuple(id_ for id_, others in _members(reference).items() if id_ != class_id and members <= others)


@lru_cache(maxsize=1024)
def narrower_members(reference: Reference, class_id: str) -> tuple[tuple[str, str], ...]:
    """List the medicines of a class and the classes that lie wholly inside it, as kind and id.

    Parameters
    ----------
    reference
        The release to answer from.
    class_id
        Id of a class of medicines, for example ``antibacterial``.

    Returns
    -------
    tuple of (str, str)
        ``medication`` or ``drug_class`` with the id, ``any-oral`` where one of them is given by mouth; classes of equal
        extent are left out.
    """
    members = _members(reference).get(class_id, frozenset())
    inside = [id_ for id_, others in _members(reference).items() if others < members]
    inside += [_ANY_ORAL] if any(reference.medications[id_].given_by_mouth for id_ in members) else []
    return (*(("medication", id_) for id_ in sorted(members)), *(("drug_class", id_) for id_ in inside))


@lru_cache(maxsize=8)
def _members(reference: Reference) -> Mapping[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for medicine in reference.medications.values():
        for class_id in medicine.class_ids:
            found.setdefault(class_id, set()).add(medicine.id)
    return MappingProxyType({id_: frozenset(members) for id_, members in found.items()})
