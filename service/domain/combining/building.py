"""From labels to the programme: which products may be used, and every rule that a combination keeps to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.combining.answer import LeftOut, LeftOutReason
from service.domain.combining.intake import Content, Contents
from service.domain.combining.programme import ENERGY, RANGE, TARGET, Programme, Row, holds, without_noise
from service.domain.combining.request import HIGH_READING, CombineRequest, needed_mg
from service.domain.combining.screens import Screens
from service.domain.combining.telling import told, told_apart
from service.domain.combining.upper_limits import UpperLimit
from service.domain.compare_answer import TargetRange
from service.domain.practicality import (
    LARGEST_ENERGY_SHARE,
    MOST_UNITS_PER_DAY,
    has_unknown_cost,
    is_too_many,
    resting_energy_kcal,
)
from service.domain.screening_answers import Finding
from service.domain.targets import known_weight
from service.reference.release import Reference

# What is measured, not counted, is held to what a request may state of it.
MOST_MEASURED_UNITS = Decimal(1000)
_NONE = Decimal(0)


@dataclass(frozen=True, slots=True)
class Case:
    """All that a combination is made from.

    ``base`` is the programme without its rows, ``places`` are the request's places of its products.
    """

    contents: Contents
    ranges: tuple[TargetRange, ...]
    base: Programme
    programme: Programme
    places: tuple[int, ...]
    left_out: tuple[LeftOut, ...]

    def content(self, place: int) -> Content:
        """Give a product of the programme.

        Parameters
        ----------
        place
            Its place in the programme.

        Returns
        -------
        Content
            What its smallest part brings and costs.
        """
        return self.contents.products[self.places[place]]


def build(
    reference: Reference,
    request: CombineRequest,
    contents: Contents,
    ranges: tuple[TargetRange, ...],
    limits: tuple[UpperLimit, ...],
    screens: Screens,
) -> Case:
    """Leave out what may not be used, and write the rules over the rest.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        What was asked for.
    contents
        The products, read.
    ranges
        The targets, settled.
    limits
        What must not be passed.
    screens
        Screens each product alone, at its smallest part.

    Returns
    -------
    Case
        With the reasons for every product that is left out.
    """
    rows = _rows(request, contents, ranges, limits)
    left_out, places = [], []
    for place, content in enumerate(contents.products):
        objections = screens.objections({place: 1})
        reasons = [*_avoided(objections), *_useless(content), *_too_much(rows, place)]
        if reasons:
            ids = dict.fromkeys(id_ for one in objections for id_ in one.source_ids)
            left_out.append(LeftOut(content.product.id, content.product.name, tuple(reasons), tuple(ids)))
        else:
            places.append(place)
    base = Programme(
        names=tuple(contents.products[place].product.id for place in places),
        step_sizes=tuple(contents.products[place].step for place in places),
        costs=tuple(contents.products[place].cost or _NONE for place in places),
        caps=tuple(_most_parts(contents.products[place]) for place in places),
        most_products=request.most_products,
    )
    kept = [replace(row, per_step=tuple(row.per_step[place] for place in places)) for row in rows]
    programme = base.with_rows(*(row for row in kept if row.kind == TARGET or any(row.per_step)))
    return Case(contents, ranges, base, programme, tuple(places), tuple(left_out))


def reached_without(request: CombineRequest, contents: Contents, ranges: Sequence[TargetRange]) -> bool:
    """Say whether what is given already reaches every target.

    Parameters
    ----------
    request
        Says whether it counts.
    contents
        What is given.
    ranges
        The targets, settled.

    Returns
    -------
    bool
        ``False`` where it does not count.
    """
    return request.count_other_supplements and all(
        without_noise(low) >= needed_mg(wanted, request.aim)
        for (low, _), wanted in zip(contents.given.targets, ranges, strict=True)
    )


def most_units(content: Content) -> Decimal:
    """Most units a day that a combination may hold of a product.

    Parameters
    ----------
    content
        The product.

    Returns
    -------
    Decimal
        20, or 1000 of what is measured in millilitres or grams.
    """
    counted = is_too_many(content.product, MOST_UNITS_PER_DAY + 1)
    return MOST_UNITS_PER_DAY if counted else MOST_MEASURED_UNITS


def _most_parts(content: Content) -> int:
    return int(most_units(content) / content.step)


def _rows(
    request: CombineRequest, contents: Contents, ranges: Sequence[TargetRange], limits: Sequence[UpperLimit]
) -> list[Row]:
    rows = []
    for index, wanted in enumerate(ranges):
        rows += _target_rows(request, contents, wanted, index)
    for limit in limits:
        given = limit.mg_of(contents.given)
        rows.append(
            Row(
                limit.kind,
                tuple(limit.mg_of(content.intake) for content in contents.products),
                most=max(limit.most_mg - given, _NONE),
                bound=limit.most_mg,
                itself_too_much=limit.itself_too_much,
                given=given,
                ingredient=limit.ingredient,
                limit_id=limit.limit_id,
                words=limit.words,
                origin=limit.origin,
                source_ids=limit.source_ids,
            )
        )
    return [*rows, _energy_row(request, contents)]


def _target_rows(request: CombineRequest, contents: Contents, wanted: TargetRange, index: int) -> list[Row]:
    given_low, given_high = contents.given.targets[index] if request.count_other_supplements else (_NONE, _NONE)
    low = tuple(content.intake.targets[index][0] for content in contents.products)
    high = tuple(content.intake.targets[index][1] for content in contents.products)
    on_high = request.high_end_on == HIGH_READING
    given = given_high if on_high else given_low
    ending = " on the high reading of the labels" if on_high else ""
    rows = [
        Row(
            RANGE,
            high if on_high else low,
            most=max(wanted.high_mg - given, _NONE),
            bound=wanted.high_mg,
            given=given,
            ingredient=wanted.ingredient,
            words=f"the high end of its range{ending}",
        )
    ]
    needed = needed_mg(wanted, request.aim)
    least = needed - given_low
    if without_noise(least) > 0:
        rows.append(Row(TARGET, low, least=least, bound=needed, given=given_low, ingredient=wanted.ingredient))
    return rows


def _energy_row(request: CombineRequest, contents: Contents) -> Row:
    given = contents.given.energy_kcal
    most = LARGEST_ENERGY_SHARE * resting_energy_kcal(known_weight(request.animal))
    return Row(
        ENERGY,
        tuple(content.intake.energy_kcal for content in contents.products),
        most=max(most - given, _NONE),
        bound=most,
        given=given,
        words="a tenth of the resting energy need",
    )


def _avoided(objections: Sequence[Finding]) -> list[LeftOutReason]:
    return [LeftOutReason("avoid_finding", f"{one.effect} {one.action}") for one in objections]


def _useless(content: Content) -> list[LeftOutReason]:
    found = []
    if has_unknown_cost(content.product):
        detail = "Price or number of units is missing, so its cost is unknown."
        found.append(LeftOutReason("cost_unknown", detail))
    if not any(low for low, _ in content.intake.targets):
        found.append(LeftOutReason("holds_no_target", "The label credits no amount of any of the targets."))
    return found


def _too_much(rows: Sequence[Row], place: int) -> list[LeftOutReason]:
    found = []
    for row in rows:
        brought = without_noise(row.per_step[place])
        if row.most is None or not brought or holds(row, brought):
            continue
        unit = "kcal" if row.kind == ENERGY else "mg"
        of_what = f" of {row.ingredient}" if row.ingredient else ""
        part, bound = told_apart(brought, row.bound)
        beside = f", and {told(row.given)} {unit} a day are given already" if row.given else ""
        detail = f"Its smallest part brings {part} {unit}{of_what}{beside}: {row.words} is {bound} {unit} a day."
        found.append(LeftOutReason("too_much_in_smallest_part", detail))
    return found
