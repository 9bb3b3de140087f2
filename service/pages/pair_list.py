"""Recorded pairs of an ingredient with medicines, illnesses and other ingredients."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from service.domain.screening_answers import LEVELS
from service.pages.ingredient_words import EVIDENCE_OF_A_PAIR
from service.pages.wording import words
from service.reference.records import Interaction
from service.reference.release import Reference

_GROUPS = (
    ("ingredient-medication", "With medicines"),
    ("ingredient-condition", "With illnesses and states"),
    ("ingredient-ingredient", "With other ingredients"),
)


class _Named(Protocol):
    """Any record with a name."""

    @property
    def name(self) -> str:
        """What people call it."""
        ...


@dataclass(frozen=True, slots=True)
class PairView:
    """One recorded pair. ``through`` names what it is recorded for, where that is not the ingredient itself."""

    id: str
    level: str
    other: str
    through: str | None
    effect: str
    action: str
    doubt: str | None
    evidence: str
    species: str
    origin: str
    source_ids: tuple[str, ...]


def present_pairs(
    reference: Reference, ingredient_id: str, rows: tuple[Interaction, ...]
) -> tuple[tuple[str, tuple[PairView, ...]], ...]:
    """Give the pairs under a heading per kind, the gravest first."""
    ordered = sorted(rows, key=lambda row: -LEVELS.index(row.level))
    groups = (
        (heading, tuple(_pair(reference, ingredient_id, row) for row in ordered if row.kind == kind))
        for kind, heading in _GROUPS
    )
    return tuple((heading, pairs) for heading, pairs in groups if pairs)


def _pair(reference: Reference, ingredient_id: str, row: Interaction) -> PairView:
    a, b = (row.a_kind, row.a_id), (row.b_kind, row.b_id)
    if b == ("ingredient", ingredient_id):
        a, b = b, a
    return PairView(
        id=row.id,
        level=row.level,
        other=_name(reference, *b),
        through=None if a == ("ingredient", ingredient_id) else _name(reference, *a),
        effect=row.effect,
        action=row.action,
        doubt=row.limit_or_conflict,
        evidence=EVIDENCE_OF_A_PAIR.get(row.evidence, words(row.evidence)),
        species=" and ".join(f"{species}s" for species in row.species),
        origin=row.origin,
        source_ids=row.source_ids,
    )


def _name(reference: Reference, kind: str, id_: str) -> str:
    groups = {row.id: row for row in reference.tables["ingredient_groups"]}
    of_kind: dict[str, Mapping[str, _Named]] = {
        "ingredient": reference.ingredients,
        "ingredient_group": groups,
        "medication": reference.medications,
        "drug_class": reference.drug_classes,
        "condition": reference.conditions,
    }
    return of_kind[kind][id_].name
