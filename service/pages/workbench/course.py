"""The course of every product on the workbench, and the days on which one overtakes another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.course.answer import Course, Pair, PlanAnswer
from service.pages.asked import Asked, Cell
from service.pages.counting import counted, money
from service.pages.page_table import PageTable, page_table
from service.pages.wording import number, sentence_case, span, words

_COLUMNS = ("product", "phases", "used", "paid", "paid per 30 days", "packs", "left over", "if prices rise 10 %")
_MOST_DAYS = 6


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
    def told(part: str, text: str | None, rule: str, source_ids: tuple[str, ...] = ()) -> Asked | None:
        return Asked(f"{course.product_id}-{part}", text, rule, "", source_ids) if text else None

    dearer = next((one for one in course.what_if if one.change == "price" and one.factor and one.factor > 1), None)
    used, paid = (money(cost, course.currency) for cost in (course.consumed_cost, course.paid_cost))
    return (
        names.get(course.product_id, course.product_id),
        told("phases", _phases(course), _why_so_much(course), _phase_sources(course)),
        told("used", used, f"{_units(course.consumed_units, course)} at what each cost when its pack was bought."),
        told("paid", paid, f"{_packs(course)} Of it {used} is used up; the rest is left over or too old to be given."),
        told("thirty", money(course.paid_cost_per_30_days, course.currency), "What is paid, spread over all days."),
        told("packs", number(course.containers) if course.containers is not None else None, _packs(course)),
        told("left", _units(course.left_over_units, course), "What the packs bought hold beyond what is used."),
        told(
            "dearer",
            money(dearer.paid_cost, course.currency) if dearer else None,
            "The same with each price up by a tenth.",
        ),
    )


def _phases(course: Course) -> str:
    return "; ".join(
        f"{words(phase.phase)} {phase.days} days at {counted(phase.units_per_day, course.unit)}"
        for phase in course.phases
    )


def _why_so_much(course: Course) -> str:
    parts = [
        f"{words(phase.phase)}: {span(phase.wanted_low_mg, phase.wanted_high_mg)} mg a day wanted"
        for phase in course.phases
        if phase.wanted_low_mg is not None
    ]
    return f"{sentence_case('; '.join(parts))}." if parts else "As told."


def _phase_sources(course: Course) -> tuple[str, ...]:
    return tuple(dict.fromkeys(id_ for phase in course.phases for id_ in phase.source_ids))


def _units(count: Decimal | None, course: Course) -> str | None:
    return counted(count, course.unit) if count is not None else None


def _packs(course: Course) -> str:
    """Say when packs are bought: the first few days, each the day on which the pack is opened."""
    days = [str(purchase.day) for purchase in course.purchases]
    shown = ", ".join(days[:_MOST_DAYS]) + (" and so on" if len(days) > _MOST_DAYS else "")
    return f"A pack is bought on the day it is opened: day {shown}." if days else "The number of units is not known."


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
