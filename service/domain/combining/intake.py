"""What the smallest part of each product brings a day, and what the animal is given already."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.combining.request import CombineRequest
from service.domain.compare_answer import TargetRange
from service.domain.normalising import cost_per_unit
from service.domain.products import STEP_OF, Product
from service.domain.screening_answers import ScreenRequest
from service.domain.screening_burden import burden_of, daily_facts, units_per_day
from service.domain.screening_riders import rider_lines
from service.domain.screening_subjects import Mention, ReadLabel, read_subjects
from service.domain.screening_totals import daily_sums
from service.domain.targets import mg_in_unit
from service.reference.release import Reference

_NONE = Decimal(0)
# Ingredient and moiety: what a total of the screen counts as one.
Substance = tuple[str, str | None]


@dataclass(frozen=True, slots=True)
class Intake:
    """Amounts per day, exact: of each target its low and high reading, of substances and hazards the high one in mg.

    ``named_hazards`` are the hazards that a label names as more than a trace, with or without an amount.
    """

    targets: tuple[tuple[Decimal, Decimal], ...]
    substances: Mapping[Substance, Decimal]
    hazards: Mapping[str, Decimal]
    named_hazards: frozenset[str]
    energy_kcal: Decimal


@dataclass(frozen=True, slots=True)
class Content:
    """A product by the smallest part of a unit that can be given: what it brings and what it costs."""

    product: Product
    step: Decimal
    cost: Decimal | None
    intake: Intake
    label: ReadLabel


@dataclass(frozen=True, slots=True)
class Contents:
    """All products of a request, in its order, and what is given already."""

    products: tuple[Content, ...]
    given: Intake
    given_labels: tuple[ReadLabel, ...]


def read_contents(reference: Reference, request: CombineRequest, ranges: tuple[TargetRange, ...]) -> Contents:
    """Read all labels once.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Products and other supplements.
    ranges
        The targets, settled.

    Returns
    -------
    Contents
        Counted as the screen counts its totals: every substance, not only the targets.

    Raises
    ------
    InvalidInput
        If an amount on a label cannot be read.
    """
    smallest = tuple(replace(product, units_per_day=STEP_OF[product.divisible]) for product in request.products)
    asked = ScreenRequest(animal=request.animal, products=smallest, other_supplements=request.other_supplements)
    subjects = read_subjects(reference, asked)
    mentions: dict[str, list[Mention]] = {}
    for mention in subjects.mentions:
        mentions.setdefault(mention.where, []).append(mention)
    species, count = request.animal.species, len(smallest)
    intakes = [_intake(reference, label, mentions.get(label.place, ()), ranges, species) for label in subjects.labels]
    products = tuple(
        Content(product, STEP_OF[product.divisible], _cost(product), intake, label)
        for product, intake, label in zip(request.products, intakes, subjects.labels, strict=False)
    )
    return Contents(products, _together(intakes[count:], len(ranges)), subjects.labels[count:])


def _cost(product: Product) -> Decimal | None:
    per_unit = cost_per_unit(product)
    return per_unit * STEP_OF[product.divisible] if per_unit is not None else None


def _intake(
    reference: Reference,
    label: ReadLabel,
    mentions: Iterable[Mention],
    ranges: tuple[TargetRange, ...],
    species: str,
) -> Intake:
    own = tuple(mentions)
    times = units_per_day(label)
    facts = daily_facts(reference, (label,))
    sums = daily_sums(reference, (*facts, *rider_lines(reference, (label,), facts)))
    per_unit = (mg_in_unit(reference, label.facts, wanted) for wanted in ranges)
    return Intake(
        targets=tuple((low * times, high * times) for low, high in per_unit),
        substances={key: summed.high_mg for key, summed in sums.items()},
        hazards=burden_of(reference, own, facts, species).mg_per_day,
        named_hazards=frozenset(one.hazard for one in own if one.hazard is not None and not one.trace),
        energy_kcal=(label.product.unit_energy_kcal or _NONE) * times,
    )


def _together(intakes: Iterable[Intake], targets: int) -> Intake:
    low_high = [[_NONE, _NONE] for _ in range(targets)]
    substances: dict[Substance, Decimal] = {}
    hazards: dict[str, Decimal] = {}
    named: frozenset[str] = frozenset()
    energy = _NONE
    for intake in intakes:
        for pair, (low, high) in zip(low_high, intake.targets, strict=True):
            pair[0] += low
            pair[1] += high
        for key, mg in intake.substances.items():
            substances[key] = substances.get(key, _NONE) + mg
        for hazard, mg in intake.hazards.items():
            hazards[hazard] = hazards.get(hazard, _NONE) + mg
        named |= intake.named_hazards
        energy += intake.energy_kcal
    return Intake(tuple((low, high) for low, high in low_high), substances, hazards, named, energy)
