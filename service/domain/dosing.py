"""Amounts per day for one animal and one ingredient, from the guidance rows of a release."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from service.domain.common import WEIGHT_RANGE_KG, Animal, Caution, origin_cautions
from service.domain.dose_answer import (
    DoseAnswer,
    EvidenceSummary,
    IdealWeight,
    PhaseDose,
    TraitNote,
    TrialAmount,
)
from service.domain.errors import InvalidInput, Issue, UnknownForm
from service.domain.guidance import check_age, guidance_rows, phase_doses, upper_limit
from service.domain.rounding import significant
from service.domain.suggesting import nearest_ids
from service.reference.records import Condition, Form, Guidance
from service.reference.release import Reference

# Nine-point body condition score, ideal 4 to 5, each step off it about a tenth of body weight (from memory; the
# score itself is in general veterinary use). Shown with that origin, never used instead of the true weight.
_IDEAL_SCORES = (4, 5)
_SHARE_PER_SCORE_STEP = Decimal("0.1")
# The earliest age that the size-based list of source insur calls senior (six years, dogs over 90 lb) counts here.
_SENIOR_FROM_YEARS = 6


@dataclass(frozen=True, slots=True)
class DoseRequest:
    """What to dose: one ingredient for one animal."""

    animal: Animal
    ingredient: str
    form: str | None = None
    body_condition_score: int | None = None
    trait: str | None = None


def dose(reference: Reference, request: DoseRequest) -> DoseAnswer:
    """Give the amounts per day of one ingredient for one animal.

    Parameters
    ----------
    reference, request
        The release to answer from; the animal (weight in kg), ingredient and, optionally, form, body condition score
        (1 to 9) and trait.

    Returns
    -------
    DoseAnswer
        Amounts in mg per day of the form and of its active moiety, by phase.

    Raises
    ------
    UnknownIngredient
        If no ingredient has the id.
    UnknownForm
        If no form has the id.
    InvalidInput
        If the form belongs to another ingredient or the trait is not one of the dataset's.
    NoGuidance
        If no amount is known for this species or age.
    """
    species, weight_kg = request.animal.species, request.animal.weight_kg
    if weight_kg is None:
        raise InvalidInput(Issue("weight", "is needed for an amount"))
    rows = guidance_rows(reference, request.ingredient, species)
    check_age(reference, request.ingredient, request.animal, rows)
    form_id = _form_id(reference, request, rows[0])
    phases = phase_doses(reference, rows, weight_kg, form_id)
    ideal = _at_ideal_weight(reference, rows, request, form_id)
    trait = _trait_note(reference, request)
    evidence = evidence_summary(reference, request.ingredient)
    limit = upper_limit(reference, request.ingredient, species, weight_kg)
    shown = published_amounts(reference, request.ingredient, species)
    return DoseAnswer(
        species=species,
        weight_kg=significant(weight_kg, 9).normalize(),
        ingredient=request.ingredient,
        form=form_id,
        moiety=reference.forms[form_id].moiety,
        phases=phases,
        upper_limit=limit,
        published_amounts=shown,
        evidence=evidence,
        reassess_after_days=_latest_reassessment(rows),
        ideal_weight_kg=ideal.ideal_weight_kg if ideal else None,
        ideal_weight=ideal,
        trait=trait,
        cautions=_cautions(request, phases, evidence, ideal),
        source_ids=_collect_sources(
            *(phase.source_ids for phase in phases),
            limit.source_ids if limit else (),
            evidence.source_ids,
            trait.source_ids if trait else (),
            _published_sources(reference, request.ingredient, species),
        ),
    )


def _latest_reassessment(rows: tuple[Guidance, ...]) -> int | None:
    return max((row.reassess_after_days for row in rows if row.reassess_after_days is not None), default=None)


def _form_id(reference: Reference, request: DoseRequest, row: Guidance) -> str:
    if request.form is None or request.form == row.form_id:
        return row.form_id
    form = reference.forms.get(request.form)
    if form is None:
        raise UnknownForm(request.form, nearest_ids(request.form, reference.forms))
    stated = reference.forms[row.form_id]
    usable = [other.id for other in reference.forms_of.get(request.ingredient, ()) if can_state(other, stated)]
    if form.id not in usable:
        raise InvalidInput(
            Issue("form", f"{request.form!r} cannot state this amount; use one of: {', '.join(usable) or row.form_id}")
        )
    return form.id


@lru_cache(maxsize=1024)
def evidence_summary(reference: Reference, ingredient_id: str) -> EvidenceSummary:
    """Summarise the evidence of an ingredient; ``untested`` where the release has no verdict.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        Id of an ingredient.

    Returns
    -------
    EvidenceSummary
        Verdict, summary and dissent, with their sources.
    """
    row = reference.evidence.get(ingredient_id)
    if row is None:
        return EvidenceSummary("untested", "No verdict on this ingredient is recorded in this release.", None, ())
    ids = dict.fromkeys((*row.source_ids, *row.review_source_ids, *row.dissent_source_ids))
    return EvidenceSummary(row.verdict, row.summary, row.dissent, tuple(ids))


@lru_cache(maxsize=1024)
def published_amounts(reference: Reference, ingredient_id: str, species: str) -> tuple[TrialAmount, ...]:
    """List every recorded amount for a species with its outcome, for reading beside the guidance.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        Id of an ingredient.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of TrialAmount
        In the release's order; amounts in the unit that each row names.
    """
    return tuple(
        TrialAmount(
            regimen_id=row.id,
            phase=row.phase,
            material=row.material,
            weight_from_kg=row.weight_from_kg,
            weight_to_kg=row.weight_to_kg,
            amount_low=row.amount_low,
            amount_high=row.amount_high,
            unit=row.unit,
            basis=row.basis,
            outcome=row.outcome,
            origin=row.origin,
            source_ids=row.source_ids,
        )
        for row in reference.regimens_of.get(ingredient_id, ())
        if species in row.species.split(";") and (row.amount_low is not None or row.amount_high is not None)
    )


def can_state(form: Form, stated: Form) -> bool:
    """Say whether an amount of one form can be restated in another: same moiety and one fixed share.

    Parameters
    ----------
    form
        The form to restate an amount in.
    stated
        The form that the amount is stated in.

    Returns
    -------
    bool
        Whether the shares of moiety turn the one into the other.
    """
    return form.kind in ("defined", "as_labelled") and form.moiety == stated.moiety and form.share_low is not None


def _at_ideal_weight(
    reference: Reference, rows: tuple[Guidance, ...], request: DoseRequest, form_id: str
) -> IdealWeight | None:
    score, weight_kg = request.body_condition_score, request.animal.weight_kg
    if score is None or weight_kg is None or score in _IDEAL_SCORES:
        return None
    steps = score - (_IDEAL_SCORES[1] if score > _IDEAL_SCORES[1] else _IDEAL_SCORES[0])
    ideal_kg = significant(weight_kg / (1 + _SHARE_PER_SCORE_STEP * steps), 6)
    least, most = WEIGHT_RANGE_KG[request.animal.species]
    in_range = least <= ideal_kg <= most
    return IdealWeight(
        ideal_weight_kg=ideal_kg,
        rule="weight / (1 + 0.1 x steps off a score of 4 to 5); each step on the nine-point scale is about a tenth",
        origin="memory",
        # The bands cover the accepted weights and no other: beyond them no amount is made up.
        phases=phase_doses(reference, rows, ideal_kg, form_id) if in_range else (),
    )


def _trait_note(reference: Reference, request: DoseRequest) -> TraitNote | None:
    if request.trait is None:
        return None
    trait = _find_trait(reference, request.trait, request.animal.species)
    related = {request.ingredient, *reference.ingredients[request.ingredient].screened_as_ids}
    groups = set(reference.ingredients[request.ingredient].group_ids)
    rows = [
        row
        for row in reference.interactions
        if row.b_kind == "condition" and row.b_id == trait.id and row.a_id in related | groups
        if request.animal.species in row.species
    ]
    statements = [f"{row.topic}: {row.effect}. {row.action}." for row in rows]
    if trait.note:
        statements.append(trait.note)
    statements.append(
        f"No published amount of {reference.ingredients[request.ingredient].name} specific to this trait "
        f"({trait.name}) was found; the amounts above are not adjusted for it."
    )
    ids = dict.fromkeys((*trait.source_ids, *(id_ for row in rows for id_ in row.source_ids)))
    return TraitNote(trait.id, tuple(statements), tuple(ids))


def _find_trait(reference: Reference, name: str, species: str) -> Condition:
    wanted = name.strip().casefold()
    traits = [row for row in reference.conditions.values() if row.kind == "trait" and species in row.species]
    for row in traits:
        if wanted in (row.id, row.name.casefold(), *(synonym.casefold() for synonym in row.synonyms)):
            return row
    raise InvalidInput(Issue("trait", f"{name!r} is not recorded; known: {', '.join(row.id for row in traits)}"))


def _cautions(
    request: DoseRequest, phases: tuple[PhaseDose, ...], evidence: EvidenceSummary, ideal: IdealWeight | None
) -> tuple[Caution, ...]:
    # A row that was read can still rest on a rule of the trade: then the answer does too.
    customary = {"common_practice"} if any("common-practice" in phase.source_ids for phase in phases) else set()
    origins = {phase.origin for phase in phases} | customary
    found = list(origin_cautions(origins | ({ideal.origin} if ideal else set())))
    if evidence.verdict in ("against", "weak", "mixed", "untested"):
        found.append(Caution(f"evidence_{evidence.verdict}", "caution", evidence.summary))
    found += [Caution("band_note", "caution", note) for note in _notes(phases)]
    if not any(phase.phase == "loading" for phase in phases):
        found.append(Caution("no_loading_published", "info", "No loading phase is published for this ingredient."))
    found += age_cautions(request.animal)
    if ideal is not None:
        found.append(
            Caution(
                "body_condition",
                "caution",
                "The animal is above or below its ideal condition: amounts at an estimated ideal weight stand beside "
                "the others. No study of amounts in very lean or heavy dogs was found."
                if ideal.phases
                else f"The estimated ideal weight of {ideal.ideal_weight_kg.normalize():f} kg lies outside the weights "
                f"accepted for a {request.animal.species}: no amounts are given for it. Have the weight and the "
                "body condition score checked by a veterinarian.",
            )
        )
    return tuple(found)


def age_cautions(animal: Animal) -> tuple[Caution, ...]:
    """Say what the age of an animal means for an amount that was published for adults.

    Parameters
    ----------
    animal
        Its age may be unknown.

    Returns
    -------
    tuple of Caution
        One for an unknown age, a young or an old animal; none in between.
    """
    age, found = animal.age_years, []
    if age is None:
        found.append(Caution("age_not_given", "info", "Amounts are for adults; nothing is published for puppies."))
    elif age < 1:
        found.append(
            Caution(
                "young_animal",
                "warning",
                "Under one year: the amount comes from adults and no study in growing dogs was found. "
                "Give nothing before a veterinarian has agreed.",
            )
        )
    elif age >= _SENIOR_FROM_YEARS:
        found.append(
            Caution(
                "senior_animal",
                "info",
                "No amount specific to old dogs is published: the amounts are those for adults, and most trials were "
                "in adult and old dogs with arthritis. Have kidney and liver values checked as the "
                "veterinarian advises.",
            )
        )
    return tuple(found)


def _notes(phases: tuple[PhaseDose, ...]) -> list[str]:
    """Give the notes of all phases once; one that merely begins another is not said twice."""
    notes = list(dict.fromkeys(phase.note for phase in phases if phase.note))
    return [note for note in notes if not any(other != note and other.startswith(note) for other in notes)]


@lru_cache(maxsize=4096)
def _collect_sources(*groups: tuple[str, ...]) -> tuple[str, ...]:
    """Join source ids, each once; cached because the same groups meet in every answer for an ingredient."""
    return tuple(dict.fromkeys(id_ for group in groups for id_ in group))


@lru_cache(maxsize=1024)
def _published_sources(reference: Reference, ingredient_id: str, species: str) -> tuple[str, ...]:
    shown = published_amounts(reference, ingredient_id, species)
    return tuple(dict.fromkeys(id_ for trial in shown for id_ in trial.source_ids))
