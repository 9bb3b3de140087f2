"""Which substances can harm this animal, judged by amount where the label gives one.

An amount that is not known is judged by the worst that the release holds on the substance. Nothing is ever called
harmless: an amount below all tiers is "below the published thresholds in this release".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.common import WEIGHT_RANGE_KG, Animal
from service.domain.exposure_beyond import beyond_own_thresholds
from service.domain.exposure_tiers import Counted
from service.domain.material_content import fresh_per_dried
from service.domain.rounding import significant
from service.domain.screening_answers import Finding, plain, rank, weakest_origin
from service.domain.screening_burden import CAFFEINE, METHYLXANTHINES, Burden
from service.domain.screening_daily_limits import answering, limits_for
from service.domain.screening_subjects import Mention, PossibleHazard, Subjects
from service.domain.screening_tiers import (
    Reached,
    chain_of,
    kind_for,
    least_level,
    primary_rows,
    reached_tier,
    threshold_limits,
    tiers_of,
    unknown_amount_level,
    unquantified_action,
    worst_rows,
)
from service.reference.records import Hazard, Limit, Threshold
from service.reference.release import Reference

# Caffeine together with one of these counts one tier higher (a rule of the hazard notes; deaths are published).
_BOOSTERS = frozenset({"pseudoephedrine", "synephrine", "yohimbine"})
_ONE_HIGHER = {"note": "veterinarian", "watch": "veterinarian", "veterinarian": "avoid", "avoid": "avoid"}
_ACTIONS = {
    "avoid": "Do not give. If it was eaten, contact a veterinarian or an animal poison line now.",
    "veterinarian": "Ask a veterinarian before giving it.",
    "watch": "Watch for the signs named.",
    "note": "Count it together with other sources of the same substance.",
}
_ASK_THE_MAKER = "Ask the maker whether it is present."
_BEFORE_MORE = " Ask a veterinarian before giving more."
_SPECIES_MARKS = {"dog": "Dog: ", "cat": "Cat: "}
_SEVERITY_WORDS = {
    "signs_mild": "mild signs",
    "signs_moderate": "moderate signs",
    "signs_severe": "severe signs",
    "potentially_lethal": "deaths",
    "ld50": "the death of half the animals",
}
# What the letters of the column `grade` stand for.
GRADE_WORDS = {
    "A": "study, regulation or agency opinion",
    "B": "veterinary manual, textbook or poison centre",
    "C": "veterinary practice page",
    "D": "secondary web text",
    "M": "recalled, no copy seen",
}
_SHOWN_DIGITS = 4
_FOR_THE_HEAVIEST = " No weight is given: this is for the heaviest animal accepted, for any other it is more."


@dataclass(frozen=True, slots=True)
class _Judgement:
    level: str
    effect: str
    rows: tuple[Threshold | Limit, ...]
    amount_missing: bool = False
    action: str | None = None


def hazard_findings(reference: Reference, subjects: Subjects, burden: Burden, animal: Animal) -> tuple[Finding, ...]:
    """Judge every hazard that a request names.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        Mentions and near misses.
    burden
        Amounts per day.
    animal
        Species, and weight where known; without a weight every amount counts as not known.

    Returns
    -------
    tuple of Finding
        One per hazard in order of mention. ``avoid``: no harmless amount, a severe tier reached, or an unknown amount
        of something with a life-threatening tier. Near misses follow, each at level ``veterinarian``.
    """
    by_hazard: dict[str, list[Mention]] = {}
    for mention in subjects.mentions:
        if mention.hazard is not None:
            by_hazard.setdefault(mention.hazard, []).append(mention)
    findings = []
    for hazard_id, mentions in by_hazard.items():
        hazard = reference.hazards[hazard_id]
        judged = _judge(reference, hazard, mentions, burden, animal)
        if judged is not None:
            findings.append(_finding(hazard, mentions, judged, animal.species))
    together = _raised(reference, findings, by_hazard, animal.species)
    return (*together, *_possible_findings(reference, subjects.possible, by_hazard, animal.species))


def _judge(
    reference: Reference, hazard: Hazard, mentions: list[Mention], burden: Burden, animal: Animal
) -> _Judgement | None:
    species, kind = animal.species, kind_for(hazard, animal.species)
    if kind == "benign":
        return None
    present = [mention for mention in mentions if not mention.trace]
    if not present:
        return _Judgement("note", "Named only as a possible trace.", (), action=_ASK_THE_MAKER)
    if kind == "nuisance":
        rows = [row for row in primary_rows(reference, (hazard.id,), species) if row.severity == "nuisance"]
        return _Judgement("note", f"Large amounts: {rows[0].signs if rows and rows[0].signs else 'stomach upset'}.", ())
    if kind == "toxic_any_amount":
        rows = [row for row in primary_rows(reference, (hazard.id,), species) if row.severity == "any_exposure"]
        return _Judgement("avoid", f"No amount is known to be harmless for a {species}.{_signs(rows)}", tuple(rows[:1]))
    return _judge_amount(reference, hazard, present, burden, animal)


def _judge_amount(
    reference: Reference, hazard: Hazard, present: list[Mention], burden: Burden, animal: Animal
) -> _Judgement:
    species = animal.species
    chain = chain_of(reference, hazard.id, species)
    if CAFFEINE in chain and METHYLXANTHINES in burden.mg_per_day:
        chain = (*chain, METHYLXANTHINES)
    unknown = unknown_amount_level(reference, hazard, species)
    gap = _why_unknown(reference, hazard, chain, present, burden, animal)
    reached = _reached(reference, chain, burden, animal)
    if reached is not None and animal.weight_kg is None and rank(reached.level) <= rank(unknown):
        # Without a weight only what is too much for the heaviest animal says more than an amount that is not known.
        reached = None
    if reached is not None and (gap is None or rank(reached.level) >= rank(unknown)):
        heaviest = _FOR_THE_HEAVIEST if animal.weight_kg is None else ""
        return _Judgement(reached.level, _reached_words(reached) + heaviest, (reached.row,))
    passed = _passed_limit(reference, hazard, burden, animal)
    if passed is not None and (gap is None or rank(passed.level) >= rank(unknown)):
        return passed
    if gap is not None and (unjudged := _amount_without_threshold(reference, hazard, present, burden, animal)):
        if rank(unjudged.level) > rank(unknown):
            return replace(unjudged, effect=f"{gap} {unjudged.effect}")
    if gap is not None:
        rows = worst_rows(reference, hazard, species) if unknown == "avoid" else []
        missing = any(mention in burden.not_counted for mention in present)
        return _Judgement(unknown, f"{gap}{_signs(rows)}", tuple(rows[:1]), amount_missing=missing)
    below = _below_words(reference, burden, chain, animal)
    if kind_for(hazard, species) == "caution" and unknown != "note":
        # "Caution" means that no figure marks where harm begins: being below one tier settles nothing.
        return _Judgement(unknown, f"{below} No amount is known from which harm begins.", ())
    if least_level(reference, hazard, species) != "note":
        return _Judgement("veterinarian", f"{below} That does not make it harmless.", ())
    nutrient = reference.ingredients[hazard.ingredient_id].kind == "nutrient"
    return _Judgement("note", below, (), action=None if nutrient else _ACTIONS["note"] + _BEFORE_MORE)


def _amount_without_threshold(
    reference: Reference, hazard: Hazard, present: list[Mention], burden: Burden, animal: Animal
) -> _Judgement | None:
    """Judge a known amount that this species has no threshold for: by the other species, else as one to watch."""
    mg = burden.mg_per_day.get(hazard.id)
    if mg is None or animal.weight_kg is None or any(mention in burden.not_counted for mention in present):
        return None
    if tiers_of(reference, hazard.id, animal.species):
        return None
    beyond = beyond_own_thresholds(reference, hazard, {hazard.id: Counted(mg, mg)}, animal)
    if beyond is not None:
        return _Judgement("veterinarian", beyond.words, (beyond.row,))
    rows = [row for row in primary_rows(reference, (hazard.id,), animal.species) if row.severity == "caution"]
    limited = answering(limits_for(reference, hazard.ingredient_id, mg, animal)) is not None
    # What a salt only brings along is no reason of its own to watch.
    if not rows or limited or all(mention.carried for mention in present):
        return None
    return _Judgement("watch", f"Large amounts can harm.{_signs(rows)}", tuple(rows[:1]))


def _passed_limit(reference: Reference, hazard: Hazard, burden: Burden, animal: Animal) -> _Judgement | None:
    """Judge an amount that reaches a limit of the ingredient, which counts the dried plant."""
    mg = burden.mg_per_day.get(hazard.id)
    if mg is None or animal.weight_kg is None:
        return None
    per_kg = mg / fresh_per_dried(reference, hazard.id, animal.species) / animal.weight_kg
    reached = [pair for pair in threshold_limits(reference, hazard, animal.species) if per_kg >= pair[0]]
    if not reached:
        return None
    start, row = reached[-1]
    of_what = f" of {row.note.split(';')[0]}" if row.note else ""
    words = f"{_shown(per_kg)} mg/kg a day reaches {_shown(start)} mg/kg{of_what}, from which a risk is published."
    return _Judgement("veterinarian", words, (row,))


def _reached(reference: Reference, chain: tuple[str, ...], burden: Burden, animal: Animal) -> Reached | None:
    weight_kg = animal.weight_kg or WEIGHT_RANGE_KG[animal.species][1]
    return reached_tier(reference, chain, burden.mg_per_day, animal.species, weight_kg)


def _why_unknown(
    reference: Reference,
    hazard: Hazard,
    chain: tuple[str, ...],
    present: list[Mention],
    burden: Burden,
    animal: Animal,
) -> str | None:
    """Say in a sentence why an amount cannot be judged, ``None`` where it can."""
    if any(mention in burden.not_counted for mention in present):
        return "The amount is not stated, or not in a way that can be compared."
    compared = any(tiers_of(reference, id_, animal.species) for id_ in chain if id_ in burden.mg_per_day)
    if not compared and not (hazard.id in burden.mg_per_day and threshold_limits(reference, hazard, animal.species)):
        return f"This release has no threshold for a {animal.species} to compare the amount with."
    if animal.weight_kg is None:
        return "The body weight is not stated, so the amount cannot be judged."
    return None


def _signs(rows: list[Threshold]) -> str:
    row = next((row for row in rows if row.signs), None)
    if row is None:
        return ""
    onset = f" (onset {row.onset})" if row.onset else ""
    return f" Described: {row.signs}{onset}."


def _shown(value: Decimal) -> str:
    return plain(significant(value, _SHOWN_DIGITS))


def _reached_words(reached: Reached) -> str:
    row = reached.row
    start = f"{_shown(row.mg_per_kg_low)} mg/kg" if row.mg_per_kg_low is not None else f"{row.amount_low} mg in all"
    of_what = f" of {row.moiety}" if row.moiety else ""
    return (
        f"{_shown(reached.mg_per_kg)} mg/kg a day reaches {start}{of_what}, from which "
        f"{_SEVERITY_WORDS[row.severity]} are published.{_signs([row])}"
    )


def _below_words(reference: Reference, burden: Burden, chain: tuple[str, ...], animal: Animal) -> str:
    known = [id_ for id_ in chain if id_ in burden.mg_per_day]
    per_kg = burden.mg_per_day[known[-1]] / (animal.weight_kg or Decimal(1))
    times = fresh_per_dried(reference, known[-1], animal.species)
    fresh = f", which is {_shown(per_kg)} mg/kg of fresh plant" if times != 1 else ""
    return f"{_shown(per_kg / times)} mg/kg a day{fresh}, below the published thresholds in this release."


def _finding(hazard: Hazard, mentions: list[Mention], judged: _Judgement, species: str) -> Finding:
    present = [mention for mention in mentions if not mention.trace] or mentions
    named = "; ".join(dict.fromkeys(f"{mention.text} ({mention.where})" for mention in present))
    row = judged.rows[0] if judged.rows else None
    return Finding(
        kind="hazard",
        level=judged.level,
        subjects=(hazard.id,),
        topic=None,
        finding=None,
        effect=f"{hazard.name}: {judged.effect} Named as: {named}.",
        action=_action(hazard, judged, species),
        evidence=GRADE_WORDS.get(row.grade or "") if isinstance(row, Threshold) else None,
        evidence_species=None,
        limit_or_conflict=conflicts_for(hazard, species),
        match="exact",
        origin=weakest_origin([row.origin] if row is not None else [hazard.origin]),
        record_ids=(hazard.id, *(used.id for used in judged.rows)),
        source_ids=tuple(dict.fromkeys(id_ for used in (*judged.rows, hazard) for id_ in used.source_ids)),
    )


def conflicts_for(hazard: Hazard, species: str) -> str | None:
    """Where sources disagree on a hazard, without what concerns the other species.

    Parameters
    ----------
    hazard
        A row of table ``hazards``.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    str or None
        Sentences; ``None`` where nothing is recorded for the species.
    """
    other = "".join(mark for key, mark in _SPECIES_MARKS.items() if key != species)
    parts = [part for part in (hazard.conflicts or "").split(" | ") if part and not part.startswith(other)]
    own = [part.removeprefix(_SPECIES_MARKS[species]) for part in parts]
    return " ".join(f"{part[:1].upper()}{part[1:]}" for part in own) or None


def _action(hazard: Hazard, judged: _Judgement, species: str) -> str:
    if judged.action is not None:
        return judged.action
    regulatory = unquantified_action(hazard, species) == "avoid"
    if judged.level == "avoid" and regulatory:
        return "Do not give."
    if judged.level == "note" and hazard.needs_amount and judged.amount_missing:
        return f"Look for the amount on the label. {_ACTIONS['note']}"
    return _ACTIONS[judged.level]


def _raised(
    reference: Reference, findings: list[Finding], by_hazard: dict[str, list[Mention]], species: str
) -> list[Finding]:
    """Raise stimulants that add up by one tier."""
    present = {id_ for id_, mentions in by_hazard.items() if any(not mention.trace for mention in mentions)}
    boosters = present & _BOOSTERS
    caffeinated = {id_ for id_ in present if {CAFFEINE, METHYLXANTHINES} & set(chain_of(reference, id_, species))}
    if not boosters or not caffeinated:
        return findings
    words = " Stimulants are given together: counted one tier higher."
    return [
        replace(
            finding,
            level=(level := _ONE_HIGHER[finding.level]),
            effect=finding.effect + words,
            action=_ACTIONS[level] if level != finding.level else finding.action,
        )
        if finding.subjects[0] in boosters | caffeinated
        else finding
        for finding in findings
    ]


def _possible_findings(
    reference: Reference, possible: Iterable[PossibleHazard], named: dict[str, list[Mention]], species: str
) -> Iterable[Finding]:
    for miss in {(miss.hazard, miss.text, miss.where): miss for miss in possible}.values():
        hazard = reference.hazards[miss.hazard]
        # A slip near something that would not raise an alarm spelt rightly stays an unknown word.
        if miss.hazard in named or rank(unknown_amount_level(reference, hazard, species)) < rank("veterinarian"):
            continue
        yield Finding(
            kind="hazard",
            level="veterinarian",
            subjects=(hazard.id,),
            topic=None,
            finding=None,
            effect=_possible_words(miss, hazard),
            action=f"Check the spelling on the pack. If it is {hazard.name}, do not give it; else ask a veterinarian.",
            evidence=None,
            evidence_species=None,
            limit_or_conflict=conflicts_for(hazard, species),
            match="possible",
            origin=hazard.origin,
            record_ids=(hazard.id,),
            source_ids=hazard.source_ids,
        )


def _possible_words(miss: PossibleHazard, hazard: Hazard) -> str:
    if miss.known_name == hazard.name:
        return f"{miss.text!r} ({miss.where}) leaves open what of it is meant: it may be {hazard.name}."
    return f"{miss.text!r} ({miss.where}) comes close to {miss.known_name!r}, a name of {hazard.name}."
