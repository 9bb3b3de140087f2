"""The screen of a product over a whole course: at the most that is given, and at the most for the weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.course.portions import Portion
from service.domain.course.request import Pack, PlanRequest
from service.domain.screening import ScreenRequest, screen
from service.domain.screening_answers import ScreenAnswer
from service.reference.release import Reference

_GRAVEST_FIRST = ("stop", "ask_veterinarian", "incomplete", "nothing_found")
_TOLD_LEVELS = ("avoid", "veterinarian")


@dataclass(frozen=True, slots=True)
class Screened:
    """The gravest verdict of a course, and in sentences what stands behind it and what to do."""

    verdict: str
    warnings: tuple[str, ...]


def screened_course(reference: Reference, request: PlanRequest, pack: Pack, given: Sequence[Portion]) -> Screened:
    """Screen a product where its course asks most of the animal.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Animal, medicines, conditions, other supplements.
    pack
        The product.
    given
        What is given of it, at which weights.

    Returns
    -------
    Screened
        Of the days with the most units and of those with the most units per kg: limits count one or the other.
    """
    served = [one for one in given if one.units_per_day and one.weight_kg]
    worst = (
        {
            max(served, key=lambda one: one.units_per_day or Decimal(0)),
            max(served, key=lambda one: (one.units_per_day or Decimal(0)) / (one.weight_kg or 1)),
        }
        if served
        else set()
    )
    amounts = {(one.weight_kg, one.units_per_day) for one in worst} or {(request.animal.weight_kg, None)}
    answers = [
        _screen(reference, request, pack, weight_kg, units)
        for weight_kg, units in sorted(amounts, key=lambda pair: (pair[1] or Decimal(0), pair[0] or Decimal(0)))
    ]
    verdict = min((answer.verdict for answer in answers), key=_GRAVEST_FIRST.index)
    found = [finding for answer in answers for finding in answer.findings if finding.level in _TOLD_LEVELS]
    told = (f"{finding.effect.rstrip('.')}. {finding.action.rstrip('.')}." for finding in found)
    return Screened(verdict, tuple(dict.fromkeys(told)))


def _screen(
    reference: Reference, request: PlanRequest, pack: Pack, weight_kg: Decimal | None, units: Decimal | None
) -> ScreenAnswer:
    asked = ScreenRequest(
        animal=replace(request.animal, weight_kg=weight_kg),
        products=(replace(pack.product, units_per_day=units),),
        medications=request.medications,
        conditions=request.conditions,
        other_supplements=request.other_supplements,
    )
    return screen(reference, asked)
