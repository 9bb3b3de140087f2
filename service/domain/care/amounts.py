"""What each ingredient comes to a day over everything that is given, held against guidance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.care.answer import AmountRow
from service.domain.care.beside import Guided, beside, phase_for, position_of
from service.domain.care.counting import Held, Label, held_in_unit, ingredients_of, is_of_other_material
from service.domain.care.schedule import Stretch, date_of, day_shown, last_day
from service.domain.course.days import DayCount
from service.domain.rounding import amount_range
from service.reference.release import Reference

_MATERIAL = "the material as labelled"


@dataclass(frozen=True, slots=True)
class Course:
    """Everything that is given, read: products with their units in each stretch, then what is given all the time.

    ``units`` holds, for each stretch, units a day by position in ``labels``; ``None`` where nobody says how many.
    """

    labels: tuple[Label, ...]
    stretches: tuple[Stretch, ...]
    units: tuple[Mapping[int, Decimal | None], ...]
    count: DayCount


@dataclass(frozen=True, slots=True)
class _Piece:
    """The sum of one ingredient over the days of one stretch; low and high are ``None`` where nothing is counted."""

    from_day: int
    to_day: int | None
    low_mg: Decimal | None
    high_mg: Decimal | None
    at_least: bool
    labels: tuple[int, ...]


def amount_rows(reference: Reference, course: Course, guidance: Mapping[str, Guided]) -> tuple[AmountRow, ...]:
    """Add every ingredient up over all products, for each run of days on which its sum stays the same.

    Parameters
    ----------
    reference
        The release to answer from.
    course
        What is given.
    guidance
        Guidance by ingredient; one that is not in it has none.

    Returns
    -------
    tuple of AmountRow
        By ingredient in the order of the labels, then by day.
    """
    order = dict.fromkeys(id_ for label in course.labels for id_ in ingredients_of(reference, label))
    return tuple(row for id_ in order for row in _rows_of(reference, course, id_, guidance[id_]))


def _rows_of(reference: Reference, course: Course, ingredient: str, guidance: Guided) -> list[AmountRow]:
    guided_form = guidance.form if guidance.phases else None
    held = {
        place: held_in_unit(reference, label, ingredient, guided_form)
        for place, label in enumerate(course.labels)
        if ingredient in ingredients_of(reference, label)
    }
    form = guided_form
    if guided_form is not None and all(
        one.high_mg is None and is_of_other_material(reference, course.labels[place], ingredient, guided_form)
        for place, one in held.items()
    ):
        held = {place: held_in_unit(reference, course.labels[place], ingredient, None) for place in held}
        form = None
    pieces = _merged(
        [
            _piece(stretch, {place: held[place] for place in units if place in held}, units)
            for stretch, units in zip(course.stretches, course.units, strict=True)
            if any(place in held for place in units)
        ]
    )
    return [
        _row(reference, course, (ingredient, form), piece, guidance, is_first=index == 0)
        for index, piece in enumerate(pieces)
    ]


def _piece(stretch: Stretch, held: Mapping[int, Held], units: Mapping[int, Decimal | None]) -> _Piece:
    low = high = Decimal(0)
    counted, at_least = False, False
    for place, one in held.items():
        times = units[place]
        if one.low_mg is None or one.high_mg is None or times is None:
            at_least = True
            continue
        counted = True
        at_least = at_least or one.at_least
        low, high = low + one.low_mg * times, high + one.high_mg * times
    known_low, known_high = (low, high) if counted else (None, None)
    return _Piece(stretch.from_day, stretch.to_day, known_low, known_high, at_least, tuple(held))


def _merged(pieces: Sequence[_Piece]) -> list[_Piece]:
    """Join neighbours with the same sum from the same products."""
    found: list[_Piece] = []
    for piece in pieces:
        last = found[-1] if found else None
        if last is not None and last.to_day == piece.from_day and _same(last, piece):
            found[-1] = replace(last, to_day=piece.to_day)
        else:
            found.append(piece)
    return found


def _same(one: _Piece, other: _Piece) -> bool:
    return replace(one, from_day=other.from_day, to_day=other.to_day) == other


def _row(
    reference: Reference,
    course: Course,
    counted_in: tuple[str, str | None],
    piece: _Piece,
    guidance: Guided,
    *,
    is_first: bool,
) -> AmountRow:
    ingredient, form = counted_in
    days = None if piece.to_day is None else piece.to_day - piece.from_day
    usable = guidance if form is not None or not guidance.phases else replace(guidance, phases={})
    shown = beside(usable, phase_for(usable, piece.low_mg or Decimal(0), days, is_first=is_first))
    low, high = (None, None)
    if piece.low_mg is not None and piece.high_mg is not None:
        low, high = amount_range(piece.low_mg, piece.high_mg)
    return AmountRow(
        ingredient=ingredient,
        name=reference.ingredients[ingredient].name,
        form=form,
        counted_as=_counted_as(reference, ingredient, form, guidance),
        from_day=day_shown(piece.from_day),
        to_day=_to_day(piece),
        from_date=date_of(course.count, piece.from_day),
        to_date=date_of(course.count, last_day(piece.to_day)),
        low_mg=low,
        high_mg=high,
        at_least=piece.at_least,
        products=tuple(course.labels[place].product.id for place in piece.labels),
        position=position_of(low, high, piece.at_least, shown),
        guidance=shown,
        why_no_guidance=_why_none(reference, ingredient, guidance, form) if shown is None else None,
    )


def _to_day(piece: _Piece) -> int | None:
    last = last_day(piece.to_day)
    return None if last is None else day_shown(last)


def _counted_as(reference: Reference, ingredient: str, form: str | None, guidance: Guided) -> str:
    if form is not None:
        return reference.forms[form].name
    other_material = bool(guidance.phases)
    return _MATERIAL if other_material else reference.ingredients[ingredient].moiety or _MATERIAL


def _why_none(reference: Reference, ingredient: str, guidance: Guided, form: str | None) -> str:
    if guidance.phases and form is None and guidance.form is not None:
        guided = reference.forms[guidance.form].name
        return f"The published amounts are of {guided}; the label holds another material."
    return guidance.why_none or f"This release holds no amount of {reference.ingredients[ingredient].name}."
