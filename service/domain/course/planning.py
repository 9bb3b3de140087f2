"""A course for one animal: one product, or several side by side, from the first day to the last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal, localcontext

from service.domain.course.answer import Course, PlanAnswer
from service.domain.course.cautions import plan_cautions
from service.domain.course.checking import checked
from service.domain.course.courses import Planned, course_days, plan_pack, written
from service.domain.course.days import DayCount
from service.domain.course.lengths import Stretch
from service.domain.course.objecting import objections
from service.domain.course.portions import Portion, judged_ingredient, portions, wanted_stretches
from service.domain.course.reassessing import reassessments
from service.domain.course.request import Pack, PlanRequest
from service.domain.course.savings import saving
from service.domain.course.screened import Screened, screened_course
from service.domain.course.weights import WeightFrom, weights_over
from service.domain.course.what_if import what_ifs
from service.domain.dosing import evidence_summary
from service.domain.normalising import ReadFact, read_facts
from service.domain.rounding import significant
from service.domain.targets import known_weight
from service.reference.release import Reference

# Sums of prices times units must be exact before the one division that follows.
_DIGITS = 60


@dataclass(frozen=True, slots=True)
class _Outline:
    """What all products of a course share."""

    count: DayCount
    weights: tuple[WeightFrom, ...]
    course: tuple[Stretch, ...]
    ingredient: str | None

    @property
    def days(self) -> int:
        """Length of the course."""
        return self.course[-1].to_day


@dataclass(frozen=True, slots=True)
class _Found:
    """The course of one product with its plan; ``planned`` is ``None`` where its label cannot serve it."""

    course: Course
    planned: Planned | None
    portions: tuple[Portion, ...]


def plan(reference: Reference, request: PlanRequest) -> PlanAnswer:
    """Plan what is given, bought and paid over a course.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Animal, products, and how much for how long: as the caller says, or from guidance.

    Returns
    -------
    PlanAnswer
        The course of the first product; with several products, those of all, cheapest first, and the saving.

    Raises
    ------
    InvalidInput
        If what is told contradicts itself, cannot be read, or makes a course of more than 30 years.
    UnknownIngredient, UnknownForm, NoGuidance
        If an id is not known, or no amount for this animal.
    """
    with localcontext(prec=_DIGITS):
        return _plan(reference, checked(request))


def _plan(reference: Reference, request: PlanRequest) -> PlanAnswer:
    count = DayCount(request.start_date)
    labels = [read_facts(reference, pack.product, pack.where) for pack in request.packs]
    ingredient = judged_ingredient(reference, request, labels)
    course = wanted_stretches(reference, request, count, ingredient)
    outline = _Outline(count, weights_over(request, count), course, ingredient)
    found = [
        _course(reference, request, pack, facts, outline) for pack, facts in zip(request.packs, labels, strict=True)
    ]
    return _answer(reference, request, outline, found)


def _portions(
    reference: Reference, request: PlanRequest, pack: Pack, facts: tuple[ReadFact, ...], outline: _Outline
) -> tuple[Portion, ...]:
    return portions(reference, request, pack, facts, outline.course, outline.weights, outline.ingredient)


def _course(
    reference: Reference, request: PlanRequest, pack: Pack, facts: tuple[ReadFact, ...], outline: _Outline
) -> _Found:
    given = _portions(reference, request, pack, facts, outline)
    served = all(one.units_per_day is not None for one in given)
    screened = screened_course(reference, request, pack, given)
    against = objections(pack.product, given, screened.verdict, known_weight(request.animal))
    flags = _label_flags(pack, facts, given)
    if not served:
        return _Found(_unserved(pack, screened, flags, against), None, given)
    planned = plan_pack(request, pack, outline.count, given, outline.days)

    def _again(other: PlanRequest, other_pack: Pack) -> Planned | None:
        """Plan the same product for a changed request."""
        course = wanted_stretches(reference, other, outline.count, outline.ingredient)
        changed = replace(outline, course=course, weights=weights_over(other, outline.count))
        again = _portions(reference, other, other_pack, facts, changed)
        if any(one.units_per_day is None for one in again):
            return None
        return plan_pack(other, other_pack, outline.count, again, changed.days, planned)

    course = replace(
        written(planned, screened, flags, against),
        what_if=what_ifs(request, pack, planned, _again),
        days=course_days(planned) if request.show_days else (),
    )
    return _Found(course, planned, given)


def _label_flags(pack: Pack, facts: Sequence[ReadFact], given: Sequence[Portion]) -> tuple[str, ...]:
    flags = dict.fromkeys(flag for fact in facts for flag in fact.flags)
    if pack.product.serving_units is None and pack.product.facts:
        flags["serving_not_stated"] = None
    flags.update(dict.fromkeys(flag for one in given for flag in one.flags))
    if pack.product.other_ingredients is None:
        flags["other_ingredients_not_given"] = None
    return tuple(flags)


def _unserved(pack: Pack, screened: Screened, flags: tuple[str, ...], why_not: tuple[str, ...]) -> Course:
    """Give a course without a single day, for a product that does not hold what is wanted."""
    product = pack.product
    return Course(
        product_id=product.id,
        name=product.name,
        unit=product.unit,
        currency=product.currency,
        phases=(),
        purchases=(),
        years=(),
        consumed_units=None,
        wasted_units=None,
        discarded_units=None,
        left_over_units=None,
        containers=None,
        consumed_cost=None,
        paid_cost=None,
        left_over_cost=None,
        discarded_cost=None,
        paid_cost_per_30_days=None,
        paid_cost_per_365_days=None,
        verdict=screened.verdict,
        warnings=screened.warnings,
        label_flags=flags,
        why_not=why_not,
        what_if=(),
        days=(),
    )


def _answer(reference: Reference, request: PlanRequest, outline: _Outline, found: Sequence[_Found]) -> PlanAnswer:
    first = found[0]
    again = reassessments(
        reference, request.animal.species, outline.ingredient, first.portions, outline.count, outline.days
    )
    evidence = evidence_summary(reference, outline.ingredient) if outline.ingredient in reference.ingredients else None
    several = len(found) > 1
    return PlanAnswer(
        course_id=request.course_id,
        **{field.name: getattr(first.course, field.name) for field in fields(Course)},
        species=request.animal.species,
        weight_kg=significant(known_weight(request.animal), 9).normalize(),
        start_date=request.start_date,
        end_date=outline.count.date_of(outline.days - 1),
        horizon_days=outline.days,
        aim=request.aim,
        ingredient=outline.ingredient,
        evidence=evidence,
        next_reassessment=again[0].date if again else None,
        next_reassessment_day=again[0].day if again else None,
        reassessments=again,
        alternatives=_in_order([one.course for one in found]) if several else (),
        saving=saving([(one.course, one.planned) for one in found if one.planned], outline.count) if several else None,
        cautions=plan_cautions(request, [one.course for one in found], evidence, again),
        source_ids=_sources(found, again, evidence.source_ids if evidence else ()),
    )


def _in_order(courses: Sequence[Course]) -> tuple[Course, ...]:
    """Put the cheapest first; unknown costs after known ones, and what something speaks against last."""

    def _key(course: Course) -> tuple[bool, bool, bool, Decimal, str]:
        cost = course.paid_cost
        return bool(course.why_not), course.verdict == "stop", cost is None, cost or Decimal(0), course.product_id

    return tuple(sorted(courses, key=_key))


def _sources(found: Sequence[_Found], again: Sequence[object], evidence: tuple[str, ...]) -> tuple[str, ...]:
    ids = [id_ for one in found for phase in one.course.phases for id_ in phase.source_ids]
    ids += [id_ for one in again for id_ in getattr(one, "source_ids", ())]
    return tuple(dict.fromkeys((*ids, *evidence)))
