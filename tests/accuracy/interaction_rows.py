"""Requests that reach an interaction row through the screen, built from the row itself."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from service.domain.screening import ScreenAnswer
from service.reference.records import Interaction
from service.reference.release import Reference
from tests.domain.screening_requests import ask

_MOST_PAIRS = 12


def screens_of(reference: Reference, row: Interaction) -> Iterator[ScreenAnswer]:
    """Screen every species and pair that a row speaks of, spread evenly where there are many pairs."""
    names = reference.names_by_ingredient
    for species, (a, b) in product(row.species, _pairs(reference, row)):
        if row.b_kind == "condition":
            yield ask(reference, names[a][0], species=species, conditions=(reference.conditions[b].name,))
        elif row.b_kind in ("medication", "drug_class"):
            yield ask(reference, names[a][0], species=species, medications=(reference.medications[b].name,))
        else:
            # Twice the same ingredient has to be two lines.
            second = names[b][1] if a == b else names[b][0]
            yield ask(reference, f"{names[a][0]}, {second}", species=species)


def reaches(answer: ScreenAnswer, row: Interaction) -> bool:
    """Say whether an answer shows a row, or names it as overruled by one that it shows."""
    shown = {id_ for finding in answer.findings for id_ in finding.record_ids}
    overruled = {one.record_id: one.by for one in answer.overruled}
    return row.id in shown or overruled.get(row.id) in shown


def _members(reference: Reference, kind: str, id_: str) -> list[str]:
    """Ids that a side of a row stands for: of a group all ingredients, of a class all medicines."""
    if kind == "ingredient_group":
        return [row.id for row in reference.ingredients.values() if id_ in row.group_ids]
    if kind == "drug_class" and id_ == "any-oral":
        return [row.id for row in reference.medications.values() if row.given_by_mouth]
    if kind == "drug_class":
        return [row.id for row in reference.medications.values() if id_ in row.class_ids]
    return [id_]


def _pairs(reference: Reference, row: Interaction) -> list[tuple[str, str]]:
    if row.a_kind == "ingredient" and row.a_id == row.b_id:
        return [(row.a_id, row.a_id)]
    sides = (_members(reference, row.a_kind, row.a_id), _members(reference, row.b_kind, row.b_id))
    found = [(a, b) for a, b in product(*sides) if not _one_thing(reference, a, b)]
    return found[:: max(1, len(found) // _MOST_PAIRS)]


def _one_thing(reference: Reference, a: str, b: str) -> bool:
    """Fish oil and its EPA, turmeric and its curcumin: what is screened as one is no pair."""
    meant = [
        {id_, *reference.ingredients[id_].screened_as_ids} if id_ in reference.ingredients else {id_} for id_ in (a, b)
    ]
    return not meant[0].isdisjoint(meant[1])
