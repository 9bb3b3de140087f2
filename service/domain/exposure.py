"""An amount of one substance that an animal ate once, held against published thresholds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from service.domain.common import Animal
from service.domain.eaten import Eaten, read_eaten
from service.domain.errors import InvalidInput, Issue
from service.domain.exposure_answer import (
    BELOW,
    AlsoNamed,
    Conflict,
    ExposureAnswer,
    ExposureRequest,
    ExposureThreshold,
)
from service.domain.exposure_beyond import beyond_own_thresholds
from service.domain.exposure_counting import Counting, count_hazard, counted_words
from service.domain.exposure_rows import (
    Ends,
    content_conflicts,
    rounded_range,
    shown_thresholds,
    speaking_row,
    threshold_conflicts,
)
from service.domain.exposure_tiers import Judged, judge, tier_rank
from service.domain.exposure_words import Assessed, advise
from service.domain.rounding import amount as rounded_amount
from service.domain.rounding import significant
from service.domain.screening_hazards import conflicts_for
from service.domain.substances import Substance, find_substance
from service.reference.records import Hazard
from service.reference.release import Reference

_NOTHING_RECORDED = (
    "This release records no harm from it and no threshold to hold the amount against. That is no evidence that "
    "this amount does no harm."
)
_CHECK_THE_SPELLING = "Part of the words comes close to another harmful substance, so the amount cannot be judged."
# Whole packs of such products have harmed dogs, though no figure per kilogram is published.
_WHOLE_PACKS = "joint-chew-overdose"
_IN_WHOLE_PACKS = frozenset({"glucosamine", "chondroitin-sulfate", "msm"})


def exposure(reference: Reference, request: ExposureRequest) -> ExposureAnswer:
    """Judge an amount of one substance that was eaten once.

    Parameters
    ----------
    reference, request
        The release to answer from; the animal with its weight in kg, the substance and the amount.

    Returns
    -------
    ExposureAnswer
        mg per kg of what the thresholds count, the tier reached on the high reading, every published threshold with
        its source, and what to do. ``tier`` is ``None``, with a reason, where nothing can be said.

    Raises
    ------
    UnknownSubstance
        If the substance is not known; what comes close is named and never taken as meant.
    InvalidInput
        If there is no weight, or the amount cannot be read as a mass.
    """
    weight_kg, species = request.animal.weight_kg, request.animal.species
    if weight_kg is None:
        raise InvalidInput(Issue("weight", "is needed to hold an amount against thresholds"))
    substance = find_substance(reference, request.substance)
    eaten = read_eaten(reference, substance, request.amount, species)
    assessed = [_assess(reference, substance, hazard, eaten, request.animal) for hazard in substance.hazards]
    first = max(assessed, key=lambda one: tier_rank(one.judged.tier), default=_nothing_recorded())
    others = [one for one in assessed if one is not first]
    if substance.possible and first.judged.tier == BELOW:
        # A word that may be a slip of something harmful must not end in a reassurance.
        first = replace(first, judged=replace(first.judged, tier=None, why_no_tier=_CHECK_THE_SPELLING))
    return _answer(reference, request, substance, eaten, first, others)


def _assess(reference: Reference, substance: Substance, hazard: Hazard, eaten: Eaten, animal: Animal) -> Assessed:
    counting = count_hazard(reference, substance, hazard, eaten, animal.species)
    judged = judge(reference, hazard, counting.counted, animal.species, animal.weight_kg or Decimal(1))
    beyond = beyond_own_thresholds(reference, hazard, counting.counted, animal) if judged.tier is None else None
    return Assessed(hazard, counting, judged, beyond)


def _nothing_recorded() -> Assessed:
    return Assessed(None, None, Judged(None, _NOTHING_RECORDED, (), None))


def _answer(
    reference: Reference,
    request: ExposureRequest,
    substance: Substance,
    eaten: Eaten,
    first: Assessed,
    others: list[Assessed],
) -> ExposureAnswer:
    animal, hazard, judged, counting = request.animal, first.hazard, first.judged, first.counting
    weight_kg = animal.weight_kg or Decimal(1)
    low_mg, high_mg = rounded_range(eaten.low_mg, eaten.high_mg)
    counted_low, counted_high = _counted(first, eaten)
    speaking = speaking_row(judged)
    thresholds = shown_thresholds(judged, weight_kg)
    conflicts = (*threshold_conflicts(judged), *content_conflicts(counting))
    ingredient = reference.ingredients.get(substance.ingredient or "")
    name = ingredient.name if ingredient is not None else request.substance
    pack = reference.hazards.get(_WHOLE_PACKS) if substance.ingredient in _IN_WHOLE_PACKS else None
    per_kg_low, per_kg_high = (_per_kg(mg, weight_kg) for mg in (counted_low, counted_high))
    advice = advise(substance, eaten.flags, first, animal, pack)
    return ExposureAnswer(
        species=animal.species,
        weight_kg=significant(weight_kg, 9).normalize(),
        substance=request.substance,
        ingredient=substance.ingredient,
        form=substance.reading.form.id if substance.reading.form else None,
        hazard=hazard.id if hazard else None,
        hazard_name=hazard.name if hazard else None,
        material=_material(substance, counting, name),
        amount_mg=high_mg if low_mg == high_mg else None,
        amount_low_mg=low_mg,
        amount_high_mg=high_mg,
        counted_as=counted_words(reference, counting.shown) if counting else name,
        content=counting.used if counting else None,
        moiety_low_mg=counted_low,
        moiety_high_mg=counted_high,
        mg_per_kg=per_kg_high,
        mg_per_kg_low=per_kg_low,
        mg_per_kg_high=per_kg_high,
        tier=judged.tier,
        why_no_tier=judged.why_no_tier,
        thresholds=thresholds,
        conflicts=conflicts,
        disagreement=conflicts_for(hazard, animal.species) if hazard else None,
        onset=speaking.onset if speaking else None,
        signs=speaking.signs if speaking else None,
        action=advice.action,
        also_named=tuple(_also(one, weight_kg) for one in others),
        cautions=advice.cautions,
        source_ids=_sources(substance, [first, *others], pack, thresholds, conflicts),
    )


def _counted(first: Assessed, eaten: Eaten) -> Ends:
    """Give mg of what is counted; nothing where that is anywhere between none and all of a dangerous material."""
    if first.counting is None:
        moiety = (eaten.moiety_low_mg, eaten.moiety_high_mg)
        return (
            rounded_range(*moiety) if eaten.moiety_high_mg is not None else rounded_range(eaten.low_mg, eaten.high_mg)
        )
    counted = first.counting.counted[first.counting.shown]
    if not counted.known and first.judged.tier != BELOW:
        return None, None
    return rounded_range(counted.low_mg, counted.high_mg)


def _per_kg(mg: Decimal | None, weight_kg: Decimal) -> Decimal | None:
    return None if mg is None else rounded_amount(mg / weight_kg)


def _material(substance: Substance, counting: Counting | None, name: str) -> str:
    if substance.reading.form is not None:
        return substance.reading.form.name
    used = counting.used if counting is not None else None
    return used.material if used is not None else name


def _also(one: Assessed, weight_kg: Decimal) -> AlsoNamed:
    hazard, counting = one.hazard, one.counting
    counted = counting.counted[counting.shown] if counting is not None else None
    mg = counted.high_mg if counted is not None and counted.known else None
    return AlsoNamed(
        hazard=hazard.id if hazard else "",
        name=hazard.name if hazard else "",
        tier=one.judged.tier,
        mg_per_kg=_per_kg(mg, weight_kg),
        why_no_tier=one.judged.why_no_tier,
    )


def _sources(
    substance: Substance,
    assessed: Iterable[Assessed],
    pack: Hazard | None,
    thresholds: Iterable[ExposureThreshold],
    conflicts: Iterable[Conflict],
) -> tuple[str, ...]:
    ids = [id_ for one in thresholds for id_ in one.source_ids]
    ids += [id_ for one in conflicts for id_ in one.source_ids]
    for one in assessed:
        ids += [*(one.hazard.source_ids if one.hazard else ()), *_content_sources(one.counting)]
        ids += one.beyond.row.source_ids if one.beyond is not None else ()
    form = substance.reading.form
    ids += [*(form.source_ids if form else ()), *(pack.source_ids if pack else ())]
    return tuple(dict.fromkeys(ids))


def _content_sources(counting: Counting | None) -> tuple[str, ...]:
    return counting.used.source_ids if counting is not None and counting.used is not None else ()
