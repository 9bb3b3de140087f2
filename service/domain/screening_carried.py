"""What a compound brings along: glucosamine sulfate with potassium chloride is a source of potassium."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from service.reference.records import Form
from service.reference.release import Reference


@dataclass(frozen=True, slots=True)
class Carried:
    """One ingredient that a form holds beside its own: ``expression`` gives its share by mass."""

    ingredient: str
    expression: Form


def carried_by(reference: Reference, form_id: str | None) -> tuple[Carried, ...]:
    """List what a form holds beside its own moiety.

    Parameters
    ----------
    reference
        The release to answer from.
    form_id
        For example ``glucosamine-sulfate-2kcl``; an open form brings nothing, because it may be another compound.

    Returns
    -------
    tuple of Carried
        From the forms that express this one as another ingredient's moiety.
    """
    return _carried(reference).get(form_id or "", ())


@lru_cache(maxsize=8)
def _carried(reference: Reference) -> Mapping[str, tuple[Carried, ...]]:
    nutrients = {row.moiety: row.id for row in reference.ingredients.values() if row.kind == "nutrient" and row.moiety}
    found: dict[str, tuple[Carried, ...]] = {}
    for form in reference.forms.values():
        ingredient = nutrients.get(form.moiety)
        if form.expression_of is None or ingredient is None or ingredient == form.ingredient_id:
            continue
        found[form.expression_of] = (*found.get(form.expression_of, ()), Carried(ingredient, form))
    return MappingProxyType(found)
