"""What is known of an ingredient where no amount of it is."""

from __future__ import annotations

from dataclasses import dataclass

from service.domain.errors import NoGuidance
from service.domain.suggesting import nearest_ids
from service.reference.release import Reference


@dataclass(frozen=True, slots=True)
class KnownInsteadView:
    """What the page says instead of an amount. ``is_hazard``: the thing is recorded as harmful to the species."""

    ingredient: str
    ingredient_name: str
    species: str
    is_hazard: bool
    evidence_verdict: str | None
    evidence_summary: str | None
    regimen_count: int
    limit_count: int
    hazard_names: tuple[str, ...]
    source_ids: tuple[str, ...]


def present_known(reference: Reference, error: NoGuidance) -> KnownInsteadView:
    """Arrange what the release knows of an ingredient that it holds no amount of."""
    known = error.known
    row = reference.ingredients[known.ingredient]
    return KnownInsteadView(
        ingredient=row.id,
        ingredient_name=row.name,
        species=known.species,
        is_hazard=row.kind == "hazard" and bool(known.hazard_ids),
        evidence_verdict=known.evidence_verdict,
        evidence_summary=known.evidence_summary,
        regimen_count=len(known.regimen_ids),
        limit_count=len(known.limit_ids),
        hazard_names=tuple(reference.hazards[id_].name for id_ in known.hazard_ids),
        source_ids=known.source_ids,
    )


def guided(reference: Reference, species: str | None = None) -> tuple[tuple[str, str], ...]:
    """List id and name of the ingredients with an amount, by name; of every species where none is given."""
    found = {id_ for id_, of_species in reference.guidance_of if species in (None, of_species)}
    return tuple(sorted(((id_, reference.ingredients[id_].name) for id_ in found), key=lambda pair: pair[1].casefold()))


def suggestions(reference: Reference, text: str) -> tuple[tuple[str, str], ...]:
    """List id and name of ingredients with an amount that look like a text that names none."""
    names = {name: id_ for id_, name in guided(reference)}
    return tuple((names[name], name) for name in nearest_ids(text, names))
