"""The screen: ingredients, other supplements, medicines and conditions of one animal to findings and a verdict."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from service.domain.common import Animal, Caution, origin_cautions
from service.domain.errors import InvalidInput, Issue
from service.domain.screening_allergens import (
    SOURCE_NOT_STATED,
    allergen_cautions,
    allergen_findings,
    sources_not_stated,
)
from service.domain.screening_answers import (
    Finding,
    NotAssessed,
    Overruled,
    Recognised,
    ScreenAnswer,
    ScreenRequest,
    Statement,
    TakenAs,
    Total,
    Unrecognised,
    rank,
)
from service.domain.screening_burden import burden_of, daily_facts
from service.domain.screening_condition_names import left_open
from service.domain.screening_hazards import hazard_findings
from service.domain.screening_interactions import Matched, match_interactions
from service.domain.screening_limits import untested_caution, untested_limits, unusual_amounts
from service.domain.screening_listed_medicines import with_medicine_advice
from service.domain.screening_medicines import (
    handling_sources,
    medicine_cautions,
    medicine_findings,
    name_cautions,
    not_named,
)
from service.domain.screening_name_only import name_only_texts
from service.domain.screening_presentation import assess_presentation
from service.domain.screening_riders import brought_mentions, rider_lines
from service.domain.screening_subjects import Subjects, read_subjects
from service.domain.screening_totals import add_up, duplicate_findings, lower_bound_caution
from service.domain.screening_unlimited import DAILY_MAXIMUM, hidden_amounts, hidden_members, unlimited_totals
from service.domain.screening_unweighed import WEIGHT_NOT_GIVEN, without_weight
from service.reference.release import Reference

__all__ = [
    "Finding",
    "NotAssessed",
    "Overruled",
    "Recognised",
    "ScreenAnswer",
    "ScreenRequest",
    "Statement",
    "TakenAs",
    "Total",
    "Unrecognised",
    "screen",
    "verdict_of",
]

_OPEN = frozenset({(DAILY_MAXIMUM, WEIGHT_NOT_GIVEN), SOURCE_NOT_STATED})
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


@dataclass(frozen=True, slots=True)
class _Looked:
    """What the records say of everything that was understood."""

    findings: tuple[Finding, ...]
    matched: Matched
    totals: tuple[Total, ...]
    untested: tuple[NotAssessed, ...]
    not_assessed: tuple[NotAssessed, ...]


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
    looked = _look(reference, subjects, animal)
    unrecognised = (
        *with_medicine_advice(reference, subjects.unrecognised),
        *left_open(reference, subjects.taken_as),
        *name_only_texts(subjects.mentions, subjects.unrecognised),
        *hidden_members(subjects.labels, subjects.unrecognised),
        *not_named(reference, subjects, looked.matched.not_assessed),
    )
    return ScreenAnswer(
        species=animal.species,
        weight_kg=animal.weight_kg,
        verdict=verdict_of(looked.findings, unrecognised, looked.not_assessed),
        highest_level=looked.findings[0].level if looked.findings else None,
        findings=looked.findings,
        overruled=looked.matched.overruled,
        taken_as=subjects.taken_as,
        recognised=subjects.recognised,
        unrecognised=unrecognised,
        not_assessed=(*looked.matched.not_assessed, *looked.untested, *looked.not_assessed),
        statements=subjects.statements,
        totals=looked.totals,
        cautions=(
            *_cautions(reference, subjects, animal),
            *untested_caution(reference, looked.untested),
            *allergen_cautions(subjects),
            *lower_bound_caution(reference, looked.totals),
            *origin_cautions({finding.origin for finding in looked.findings}),
        ),
        source_ids=_sources(subjects, looked),
    )


def _look(reference: Reference, subjects: Subjects, animal: Animal) -> _Looked:
    """Hold what was understood against everything that the release records."""
    facts = daily_facts(reference, subjects.labels)
    burden = burden_of(reference, subjects.mentions, facts, animal.species)
    riders = rider_lines(reference, subjects.labels, facts)
    brought = brought_mentions(reference, subjects, riders, animal)
    matched = match_interactions(reference, replace(subjects, mentions=(*subjects.mentions, *brought)), animal.species)
    counted = (*facts, *riders)
    added = add_up(reference, counted, subjects, animal)
    unweighed = without_weight(reference, counted, subjects, animal)
    presented = assess_presentation(reference, subjects, animal)
    findings = (
        *hazard_findings(reference, subjects, burden, animal),
        *medicine_findings(reference, subjects.medications, animal.species),
        *matched.findings,
        *allergen_findings(reference, subjects, matched.findings),
        *added.findings,
        *unweighed.findings,
        *unusual_amounts(reference, added.totals, animal),
        *duplicate_findings(reference, subjects),
        *presented.findings,
    )
    return _Looked(
        findings=_in_order(findings),
        matched=matched,
        totals=added.totals,
        untested=untested_limits(reference, subjects.mentions, counted, animal.species),
        not_assessed=(
            *presented.not_assessed,
            *unweighed.not_assessed,
            *sources_not_stated(subjects, matched.findings),
            *unlimited_totals(reference, added.totals, animal),
            *hidden_amounts(subjects.labels),
        ),
    )


def verdict_of(
    findings: Iterable[Finding], unrecognised: Iterable[Unrecognised], gaps: Iterable[NotAssessed] = ()
) -> str:
    """Sum a screen up in one word.

    Parameters
    ----------
    findings
        All findings.
    unrecognised
        All texts that were not understood.
    gaps
        What was not assessed; a maximum that was not tested for want of a weight, or a source that is not stated,
        must not end in a reassurance.

    Returns
    -------
    str
        ``stop`` (a finding of level ``avoid``), else ``ask_veterinarian`` (one of level ``veterinarian``, near misses
        of hazards included), else ``incomplete`` (something was not understood, or could not be judged), else
        ``nothing_found``.
    """
    levels = {finding.level for finding in findings}
    if "avoid" in levels:
        return "stop"
    if "veterinarian" in levels:
        return "ask_veterinarian"
    is_open = any(True for _ in unrecognised) or any(
        (gap.b, gap.reason) in _OPEN or gap.reason in _OPEN for gap in gaps
    )
    return "incomplete" if is_open else "nothing_found"


def _sources(subjects: Subjects, looked: _Looked) -> tuple[str, ...]:
    found = [id_ for finding in looked.findings for id_ in finding.source_ids]
    found += [id_ for record in looked.matched.overruled for id_ in record.source_ids]
    found += [id_ for total in looked.totals for limit in total.limits for id_ in limit.source_ids]
    return tuple(dict.fromkeys((*found, *handling_sources(subjects))))


def _texts(subjects: Subjects) -> Iterable[Recognised | Unrecognised | Statement]:
    return (*subjects.recognised, *subjects.unrecognised, *subjects.statements)


def _in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    def _key(finding: Finding) -> tuple[int, str, tuple[str, ...], str, tuple[str, ...]]:
        return (-rank(finding.level), finding.kind, finding.subjects, finding.topic or "", finding.record_ids)

    return tuple(sorted(findings, key=_key))


def _cautions(reference: Reference, subjects: Subjects, animal: Animal) -> list[Caution]:
    cats = [_ABOUT_CATS] if animal.species == "cat" else []
    medicines = medicine_cautions(reference, subjects, animal)
    return [
        _ABOUT_LEVELS,
        _ABOUT_ABSENCE,
        _ABOUT_NAMES,
        *cats,
        *_label_cautions(subjects, animal),
        *medicines,
        *name_cautions(subjects),
    ]


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
