"""Products that tempt an animal to eat all of them, and what a whole pack eaten at once would mean.

Levels, which are our own: ``note`` for a pack that tastes like food, ``watch`` for a pack whose whole content reaches
a published threshold of mild signs for this animal, ``veterinarian`` where it reaches a severe or life-threatening one.
What no amount is harmless of is a hazard finding already.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal
from service.domain.exposure_answer import LIFE_THREATENING, MILD, SEVERE
from service.domain.exposure_rows import severity_words
from service.domain.exposure_tiers import JUDGED_ALIKE, Counted, Judged, hazard_chain, judge
from service.domain.pack_wording import tempting_words
from service.domain.rounding import significant
from service.domain.screening_answers import Finding, NotAssessed, plain
from service.domain.screening_burden import burden_of, daily_facts, units_per_day
from service.domain.screening_hazards import GRADE_WORDS
from service.domain.screening_subjects import Mention, ReadLabel, Subjects
from service.domain.screening_tiers import tiers_of
from service.reference.records import Hazard, Threshold
from service.reference.release import Reference

_COMMON_PRACTICE = "common-practice"
_WHOLE_PACK = "whole_pack"
_JOINT_PACKS = "joint-chew-overdose"
_JOINT_ACTIVES = frozenset({"glucosamine", "chondroitin-sulfate", "msm"})
_OUT_OF_REACH = "Keep the pack where the animal cannot get at it."
_IF_EATEN = "If it was eaten, contact a veterinarian or an animal poison line now."
_SLIP = Decimal(2)
_SHOWN_DIGITS = 4


@dataclass(frozen=True, slots=True)
class Presentation:
    """Findings on packs, and which packs could not be judged."""

    findings: tuple[Finding, ...]
    not_assessed: tuple[NotAssessed, ...]


def assess_presentation(reference: Reference, subjects: Subjects, animal: Animal) -> Presentation:
    """Judge every pack that a request names.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        Products with what they name.
    animal
        Without a weight, and for a pack of unknown size, nothing is compared and that is said.

    Returns
    -------
    Presentation
        One finding per product that tastes like food, and one per product and threshold that its whole content
        reaches, computed as an exposure.
    """
    findings: list[Finding] = []
    gaps: list[NotAssessed] = []
    for label in subjects.labels:
        if told := tempting_words(label.product):
            findings.append(_tempting(reference, label, told, subjects, animal))
        hazards = _comparable(reference, label, subjects.mentions, animal.species)
        missing = _missing(label, animal)
        if missing:
            gaps += [NotAssessed(label.product.id, _WHOLE_PACK, reason) for reason in missing if hazards]
            continue
        packs = _whole_pack(reference, label, hazards, subjects.mentions, animal)
        findings += packs.findings
        gaps += packs.not_assessed
    return Presentation(tuple(findings), tuple(dict.fromkeys(gaps)))


def _comparable(
    reference: Reference, label: ReadLabel, mentions: Iterable[Mention], species: str
) -> tuple[Hazard, ...]:
    """List the hazards and nutrients of a label that have a threshold of one intake for this species."""
    named = (one.hazard for one in mentions if one.where == label.place and one.hazard is not None and not one.trace)
    return tuple(
        reference.hazards[id_]
        for id_ in dict.fromkeys(named)
        if any(
            not row.per_day
            for other in hazard_chain(reference, id_, species)
            for row in tiers_of(reference, other, species)
        )
    )


def _missing(label: ReadLabel, animal: Animal) -> tuple[str, ...]:
    size = () if label.product.unit_count else ("pack_size_not_given",)
    weight = () if animal.weight_kg is not None else ("weight_not_given",)
    return (*size, *weight)


def _whole_pack(
    reference: Reference, label: ReadLabel, hazards: tuple[Hazard, ...], mentions: Iterable[Mention], animal: Animal
) -> Presentation:
    own = [one for one in mentions if one.where == label.place]
    burden = burden_of(reference, own, daily_facts(reference, (label,)), animal.species)
    unknown = {mention.hazard for mention in burden.not_counted}
    packs = (label.product.unit_count or Decimal(0)) / units_per_day(label)
    found: dict[str, Finding] = {}
    gaps = []
    for hazard in hazards:
        if hazard.id in unknown:
            gaps.append(NotAssessed(label.product.id, hazard.id, "amount_not_stated"))
        pack = _judged(reference, hazard, burden.mg_per_day, packs, animal)
        if pack.tier not in (MILD, SEVERE, LIFE_THREATENING) or pack.decided_by is None:
            continue
        slip = _judged(reference, hazard, burden.mg_per_day, min(_SLIP, packs), animal)
        level = "watch" if pack.tier == MILD else "veterinarian"
        by_a_slip = slip.tier == LIFE_THREATENING
        found.setdefault(pack.decided_by.id, _reached(label, hazard, pack, pack.decided_by, level, by_a_slip, animal))
    return Presentation(tuple(found.values()), tuple(gaps))


def _judged(
    reference: Reference, hazard: Hazard, mg_per_day: Mapping[str, Decimal], days: Decimal, animal: Animal
) -> Judged:
    """Hold so many days' amount against the thresholds, as an amount eaten once."""
    mg_in_all = {id_: mg * days for id_, mg in mg_per_day.items()}
    alike = JUDGED_ALIKE.get(hazard.id)
    if alike is not None and hazard.id in mg_in_all:
        mg_in_all[alike] = mg_in_all.get(alike, Decimal(0)) + mg_in_all[hazard.id]
    counted = {id_: Counted(mg, mg) for id_, mg in mg_in_all.items()}
    return judge(reference, hazard, counted, animal.species, animal.weight_kg or Decimal(1))


