"""Everything the dataset holds about one ingredient or one form, arranged for reading."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from service.domain.common import Caution, origin_cautions
from service.domain.dose_answer import EvidenceSummary
from service.domain.dosing import evidence_summary
from service.domain.errors import UnknownForm, UnknownIngredient
from service.domain.label_text import fold
from service.domain.rounding import significant
from service.domain.suggesting import nearest_ids
from service.reference.records import (
    Belief,
    Form,
    Guidance,
    Hazard,
    Ingredient,
    Interaction,
    Limit,
    Name,
    Regimen,
    Threshold,
)
from service.reference.release import Reference


@dataclass(frozen=True, slots=True)
class IngredientItem:
    """One line of the ingredient list."""

    id: str
    name: str
    kind: str
    moiety: str | None
    default_form: str | None
    has_guidance_dog: bool
    has_guidance_cat: bool
    evidence_verdict: str | None
    names_count: int


@dataclass(frozen=True, slots=True)
class NameItem:
    """One spelling that leads to the ingredient."""

    name: str
    language: str
    type: str
    form: str | None
    origin: str


@dataclass(frozen=True, slots=True)
class HazardItem:
    """A hazard of the ingredient with its usable tiers for both species."""

    hazard: Hazard
    thresholds: tuple[Threshold, ...]


@dataclass(frozen=True, slots=True)
class FormAnswer:
    """One chemical form; field names are the wire names of ``GET /v1/forms/{id}``."""

    id: str
    name: str
    ingredient: str
    kind: str
    formula: str | None
    cas: str | None
    cas_origin: str | None
    molar_mass_g_per_mol: Decimal | None
    moiety: str
    moiety_formula: str | None
    moiety_molar_mass_g_per_mol: Decimal | None
    moieties_per_formula: int | None
    moiety_share: Decimal | None
    moiety_share_low: Decimal | None
    moiety_share_high: Decimal | None
    candidate_forms: tuple[str, ...]
    expression_of: str | None
    iu_per_mg_low: Decimal | None
    iu_per_mg_high: Decimal | None
    label_basis: str | None
    published_check: str | None
    note: str | None
    origin: str
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class IngredientAnswer:
    """One ingredient; field names are the wire names of ``GET /v1/ingredients/{id}``."""

    id: str
    name: str
    kind: str
    moiety: str | None
    default_form: str | None
    what_it_does: str
    note: str | None
    screened_as: tuple[str, ...]
    groups: tuple[str, ...]
    names: tuple[NameItem, ...]
    forms: tuple[FormAnswer, ...]
    regimens: tuple[Regimen, ...]
    guidance: tuple[Guidance, ...]
    limits: tuple[Limit, ...]
    evidence: EvidenceSummary
    beliefs: tuple[Belief, ...]
    hazards: tuple[HazardItem, ...]
    interactions: tuple[Interaction, ...]
    origin: str
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


@lru_cache(maxsize=8)
def _all_items(reference: Reference) -> tuple[tuple[IngredientItem, frozenset[str]], ...]:
    """Every ingredient with the folded words it can be searched by; built once per release."""
    found = []
    for row in reference.ingredients.values():
        names = reference.names_by_ingredient.get(row.id, ())
        evidence = reference.evidence.get(row.id)
        item = IngredientItem(
            id=row.id,
            name=row.name,
            kind=row.kind,
            moiety=row.moiety,
            default_form=row.default_form_id,
            has_guidance_dog=(row.id, "dog") in reference.guidance_of,
            has_guidance_cat=(row.id, "cat") in reference.guidance_of,
            evidence_verdict=evidence.verdict if evidence else None,
            names_count=len(names),
        )
        found.append((item, frozenset(fold(text) for text in (row.id, row.name, *names))))
    return tuple(found)


def list_ingredients(
    reference: Reference, q: str | None = None, kind: str | None = None, species: str | None = None
) -> tuple[IngredientItem, ...]:
    """List ingredients.

    Parameters
    ----------
    reference
        The release to answer from.
    q
        Part of an id, a name or a spelling, in any case and with or without accents.
    kind
        ``active``, ``excipient``, ``hazard`` or ``nutrient``.
    species
        Keep only ingredients for which the release holds an amount, a limit, an interaction or a hazard tier
        for this species.

    Returns
    -------
    tuple of IngredientItem
        In the order of the dataset.
    """
    wanted = fold(q.strip()) if q else ""
    return tuple(
        item
        for item, texts in _all_items(reference)
        if (kind is None or item.kind == kind)
        and (not wanted or any(wanted in text for text in texts))
        and (species is None or item.id in _with_data(reference, species))
    )


@lru_cache(maxsize=16)
def _with_data(reference: Reference, species: str) -> frozenset[str]:
    found = {key[0] for key in (*reference.guidance_of, *reference.limits_of) if key[1] == species}
    found |= {row.ingredient_id for row in reference.regimens.values() if species in row.species.split(";")}
    found |= {row.a_id for row in reference.interactions if row.a_kind == "ingredient" and species in row.species}
    with_tiers = {hazard_id for hazard_id, of_species in reference.thresholds_of if of_species == species}
    found |= {
        ingredient_id
        for ingredient_id, hazards in reference.hazards_by_name_of.items()
        if any(hazard.id in with_tiers for hazard in hazards)
    }
    return frozenset(found)


def describe_form(reference: Reference, form_id: str) -> FormAnswer:
    """Describe one chemical form.

    Parameters
    ----------
    reference
        The release to answer from.
    form_id
        For example ``glucosamine-hydrochloride``.

    Returns
    -------
    FormAnswer
        Formula, molar mass in g/mol and share of active moiety by mass.

    Raises
    ------
    UnknownForm
        If no form has the id.
    """
    row = reference.forms.get(form_id)
    if row is None:
        raise UnknownForm(form_id, nearest_ids(form_id, reference.forms))
    return _form(row)


def _form(row: Form) -> FormAnswer:
    settled = row.share_low is not None and row.share_low == row.share_high
    return FormAnswer(
        id=row.id,
        name=row.name,
        ingredient=row.ingredient_id,
        kind=row.kind,
        formula=row.formula,
        cas=row.cas,
        cas_origin=row.cas_origin,
        molar_mass_g_per_mol=row.molar_mass_g_per_mol,
        moiety=row.moiety,
        moiety_formula=row.moiety_formula,
        moiety_molar_mass_g_per_mol=row.moiety_molar_mass_g_per_mol,
        moieties_per_formula=row.moieties_per_formula,
        moiety_share=significant(row.share_low) if settled and row.share_low is not None else None,
        moiety_share_low=row.share_low,
        moiety_share_high=row.share_high,
        candidate_forms=row.candidate_form_ids,
        expression_of=row.expression_of,
        iu_per_mg_low=row.iu_per_mg_low,
        iu_per_mg_high=row.iu_per_mg_high,
        label_basis=row.label_basis,
        published_check=row.published_check,
        note=row.note,
        origin=row.origin,
        cautions=origin_cautions({row.origin}),
        source_ids=row.source_ids,
    )


def describe_ingredient(reference: Reference, ingredient_id: str) -> IngredientAnswer:
    """Describe one ingredient with everything recorded about it.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        For example ``glucosamine``.

    Returns
    -------
    IngredientAnswer
        Rows that record errors in circulation are left out.

    Raises
    ------
    UnknownIngredient
        If no ingredient has the id.
    """
    row = reference.ingredients.get(ingredient_id)
    if row is None:
        raise UnknownIngredient(ingredient_id, nearest_ids(ingredient_id, reference.ingredients))
    hazards = tuple(_hazard(reference, hazard) for hazard in reference.hazards_by_name_of.get(row.id, ()))
    limits = tuple(limit for key, found in reference.limits_of.items() if key[0] == row.id for limit in found)
    guidance = tuple(one for key, found in reference.guidance_of.items() if key[0] == row.id for one in found)
    regimens = reference.regimens_of.get(row.id, ())
    interactions = _interactions(reference, row)
    evidence = evidence_summary(reference, row.id)
    beliefs = reference.beliefs_of.get(row.id, ())
    forms = reference.forms_of.get(row.id, ())
    facts = (row, *forms, *guidance, *limits, *beliefs, *regimens, *interactions, *(item.hazard for item in hazards))
    tiers = tuple(tier for item in hazards for tier in item.thresholds)
    ids = [id_ for fact in (*facts, *tiers) for id_ in fact.source_ids]
    return IngredientAnswer(
        id=row.id,
        name=row.name,
        kind=row.kind,
        moiety=row.moiety,
        default_form=row.default_form_id,
        what_it_does=row.what_it_does,
        note=row.note,
        screened_as=row.screened_as_ids,
        groups=row.group_ids,
        names=_names(reference, row.id),
        forms=tuple(_form(form) for form in forms),
        regimens=regimens,
        guidance=guidance,
        limits=limits,
        evidence=evidence,
        beliefs=beliefs,
        hazards=hazards,
        interactions=interactions,
        origin=row.origin,
        cautions=origin_cautions({fact.origin for fact in (*facts, *tiers)}),
        source_ids=tuple(dict.fromkeys((*ids, *evidence.source_ids))),
    )


def _names(reference: Reference, ingredient_id: str) -> tuple[NameItem, ...]:
    rows = _names_of(reference).get(ingredient_id, ())
    return tuple(
        NameItem(row.name, row.language, row.type, row.target_id if row.target_kind == "form" else None, row.origin)
        for row in rows
    )


@lru_cache(maxsize=8)
def _names_of(reference: Reference) -> dict[str, tuple[Name, ...]]:
    found: dict[str, list[Name]] = {}
    for row in reference.names:
        owner = reference.owner_of(row)
        if owner is not None:
            found.setdefault(owner, []).append(row)
    return {key: tuple(rows) for key, rows in found.items()}


def _hazard(reference: Reference, hazard: Hazard) -> HazardItem:
    tiers = (reference.thresholds_of.get((hazard.id, species), ()) for species in ("dog", "cat"))
    return HazardItem(hazard, tuple(tier for found in tiers for tier in found))


def _interactions(reference: Reference, row: Ingredient) -> tuple[Interaction, ...]:
    own = {row.id, *row.screened_as_ids}
    groups = set(row.group_ids)
    for other in row.screened_as_ids:
        groups |= set(reference.ingredients[other].group_ids)

    def _concerns(kind: str, id_: str) -> bool:
        return (kind == "ingredient" and id_ in own) or (kind == "ingredient_group" and id_ in groups)

    return tuple(
        found
        for found in reference.interactions
        if _concerns(found.a_kind, found.a_id) or _concerns(found.b_kind, found.b_id)
    )
