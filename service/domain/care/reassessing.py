"""When to judge whether what is given helps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from service.domain.care.answer import AmountRow, Reassessment
from service.domain.care.beside import Guided
from service.domain.care.schedule import date_of, day_shown
from service.domain.course.days import DayCount


def reassessments(
    rows: Sequence[AmountRow], begins: Mapping[str, int], guidance: Mapping[str, Guided], count: DayCount
) -> tuple[Reassessment, ...]:
    """Give the day on which each ingredient is to be judged.

    Parameters
    ----------
    rows
        What is given a day; they name the ingredients.
    begins
        For each ingredient, the day from 0 on which it begins.
    guidance
        Guidance by ingredient.
    count
        The days of the course.

    Returns
    -------
    tuple of Reassessment
        Earliest first. The day is the first day of the ingredient plus the longest time that its guidance names, as
        ``GET /v1/dose`` gives it; an ingredient without such a time has none,
        and neither has another material than the guidance speaks of.
    """
    found = []
    for row in {row.ingredient: row for row in rows}.values():
        told = guidance[row.ingredient].reassess_row
        other_material = row.form is None and bool(guidance[row.ingredient].phases)
        if told is None or told.reassess_after_days is None or other_material:
            continue
        day = begins[row.ingredient] + told.reassess_after_days
        found.append(
            Reassessment(
                ingredient=row.ingredient,
                name=row.name,
                after_days=told.reassess_after_days,
                on_day=day_shown(day),
                on_date=date_of(count, day),
                origin=told.origin,
                source_ids=told.source_ids,
            )
        )
    return tuple(sorted(found, key=lambda one: begins[one.ingredient] + one.after_days))
