"""How many units a day are given on which days of a course, and what they hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, Decimal

from service.domain.common import Animal
from service.domain.compare_answer import TargetRange
from service.domain.course.days import DayCount
from service.domain.course.lengths import Stretch, default_horizon_days, stretches
from service.domain.course.request import Pack, PhaseWanted, PlanRequest
from service.domain.course.weights import WeightFrom
from service.domain.errors import InvalidInput, Issue, NoGuidance
from service.domain.guidance import band_rows, guidance_rows
from service.domain.normalising import ReadFact
from service.domain.products import STEP_OF
from service.domain.rounding import significant
from service.domain.targets import Target, known_weight, mg_in_unit, settle_target
from service.domain.unit_counting import UnitCount, count_units
from service.reference.release import Reference

_NOISE_DIGITS = 15
_NO_BOUND = Decimal("Infinity")
_NOT_DIVISIBLE = "units_not_divisible"
_HIGH_READING = "high_reading_above_range"
# Path of a stretch that no phase of the caller stands for.
_FROM_GUIDANCE = "phases"


@dataclass(frozen=True, slots=True)
class Portion:
    """One amount a day over some days, from 0; ``used_per_day`` is what leaves the pack for it.

    ``units_per_day`` is ``None`` where the label credits nothing of the ingredient that was to be reached.
    """

    from_day: int
    to_day: int
    phase: str
    weight_kg: Decimal | None
    units_per_day: Decimal | None
    used_per_day: Decimal
    target: TargetRange | None
    per_unit_mg: tuple[Decimal, Decimal] | None
    derived: bool
    meets: bool | None
    divided_doses: int | None
    flags: tuple[str, ...]


def judged_ingredient(reference: Reference, request: PlanRequest, labels: Sequence[Sequence[ReadFact]]) -> str | None:
    """Choose the ingredient that amounts are judged by.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        The course; an ingredient that it names wins.
    labels
        The labels, in the order of the products.

    Returns
    -------
    str or None
        Else the first on the labels for which the release holds amounts for the species; where none is, the first
        active one; ``None`` where no label names any.
    """
    if request.ingredient is not None:
        return request.ingredient
    facts = [fact for label in labels for fact in label]
    printed = dict.fromkeys(fact.reading.ingredient for fact in facts if fact.mass.moiety_low_mg is not None)
    guided = (one for one in printed if one and (one, request.animal.species) in reference.guidance_of)
    named = dict.fromkeys(fact.reading.ingredient for fact in facts)
    active = (one for one in named if one and reference.ingredients[one].kind == "active")
    return next(guided, None) or next(active, None)


def wanted_stretches(
    reference: Reference, request: PlanRequest, count: DayCount, ingredient: str | None
) -> tuple[Stretch, ...]:
    """Lay a course out: the phases of the caller, or loading and maintenance of the guidance.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        The course.
    count
        Its days.
    ingredient
        The ingredient that amounts are judged by.

    Returns
    -------
    tuple of Stretch
        In order of days.

    Raises
    ------
    InvalidInput
        If phases contradict each other, or there are none and no ingredient with guidance either.
    UnknownIngredient, NoGuidance
        If the ingredient is not known, or no amount of it for the species.
    """
    if request.phases:
        return stretches(request, count)
    days = default_horizon_days(request, count)
    if all(pack.product.units_per_day is not None for pack in request.packs):
        return (Stretch(0, days, PhaseWanted(aim=request.aim, ingredient=ingredient), _FROM_GUIDANCE),)
    if ingredient is None:
        detail = "is needed: nothing on the label has published amounts for this species; say what is given a day"
        raise InvalidInput(Issue("phases", detail))
    loading_days = _loading_days(reference, request, ingredient)
    wanted = PhaseWanted(aim=request.aim, ingredient=ingredient, form=request.form)
    found = []
    if loading_days:
        loading = replace(wanted, guidance_phase="loading")
        found.append(Stretch(0, min(loading_days, days), loading, _FROM_GUIDANCE))
    if loading_days < days:
        found.append(Stretch(loading_days, days, wanted, _FROM_GUIDANCE))
    return tuple(found)


def _loading_days(reference: Reference, request: PlanRequest, ingredient: str) -> int:
    """Take the longest loading that the guidance names, so that neither cost nor supply is understated."""
    rows = guidance_rows(reference, ingredient, request.animal.species)
    held = [row for row in band_rows(rows, known_weight(request.animal)) if row.phase == "loading"]
    if not request.loading:
        return 0
    if not held:
        if request.loading_days is not None:
            detail = f"no loading phase of {ingredient} is recorded; leave it out, or give phases"
            raise InvalidInput(Issue("loading_days", detail))
        return 0
    return request.loading_days or held[0].days_high or held[0].days_low or 0


def portions(
    reference: Reference,
    request: PlanRequest,
    pack: Pack,
    facts: tuple[ReadFact, ...],
    course: Sequence[Stretch],
    weights: Sequence[WeightFrom],
    ingredient: str | None,
) -> tuple[Portion, ...]:
    """Count the units of one product for every stretch of a course.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        The course.
    pack, facts
        The product and its label, read.
    course
        The stretches, in order.
    weights
        Body weights over the course; amounts from guidance change with them.
    ingredient
        The ingredient that amounts are judged by where a phase names none.

    Returns
    -------
    tuple of Portion
        In order of days, split where a new weight changes what is wanted.

    Raises
    ------
    InvalidInput
        If a phase names no amount or several, or a range cannot be settled.
    UnknownIngredient, UnknownForm, NoGuidance
        If an id is not known, or no amount for this animal.
    """
    found = []
    for stretch in _as_told(request, pack, course):
        _check_amount(stretch)
        for piece, weight_kg in _pieces(stretch, weights):
            animal = replace(request.animal, weight_kg=weight_kg)
            wanted = _completed(piece.wanted, ingredient, request.form)
            found.append(_portion(reference, request, animal, pack, facts, replace(piece, wanted=wanted)))
    return tuple(found)


def _completed(wanted: PhaseWanted, ingredient: str | None, form: str | None) -> PhaseWanted:
    """Let a phase that names neither ingredient nor form take those of the course."""
    if wanted.ingredient in (None, ingredient):
        return replace(wanted, ingredient=ingredient, form=wanted.form or form)
    return wanted


def _as_told(request: PlanRequest, pack: Pack, course: Sequence[Stretch]) -> Sequence[Stretch]:
    """Give a product that comes with its units a day so, where no phases say otherwise."""
    units = pack.product.units_per_day
    if request.phases or units is None:
        return course
    wanted = PhaseWanted(units_per_day=units, ingredient=request.ingredient, form=request.form)
    return [Stretch(course[0].from_day, course[-1].to_day, wanted, f"{pack.where}/units_per_day")]


def _check_amount(stretch: Stretch) -> None:
    wanted = stretch.wanted
    ways = ("units_per_day", "mg_per_day", "aim")
    given = [name for name in ways if getattr(wanted, name) is not None]
    if len(given) != 1:
        raise InvalidInput(Issue(f"{stretch.where}/{(given or ways)[0]}", f"give exactly one of {', '.join(ways)}"))


def _pieces(stretch: Stretch, weights: Sequence[WeightFrom]) -> list[tuple[Stretch, Decimal]]:
    """Split a stretch on the days on which the weight changes."""
    found = []
    for index, weight in enumerate(weights):
        until = weights[index + 1].day if index + 1 < len(weights) else stretch.to_day
        begin, end = max(stretch.from_day, weight.day), min(stretch.to_day, until)
        if begin < end:
            found.append((replace(stretch, from_day=begin, to_day=end), weight.weight_kg))
    return found


def _portion(
    reference: Reference,
    request: PlanRequest,
    animal: Animal,
    pack: Pack,
    facts: tuple[ReadFact, ...],
    stretch: Stretch,
) -> Portion:
    wanted = stretch.wanted
    target = _target(reference, animal, stretch)
    per_unit = _per_unit(reference, facts, target)
    counted = _count(pack, wanted, target, per_unit)
    units = counted.units
    return Portion(
        from_day=stretch.from_day,
        to_day=stretch.to_day,
        phase=wanted.name or (wanted.guidance_phase if wanted.aim is not None else "given"),
        weight_kg=animal.weight_kg,
        units_per_day=units,
        used_per_day=_used(units or Decimal(0), request.remainder),
        target=target,
        per_unit_mg=per_unit,
        derived=wanted.units_per_day is None,
        meets=counted.meets if per_unit is not None else None,
        divided_doses=_divided_doses(reference, animal, wanted),
        flags=counted.flags,
    )


def _per_unit(
    reference: Reference, facts: tuple[ReadFact, ...], target: TargetRange | None
) -> tuple[Decimal, Decimal] | None:
    """Give mg in one unit; ``None`` where the label names the ingredient without an amount that could be read."""
    if target is None:
        return None
    found = mg_in_unit(reference, facts, target)
    named = any(fact.reading.ingredient == target.ingredient for fact in facts)
    return None if named and not found[1] else found


def _used(units: Decimal, remainder: str) -> Decimal:
    """Round up to whole units where the rest of a divided one is thrown away each day."""
    return units.to_integral_value(ROUND_CEILING) if remainder == "discarded" else units


def _target(reference: Reference, animal: Animal, stretch: Stretch) -> TargetRange | None:
    wanted = stretch.wanted
    if wanted.units_per_day is not None:
        return _shown_beside(reference, animal, stretch)
    if wanted.ingredient is None:
        detail = "is needed: say which ingredient the amount counts"
        raise InvalidInput(Issue(f"{stretch.where}/ingredient", detail))
    target = Target(wanted.ingredient, wanted.form, wanted.mg_per_day, None, wanted.guidance_phase)
    return _settled(reference, animal, target, wanted.aim or "low", stretch)


def _settled(reference: Reference, animal: Animal, target: Target, aim: str, stretch: Stretch) -> TargetRange:
    """Settle a target; what is wrong with it is said at the member that the caller wrote."""
    try:
        return settle_target(reference, animal, target, aim, stretch.where)
    except InvalidInput as error:
        places = (issue.where.removeprefix(f"{stretch.where}/") for issue in error.issues)
        named = ("guidance_phase" if place == "phase" else place for place in places)
        told = (name if stretch.where == _FROM_GUIDANCE else f"{stretch.where}/{name}" for name in named)
        issues = [Issue(place, issue.detail) for place, issue in zip(told, error.issues, strict=True)]
        raise InvalidInput(*issues) from None


def _shown_beside(reference: Reference, animal: Animal, stretch: Stretch) -> TargetRange | None:
    """Give the guidance that units told by the caller are shown beside; ``None`` where there is none."""
    wanted = stretch.wanted
    if wanted.ingredient is None:
        return None
    try:
        target = Target(wanted.ingredient, wanted.form, phase=wanted.guidance_phase)
        return _settled(reference, animal, target, "low", stretch)
    except NoGuidance:
        return None


def _count(
    pack: Pack, wanted: PhaseWanted, target: TargetRange | None, per_unit: tuple[Decimal, Decimal] | None
) -> UnitCount:
    step = STEP_OF[pack.product.divisible]
    if wanted.units_per_day is not None:
        return _told_units(wanted.units_per_day, step, target, per_unit)
    if target is not None and per_unit is None:
        return UnitCount(None, meets=False, flags=("target_not_in_product",))
    if target is None or per_unit is None:
        raise ValueError("an amount that is no number of units has a target")
    # An amount of the caller's own without a published range has no high end to keep to.
    open_ended = wanted.mg_per_day is not None and target.high_mg == target.low_mg
    return count_units([per_unit], [(target.aim_mg, _NO_BOUND if open_ended else target.high_mg)], step)


def _told_units(
    units: Decimal, step: Decimal, target: TargetRange | None, per_unit: tuple[Decimal, Decimal] | None
) -> UnitCount:
    """Judge units that the caller tells as :func:`count_units` judges its own: the range on the low reading."""
    flags = (_NOT_DIVISIBLE,) if units % step else ()
    if target is None or per_unit is None:
        return UnitCount(units, meets=False, flags=flags)
    low, high = (significant(units * mg, _NOISE_DIGITS) for mg in per_unit)
    meets = target.low_mg <= low <= target.high_mg
    return UnitCount(units, meets, (*flags, _HIGH_READING) if meets and high > target.high_mg else flags)


def _divided_doses(reference: Reference, animal: Animal, wanted: PhaseWanted) -> int | None:
    key = (wanted.ingredient or "", animal.species)
    held = band_rows(reference.guidance_of.get(key, ()), known_weight(animal))
    return next((row.divided_doses for row in held if row.phase == wanted.guidance_phase), None)