def _reached(
    label: ReadLabel, hazard: Hazard, pack: Judged, row: Threshold, level: str, by_a_slip: bool, animal: Animal
) -> Finding:
    counted = next(one.counted for one in pack.compared if one.row is row)
    mg_per_kg = (counted.high_mg if counted is not None else Decimal(0)) / (animal.weight_kg or Decimal(1))
    count = plain(label.product.unit_count or Decimal(0))
    signs = f" Described: {row.signs}." if row.signs else ""
    slip = " Twice the amount of one day already reaches a life-threatening one." if by_a_slip else ""
    return Finding(
        kind="presentation",
        level=level,
        subjects=(label.product.id, hazard.id),
        topic=_WHOLE_PACK,
        finding=None,
        effect=(
            f"{hazard.name}: the whole pack ({count} x {label.product.unit}) eaten at once is "
            f"{plain(significant(mg_per_kg, _SHOWN_DIGITS))} mg/kg for this animal and reaches the tier "
            f"{(pack.tier or '').replace('_', ' ')}: {severity_words(row)}.{signs}{slip}"
        ),
        action=f"{_OUT_OF_REACH} {_IF_EATEN}",
        evidence=GRADE_WORDS.get(row.grade or ""),
        evidence_species=None,
        limit_or_conflict=row.note,
        match="exact",
        origin=row.origin,
        record_ids=(hazard.id, row.id),
        source_ids=row.source_ids,
    )


def _tempting(
    reference: Reference, label: ReadLabel, told: tuple[str, ...], subjects: Subjects, animal: Animal
) -> Finding:
    """Note that it tastes like food, and what is published on whole packs of joint supplements where it is one."""
    named = {one.ingredient for one in subjects.mentions if one.where == label.place}
    rows = reference.thresholds_of.get((_JOINT_PACKS, animal.species), ())
    row = next((one for one in rows if one.signs is not None), None) if named & _JOINT_ACTIVES else None
    published = f" Published on whole packs of joint supplements: {row.signs}." if row is not None else ""
    words = ", ".join(told)
    return Finding(
        kind="presentation",
        level="note",
        subjects=(label.product.id,),
        topic="tastes_like_food",
        finding=None,
        effect=f"It tastes like food ({words}): an animal may eat the whole pack at once.{published}",
        action=f"{_OUT_OF_REACH} {_IF_EATEN}" if row is not None else _OUT_OF_REACH,
        evidence=GRADE_WORDS.get(row.grade or "") if row is not None else None,
        evidence_species=None,
        limit_or_conflict=None,
        match="exact",
        origin="common_practice",
        record_ids=(row.id,) if row is not None else (),
        source_ids=(_COMMON_PRACTICE, *(row.source_ids if row is not None else ())),
    )
