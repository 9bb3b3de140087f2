"""What is given, product by product: when, in which doses, and what every line of the label comes to."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from service.domain.care.answer import GivenLine, GivenPhase, GivenProduct, LinePerDay
from service.domain.care.counting import Label
from service.domain.care.doses import split_into_doses
from service.domain.care.schedule import Span, date_of, day_shown, last_day
from service.domain.course.days import DayCount
from service.domain.flag_words import FLAG_WORDS
from service.domain.normalising import ReadFact
from service.domain.products import STEP_OF
from service.domain.rounding import amount_range
from service.reference.release import Reference

# Flags that leave open what or how much is in a unit; the others tell how the print was read.
_LEAVE_OPEN = (
    "form_not_stated",
    "form_open",
    "salt_or_base_ambiguous",
    "stabiliser_not_stated",
    "hydration_not_stated",
    "ester_or_acid_ambiguous",
    "mixed_salts_split_unknown",
    "no_fixed_formula",
    "epa_dha_not_stated",
    "natural_or_synthetic_not_stated",
    "purity_basis_ambiguous",
    "amount_hidden_in_blend",
    "amount_not_stated",
    "serving_not_stated",
    "unit_suspicious",
    "label_inconsistent",
)
Pair = tuple[Decimal | None, Decimal | None]
_NOTHING: Pair = (None, None)


def given_product(
    reference: Reference,
    label: Label,
    spans: Sequence[tuple[Span, Decimal | None]],
    divided_doses: int,
    count: DayCount,
) -> GivenProduct:
    """Tell what is given of one product.

    Parameters
    ----------
    reference
        The release to answer from.
    label
        The product, read.
    spans
        Its spans with their units a day, in order.
    divided_doses
        Into how many doses the guidance divides the day.
    count
        The days of the course.

    Returns
    -------
    GivenProduct
        Amounts in mg per unit and per day, low and high reading.
    """
    product = label.product
    units = [times for _, times in spans]
    return GivenProduct(
        product_id=product.id,
        name=product.name,
        unit=product.unit,
        serving_units=product.serving_units,
        phases=tuple(
            _phase(position, span, times, _doses(label, times, divided_doses), count)
            for position, (span, times) in enumerate(spans, start=1)
        ),
        lines=tuple(_line(reference, fact, units, served=product.serving_units is not None) for fact in label.facts),
        other_ingredients=product.other_ingredients,
    )


def given_beside(reference: Reference, label: Label) -> GivenProduct:
    """Tell what is given beside the course all along: one phase without a beginning.

    Parameters
    ----------
    reference
        The release to answer from.
    label
        The supplement, read.

    Returns
    -------
    GivenProduct
        Amounts in mg per unit and per day, low and high reading.
    """
    product, units = label.product, label.product.units_per_day
    served = product.serving_units is not None
    return GivenProduct(
        product_id=product.id,
        name=product.name,
        unit=product.unit,
        serving_units=product.serving_units,
        phases=(GivenPhase(1, None, None, None, None, None, None, units, () if units is None else (units,)),),
        lines=tuple(_line(reference, fact, [units], served=served) for fact in label.facts),
        other_ingredients=product.other_ingredients,
    )


def _doses(label: Label, units: Decimal | None, divided_doses: int) -> tuple[Decimal, ...]:
    return () if units is None else split_into_doses(units, divided_doses, STEP_OF[label.product.divisible])


def _phase(position: int, span: Span, units: Decimal | None, doses: tuple[Decimal, ...], count: DayCount) -> GivenPhase:
    last = last_day(span.to_day)
    return GivenPhase(
        phase=position,
        name=span.told.name if span.told is not None else None,
        from_day=day_shown(span.from_day),
        to_day=None if last is None else day_shown(last),
        from_date=date_of(count, span.from_day),
        to_date=date_of(count, last),
        days=None if span.to_day is None else span.to_day - span.from_day,
        units_per_day=units,
        doses=doses,
    )


def _line(reference: Reference, fact: ReadFact, units: Sequence[Decimal | None], *, served: bool) -> GivenLine:
    reading, mass = fact.reading, fact.mass
    whole, moiety = (mass.mg_low, mass.mg_high), (mass.moiety_low_mg, mass.moiety_high_mg)
    flags = fact.flags if served else (*fact.flags, "serving_not_stated")
    # Of an oil whose EPA and DHA the label states, the form of one of the two would say too much.
    form = reading.form if reading.stated_mg is None else None
    shown, moiety_shown = _times(whole, Decimal(1)), _times(moiety, Decimal(1))
    return GivenLine(
        name=fact.fact.name,
        amount=fact.fact.amount,
        ingredient=reading.ingredient,
        ingredient_name=reference.ingredients[reading.ingredient].name if reading.ingredient else None,
        form=form.id if form is not None else None,
        form_name=form.name if form is not None else None,
        moiety=reading.moiety,
        low_mg_per_unit=shown[0],
        high_mg_per_unit=shown[1],
        moiety_low_mg_per_unit=moiety_shown[0],
        moiety_high_mg_per_unit=moiety_shown[1],
        flags=flags,
        left_open=tuple(FLAG_WORDS[flag] for flag in flags if flag in _LEAVE_OPEN),
        per_day=tuple(
            LinePerDay(position, *_times(whole, times), *_times(moiety, times))
            for position, times in enumerate(units, start=1)
        ),
    )


def _times(pair: Pair, times: Decimal | None) -> Pair:
    low, high = pair
    if low is None or high is None or times is None:
        return _NOTHING
    return amount_range(low * times, high * times)
