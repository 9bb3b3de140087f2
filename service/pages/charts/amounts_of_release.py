"""From a dataset release to what the chart of amounts over body weight shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from math import log

from service.domain.amounts_by_weight import (
    AmountAtWeight,
    PublishedAmount,
    phase_curves,
    published_amounts_by_weight,
    upper_limits,
)
from service.domain.common import WEIGHT_RANGE_KG
from service.domain.dose_answer import DoseAnswer
from service.domain.dosing import DoseRequest, dose
from service.pages.charts.amount_data import AmountOverWeight, AmountPoint, AskedAnimal, PhaseBand, PublishedMark
from service.pages.wording import evidence_words, number, sentence_case, span, words
from service.reference.release import Reference

# The weights of nearly all adults; drawn wider only for an animal beyond them.
_DRAWN_KG = {"dog": (Decimal(1), Decimal(80)), "cat": (Decimal(1), Decimal(10))}
# Any weight will do to learn of the form, the evidence and the cautions.
_ANY_KG = Decimal(5)
_TOLD_CAUTIONS = ("common_practice", "from_memory", "young_animal")
# How far a point may lie from the straight line between its neighbours and still be left out, as a share of itself.
_STRAIGHT = 0.0005


def amounts_of_release(reference: Reference, request: DoseRequest) -> AmountOverWeight:
    """Gather guidance and regimens of an ingredient over body weight.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Ingredient, form and animal; without a weight no animal is marked.

    Returns
    -------
    AmountOverWeight
        What :func:`service.pages.charts.amount_over_weight.draw_amount_over_weight` draws.

    Raises
    ------
    UnknownIngredient, UnknownForm, InvalidInput, NoGuidance
        As :func:`service.domain.dosing.dose` does.
    """
    species, weight_kg = request.animal.species, request.animal.weight_kg
    answer = dose(reference, replace(request, animal=replace(request.animal, weight_kg=weight_kg or _ANY_KG)))
    from_kg, to_kg = _drawn_weights(species, weight_kg)
    wanted = (reference, request.ingredient, species, answer.form, from_kg, to_kg)
    name = reference.ingredients[request.ingredient].name
    form = reference.forms[answer.form].name
    return AmountOverWeight(
        title=f"{sentence_case(name)}: daily amount by body weight",
        subject=f"{sentence_case(species)}s. {evidence_words(answer.evidence.verdict)}",
        substance=form,
        from_kg=from_kg,
        to_kg=to_kg,
        bands=tuple(PhaseBand(curve.phase, _bends(curve.points)) for curve in phase_curves(*wanted)),
        published=tuple(_mark(row) for row in published_amounts_by_weight(*wanted)),
        limit=_bends(upper_limits(*wanted)),
        asked=_asked(answer) if weight_kg is not None else None,
        notes=_notes(answer, from_kg, to_kg),
    )


def _drawn_weights(species: str, weight_kg: Decimal | None) -> tuple[Decimal, Decimal]:
    from_kg, to_kg = _DRAWN_KG[species]
    return (from_kg, to_kg) if weight_kg is None else (min(from_kg, weight_kg), max(to_kg, weight_kg))


def _asked(answer: DoseAnswer) -> AskedAnimal:
    amounts = tuple(
        (phase.phase, AmountPoint(answer.weight_kg, phase.low_mg, phase.high_mg)) for phase in answer.phases
    )
    return AskedAnimal(answer.weight_kg, amounts)


def _notes(answer: DoseAnswer, from_kg: Decimal, to_kg: Decimal) -> str:
    least, most = WEIGHT_RANGE_KG[answer.species]
    said = []
    if (from_kg, to_kg) != (least, most):
        said.append(f"Guidance holds from {number(least)} to {number(most)} kg; drawn from {span(from_kg, to_kg)} kg.")
    said += [caution.text for caution in answer.cautions if caution.code in _TOLD_CAUTIONS]
    return " ".join(said)


def _mark(row: PublishedAmount) -> PublishedMark:
    return PublishedMark(
        regimen_id=row.regimen_id,
        phase=row.phase,
        stated=_stated(row),
        outcome=row.outcome,
        finding=row.finding,
        points=tuple(_point(point) for point in row.points),
        has_weights=row.weights_recorded,
        follows_weight=row.follows_weight,
        why_not_drawn=row.why_not,
    )


def _stated(row: PublishedAmount) -> str:
    """Write an amount as the regimen states it: ``20 mg per lb per day``, ``2 multiple of label``."""
    if not (row.amount_low or row.amount_high):
        return ""
    basis = words(row.basis)
    unit = None if row.unit and basis.startswith(row.unit) else row.unit
    return " ".join(filter(None, (span(row.amount_low, row.amount_high), unit, basis)))


def _point(point: AmountAtWeight) -> AmountPoint:
    return AmountPoint(point.weight_kg, point.low_mg, point.high_mg)


def _bends(points: Sequence[AmountAtWeight]) -> tuple[AmountPoint, ...]:
    """Leave out points on straight lines of logarithmic scales: they add nothing to picture or table."""
    kept = [_point(point) for point in points[:1]]
    for before, point in pairwise(points[1:]):
        if not _is_straight(kept[-1], before, point):
            kept.append(_point(before))
    return (*kept, *(_point(point) for point in points[1:][-1:]))


def _is_straight(start: AmountPoint, middle: AmountAtWeight, end: AmountAtWeight) -> bool:
    long = log(end.weight_kg / start.weight_kg)
    part = log(middle.weight_kg / start.weight_kg) / long if long else 0
    pairs = ((start.low_mg, middle.low_mg, end.low_mg), (start.high_mg, middle.high_mg, end.high_mg))
    return bool(long) and all(
        abs(log(there / first) - part * log(last / first)) < _STRAIGHT for first, there, last in pairs
    )
