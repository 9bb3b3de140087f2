"""The charts of the workbench, filled from its answers."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from service.domain.compare_answer import CompareAnswer
from service.domain.course.answer import Course, PlanAnswer
from service.pages.charts import composition, cost_and_units, cost_over_course
from service.pages.workbench.course import courses_of
from service.reference.release import Reference


def subject(reference: Reference, answer: CompareAnswer) -> str:
    """Say for what and whom: ``Glucosamine for a dog of 34 kg``."""
    names = ", ".join(reference.ingredients[target.ingredient].name for target in answer.targets)
    return f"{names[:1].upper()}{names[1:]} for a {answer.species} of {answer.weight_kg.normalize():f} kg"


def cost_and_units_of(reference: Reference, answer: CompareAnswer) -> cost_and_units.CostAndUnits:
    """Fill the chart of cost per day against units per day, in the order of the ranks."""
    currency = next((row.currency for row in answer.rows if row.currency), None)
    products = tuple(
        cost_and_units.ComparedProduct(
            row.name or row.product_id, row.unit, row.units_per_day, row.cost_per_day, row.efficient, row.why_not
        )
        for row in answer.rows
    )
    return cost_and_units.CostAndUnits(subject(reference, answer), currency, products)


def composition_of(reference: Reference, answer: CompareAnswer) -> composition.Composition:
    """Fill the chart of what the daily units deliver of each target."""
    targets = tuple(
        composition.Target(reference.ingredients[target.ingredient].name, target.low_mg, target.high_mg)
        for target in answer.targets
    )
    products = tuple(
        composition.ProductContent(
            row.name or row.product_id,
            tuple(
                composition.Delivered(*((one.achieved_mg, one.achieved_high_mg) if row.units_per_day else (None, None)))
                for one in row.targets
            ),
        )
        for row in answer.rows
    )
    return composition.Composition(subject(reference, answer), targets, products)


def cost_over_course_of(plan: PlanAnswer, names: Mapping[str, str], told: str) -> cost_over_course.CostOverCourse:
    """Fill the chart of what has been paid and used up by each day."""
    courses = [course for course in courses_of(plan) if course.paid_cost is not None]
    pairs = plan.saving.pairs if plan.saving else ()
    return cost_over_course.CostOverCourse(
        subject=told,
        currency=next((course.currency for course in courses), None),
        days=plan.horizon_days,
        courses=tuple(
            cost_over_course.Course(names.get(one.product_id, one.product_id), _paid(one), _used(one))
            for one in courses
        ),
        start=plan.start_date,
        break_even=tuple(
            cost_over_course.BreakEven(pair.ahead_for_good_from_day - 1, names[pair.product_id], names[pair.instead_of])
            for pair in pairs
            if pair.ahead_for_good_from_day is not None and pair.ahead_for_good_from_day > 1 and pair.paid_saving > 0
        ),
    )


def _paid(course: Course) -> tuple[cost_over_course.CostStep, ...]:
    total, found = Decimal(0), []
    for purchase in course.purchases:
        total += purchase.cost or Decimal(0)
        found.append(cost_over_course.CostStep(purchase.day - 1, total))
    return tuple(found)


def _used(course: Course) -> tuple[cost_over_course.CostStep, ...]:
    """Give what is used up by the end of each phase; within a phase it grows evenly."""
    total, found = Decimal(0), [cost_over_course.CostStep(0, Decimal(0))]
    for phase in course.phases:
        total += phase.cost or Decimal(0)
        found.append(cost_over_course.CostStep(phase.to_day, total))
    return tuple(found)
