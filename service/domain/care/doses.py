"""How the units of a day are divided into doses, and how many units an amount in mg is."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from service.domain.care.schedule import Span
from service.domain.common import Animal
from service.domain.compare_answer import TargetRange
from service.domain.errors import InvalidInput, Issue, UnknownIngredient
from service.domain.normalising import ReadFact
from service.domain.products import STEP_OF, Product
from service.domain.suggesting import nearest_ids
from service.domain.targets import Target, mg_in_unit, settle_target
from service.domain.unit_counting import count_units
from service.reference.release import Reference

_NO_BOUND = Decimal("Infinity")


def units_of(
    reference: Reference, animal: Animal, product: Product, facts: tuple[ReadFact, ...], span: Span, form: str | None
) -> Decimal | None:
    """Count the units a day of one span.

    Parameters
    ----------
    reference
        The release to answer from.
    animal
        Who gets it.
    product, facts
        The product and its label, read.
    span
        What is told of it; an amount in mg becomes the smallest number of units that reaches it on the low reading.
    form
        Id of the form that such an amount counts where the caller names none; ``None``: its moiety.

    Returns
    -------
    Decimal or None
        ``None`` where the caller does not say how much.

    Raises
    ------
    UnknownIngredient, UnknownForm
        If the amount is of something that the release does not know.
    InvalidInput
        If the label credits nothing of it, or the form is of something else.
    """
    told = span.told
    if told is None or told.mg_per_day is None or told.ingredient is None:
        return told.units_per_day if told is not None else None
    wanted = _wanted(reference, animal, Target(told.ingredient, told.form or form, told.mg_per_day), span)
    per_unit = mg_in_unit(reference, facts, wanted)
    counted = count_units([per_unit], [(wanted.aim_mg, _NO_BOUND)], STEP_OF[product.divisible])
    if counted.units is None:
        detail = f"is not on the label of {product.id} with an amount; say units_per_day instead"
        raise InvalidInput(Issue(f"{span.where}/ingredient", detail))
    return counted.units


def _wanted(reference: Reference, animal: Animal, target: Target, span: Span) -> TargetRange:
    if target.ingredient not in reference.ingredients:
        raise UnknownIngredient(target.ingredient, nearest_ids(target.ingredient, reference.ingredients))
    told_mg = target.low_mg or Decimal(0)
    if target.form is None:
        return TargetRange(target.ingredient, None, "maintenance", told_mg, told_mg, told_mg, "caller", ())
    return settle_target(reference, animal, replace(target, high_mg=told_mg), "low", span.where)


def split_into_doses(units_per_day: Decimal, divided_doses: int, step: Decimal) -> tuple[Decimal, ...]:
    """Split a day's units into doses as even as the unit divides, the larger first.

    Parameters
    ----------
    units_per_day
        Units a day.
    divided_doses
        Into how many doses the guidance divides the day.
    step
        The smallest part of a unit that can be given.

    Returns
    -------
    tuple of Decimal
        Their sum is the day's units. Fewer doses where there are not enough parts; one where the unit cannot be
        divided so at all. That halves go to the larger dose is a rule of ours.

    Examples
    --------
    Three tablets that break in halves, in two doses; and one and a half of them:

    >>> split_into_doses(Decimal(3), 2, Decimal("0.5"))
    (Decimal('1.5'), Decimal('1.5'))
    >>> split_into_doses(Decimal("1.5"), 2, Decimal("0.5"))
    (Decimal('1.0'), Decimal('0.5'))
    """
    parts = units_per_day / step
    if parts != parts.to_integral_value() or divided_doses < 1:
        return (units_per_day,)
    each, rest = divmod(int(parts), divided_doses)
    counts = [each + 1] * rest + [each] * (divided_doses - rest)
    return tuple(count * step for count in counts if count)
