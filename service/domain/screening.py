"""The screen: ingredients, other supplements, medicines and conditions of one animal to findings and a verdict."""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.common import Animal, Caution, origin_cautions
from service.domain.errors import InvalidInput, Issue
from service.domain.screening_answers import (
    Finding,
    NotAssessed,
    Recognised,
    ScreenAnswer,
    ScreenRequest,
    Statement,
    Total,
    Unrecognised,
    rank,
)
from service.domain.screening_burden import burden_of, daily_facts
from service.domain.screening_hazards import hazard_findings
from service.domain.screening_interactions import match_interactions
from service.domain.screening_limits import untested_caution, untested_limits, unusual_amounts
from service.domain.screening_medicines import medicine_cautions, medicine_findings
from service.domain.screening_name_only import name_only_texts
from service.domain.screening_subjects import Subjects, read_subjects
from service.domain.screening_totals import add_up, duplicate_findings, presentation_findings
from service.reference.release import Reference

__all__ = [
    "Finding",
    "NotAssessed",
    "Recognised",
    "ScreenAnswer",
    "ScreenRequest",
    "Statement",
    "Total",
    "Unrecognised",
    "screen",
    "verdict_of",
]

_ABOUT_LEVELS = Caution(
    "levels_not_reviewed",
    "info",
    "The levels are the judgement of those who compiled the records; no veterinarian has reviewed them.",
)
_ABOUT_ABSENCE = Caution(
    "absence_is_not_evidence",
    "caution",
    "Where nothing was found, this release holds no record. That is no evidence that nothing can happen.",
)
_ABOUT_NAMES = Caution(
    "names_from_memory", "info", "Spellings are matched against a list compiled from general knowledge."
)
_ABOUT_CATS = Caution(
    "little_evidence_in_cats",
    "caution",
    "Most records rest on evidence from dogs or people; few were studied in cats.",
)


def screen(reference: Reference, request: ScreenRequest) -> ScreenAnswer:
    """Screen everything that one animal is given.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Animal, ingredient text, products, other supplements, medicines, conditions.

    Returns
    -------
    ScreenAnswer
        Findings, highest level first; what was recognised, what not, which pairs no record speaks of; totals per day.

    Raises
    ------
    InvalidInput
        If the request names no ingredient text and no product, or an amount on a label cannot be read.
    """
    subjects = read_subjects(reference, request)
    if not subjects.labels and not any(one.where == "ingredients_text" for one in _texts(subjects)):
        raise InvalidInput(
            Issue("ingredients_text", "is empty and there are no products: give a list of ingredients or a product")
        )
    animal = request.animal
    facts = daily_facts(reference, subjects.labels)
    burden = burden_of(reference, subjects.mentions, facts, animal.species)
    matched = match_interactions(reference, subjects, animal.species)
    added = add_up(reference, facts, subjects.labels, animal)
    findings = _in_order(
        (
            *hazard_findings(reference, subjects, burden, animal),
            *medicine_findings(reference, subjects.medications, animal.species),
            *matched.findings,
            *added.findings,
            *unusual_amounts(reference, added.totals, animal),
            *duplicate_findings(reference, subjects),
            *presentation_findings(subjects.labels),
        )
    )
    untested = untested_limits(reference, subjects.mentions, facts, animal.species)
    unrecognised = (*subjects.unrecognised, *name_only_texts(subjects.mentions, subjects.unrecognised))
    return ScreenAnswer(
        species=animal.species,
        weight_kg=animal.weight_kg,
        verdict=verdict_of(findings, unrecognised),
        findings=findings,
        recognised=subjects.recognised,
        unrecognised=unrecognised,
        not_assessed=(*matched.not_assessed, *untested),
        statements=subjects.statements,
        totals=added.totals,
        cautions=(
            *_cautions(reference, subjects, animal),
            *untested_caution(reference, untested),
            *origin_cautions({finding.origin for finding in findings}),
        ),
        source_ids=tuple(dict.fromkeys(id_ for finding in findings for id_ in finding.source_ids)),
    )


def verdict_of(findings: Iterable[Finding], unrecognised: Iterable[Unrecognised]) -> str:
    """Sum a screen up in one word.

    Parameters
    ----------
    findings
        All findings.
    unrecognised
        All texts that were not understood.

    Returns
    -------
    str
        ``stop`` (a finding of level ``avoid``), else ``ask_veterinarian`` (one of level ``veterinarian``, near misses
        of hazards included), else ``incomplete`` (something was not understood), else ``nothing_found``.
    """
    levels = {finding.level for finding in findings}
    if "avoid" in levels:
        return "stop"
    if "veterinarian" in levels:
        return "ask_veterinarian"
    return "incomplete" if any(True for _ in unrecognised) else "nothing_found"


def _texts(subjects: Subjects) -> Iterable[Recognised | Unrecognised | Statement]:
    return (*subjects.recognised, *subjects.unrecognised, *subjects.statements)


def _in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    def _key(finding: Finding) -> tuple[int, str, tuple[str, ...], str, tuple[str, ...]]:
        return (-rank(finding.level), finding.kind, finding.subjects, finding.topic or "", finding.record_ids)

    return tuple(sorted(findings, key=_key))


def _cautions(reference: Reference, subjects: Subjects, animal: Animal) -> list[Caution]:
    cats = [_ABOUT_CATS] if animal.species == "cat" else []
    medicines = medicine_cautions(reference, subjects, animal)
    return [_ABOUT_LEVELS, _ABOUT_ABSENCE, _ABOUT_NAMES, *cats, *_label_cautions(subjects, animal), *medicines]


def _label_cautions(subjects: Subjects, animal: Animal) -> list[Caution]:
    found = []
    one_serving = [label.product.id for label in subjects.labels if label.facts and label.product.units_per_day is None]
    if one_serving:
        text = f"Amounts a day count one serving a day, because units_per_day is not given: {', '.join(one_serving)}."
        found.append(Caution("one_serving_a_day_assumed", "caution", text))
    facts_only = [label.product.id for label in subjects.labels if not (label.product.other_ingredients or "").strip()]
    if facts_only:
        text = f"Without their other ingredients only the stated facts were screened: {', '.join(facts_only)}."
        found.append(Caution("other_ingredients_not_given", "caution", text))
    if animal.weight_kg is None and any(label.facts for label in subjects.labels):
        text = "Without a body weight no amount was compared with a threshold or a maximum."
        found.append(Caution("weight_not_given", "caution", text))
    return found
