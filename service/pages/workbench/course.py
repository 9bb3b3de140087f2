"""The course of every product on the workbench, and the days on which one overtakes another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.answer import Course, Pair, PlanAnswer
from service.pages.asked import Asked, Cell
from service.pages.counting import counted, money
from service.pages.page_table import PageTable, page_table
from service.pages.wording import number, words

_COLUMNS = ("product", "phases", "used", "paid", "paid per 30 days", "packs", "left over", "if prices rise 10 %")


@dataclass(frozen=True, slots=True)
class CourseView:
    """The course as shown: a row per product, and sentences on what is saved and from when.

    ``is_priced``: whether the cost of any product is known.
    """

    days: int
    is_priced: bool
    table: PageTable
    sentences: tuple[str, ...]


def present_course(plan: PlanAnswer, names: Mapping[str, str]) -> CourseView:
    """Arrange a plan for reading.

    Parameters
    ----------
    plan
        The plan of one or several products.
    names
        Names of the products, by id.

    Returns
    -------
    CourseView
        Cheapest product first; one without a course is left to the comparison.
    """
    courses = [course for course in courses_of(plan) if course.phases]
    rows = tuple(_row(course, names) for course in courses)
    is_priced = any(course.paid_cost is not None for course in courses)
    return CourseView(plan.horizon_days, is_priced, page_table(_COLUMNS, rows), tuple(_sentences(plan, names)))


def courses_of(plan: PlanAnswer) -> tuple[Course, ...]:
    """Give the courses of all products of a plan."""
    return plan.alternatives or (plan,)


def _row(course: Course, names: Mapping[str, str]) -> tuple[Cell, ...]:
    id_ = f"{course.product_id}-course"
    phases = "; ".join(
        f"{words(phase.phase)} {phase.days} days at {counted(phase.units_per_day, course.unit)}"
        for phase in course.phases
    )
    dearer = next((one for one in course.what_if if one.change == "price" and one.factor and one.factor > 1), None)
    paid_rule = (
        f"{number(course.containers)} packs, each bought on the day it is opened. Of them "
        f"{money(course.consumed_cost, course.currency)} are used up, {money(course.left_over_cost, course.currency)} "
        "are left at the end."
    )
    paid = money(course.paid_cost, course.currency)
    return (
        names.get(course.product_id, course.product_id),
        phases,
        money(course.consumed_cost, course.currency),
        Asked(f"{id_}-paid", paid, paid_rule, "", ()) if paid else None,
        money(course.paid_cost_per_30_days, course.currency),
        number(course.containers) if course.containers is not None else None,
        counted(course.left_over_units, course.unit) if course.left_over_units is not None else None,
        money(dearer.paid_cost, course.currency) if dearer else None,
    )


def _sentences(plan: PlanAnswer, names: Mapping[str, str]) -> list[str]:
    saving = plan.saving
    if saving is None:
        return []
    cheapest, dearest = names[saving.cheapest_product_id], names[saving.dearest_product_id]
    found = []
    if saving.paid:
        share = number((saving.share_of_paid * 100).quantize(Decimal(1)))
        found.append(
            f"{cheapest} costs {money(saving.paid, saving.currency)} ({share} %) less than {dearest} over the course."
        )
    return found + [_overtakes(pair, names) for pair in saving.pairs if _is_telling(pair)]


def _is_telling(pair: Pair) -> bool:
    """Say whether a pack that costs more at first has cost less by some later day."""
    return pair.ahead_for_good_from_day is not None and pair.ahead_for_good_from_day > 1 and pair.paid_saving > 0


def _overtakes(pair: Pair, names: Mapping[str, str]) -> str:
    day = pair.ahead_for_good_from_day
    return f"{names[pair.product_id]} costs more at first and less than {names[pair.instead_of]} from day {day} on."
