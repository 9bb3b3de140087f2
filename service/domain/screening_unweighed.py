"""Totals of an animal whose weight is not given: what is too much for all, and what could not be tested."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from service.domain.common import WEIGHT_RANGE_KG, Animal
from service.domain.screening_answers import Finding, NotAssessed, plain
from service.domain.screening_burden import DailyFact
from service.domain.screening_daily_limits import answering
from service.domain.screening_subjects import Subjects
from service.domain.screening_totals import add_up
from service.domain.screening_unlimited import DAILY_MAXIMUM
from service.reference.release import Reference

WEIGHT_NOT_GIVEN = "weight_not_given"


@dataclass(frozen=True, slots=True)
class Unweighed:
    """What is found whatever the weight, and the totals whose maximum depends on it."""

    findings: tuple[Finding, ...] = ()
    not_assessed: tuple[NotAssessed, ...] = ()


def without_weight(reference: Reference, facts: Iterable[DailyFact], subjects: Subjects, animal: Animal) -> Unweighed:
    """Hold totals against the maxima of the heaviest animal accepted, where no weight is given.

    Parameters
    ----------
    reference
        The release to answer from.
    facts, subjects
        Amounts per day, and all that is named.
    animal
        With a weight nothing is left to say.

    Returns
    -------
    Unweighed
        Every recorded maximum rises with the weight: what passes that of the heaviest animal passes all. Any other
        total with a recorded maximum is not assessed.
    """
    if animal.weight_kg is not None:
        return Unweighed()
    heaviest_kg = WEIGHT_RANGE_KG[animal.species][1]
    added = add_up(reference, facts, subjects, replace(animal, weight_kg=heaviest_kg))
    whatever = f" This holds at every weight: {plain(heaviest_kg)} kg was taken, the most that is accepted."
    over = [
        replace(finding, effect=finding.effect.replace("for this animal", "for the heaviest animal") + whatever)
        for finding in added.findings
    ]
    decided = {finding.subjects[0] for finding in over if finding.level == "veterinarian"}
    open_ones = dict.fromkeys(
        total.ingredient
        for total in added.totals
        if (answering(total.limits) or total.limits) and total.ingredient not in decided
    )
    gaps = tuple(NotAssessed(id_, DAILY_MAXIMUM, WEIGHT_NOT_GIVEN) for id_ in open_ones)
    return Unweighed(tuple(over), gaps)
