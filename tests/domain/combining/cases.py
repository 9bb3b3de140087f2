"""Invented products and requests for the combination, and a search by trying everything.

``try_everything`` shares nothing with the programme: it multiplies and adds, as fractions, what the tests themselves
put on the labels. All targets are of the caller, so that a milligram on the label is a milligram of the target.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal as D
from fractions import Fraction
from itertools import combinations
from itertools import product as all_of

from service.domain.combining.answer import CombineAnswer
from service.domain.combining.combining import combine
from service.domain.combining.request import CombineRequest
from service.domain.common import Animal
from service.domain.products import STEP_OF, LabelFact, Product
from service.domain.targets import Target
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
DOG = Animal("dog", D(34), D(6))
HCL, MSM, CHONDROITIN, OIL = "Glucosamine HCl", "MSM", "Chondroitin sulfate", "EPA + DHA"
_TARGET_OF = {
    HCL: ("glucosamine", "glucosamine-hydrochloride"),
    MSM: ("msm", "msm"),
    CHONDROITIN: ("chondroitin-sulfate", "chondroitin-sulfate"),
    OIL: ("epa-dha", None),
}


def target(name: str, low: object, high: object) -> Target:
    """Make a target of the caller: mg per day of what the label line of this name states."""
    ingredient, form = _TARGET_OF[name]
    return Target(ingredient, form, D(str(low)), D(str(high)))


def product(
    id_: str, price: object = 10, /, *, other: str | None = "cellulose", **facts_and_changes: object
) -> Product:
    """Make a product of 100 tablets; ``mg`` says what one holds, by the name on the label."""
    mg: Mapping[str, object] = facts_and_changes.pop("mg", {})  # type: ignore[assignment]
    made = Product(
        id=id_,
        unit="tablet",
        unit_count=D(100),
        price=D(str(price)),
        currency="EUR",
        serving_units=D(1),
        facts=tuple(LabelFact(name, _printed(amount)) for name, amount in mg.items()),
        other_ingredients=other,
    )
    return replace(made, **facts_and_changes)  # type: ignore[arg-type]


def _printed(amount: object) -> str:
    text = str(amount)
    return text if text[-1].isalpha() else f"{text} mg"


def request(targets: Sequence[Target], products: Sequence[Product], **changes: object) -> CombineRequest:
    """Make a request for a dog of 34 kg."""
    return replace(CombineRequest(DOG, tuple(targets), tuple(products)), **changes)  # type: ignore[arg-type]


def ask(targets: Sequence[Target], products: Sequence[Product], **changes: object) -> CombineAnswer:
    """Combine, from the working tables."""
    return combine(REFERENCE, request(targets, products, **changes), time.monotonic)


def shown(answer: CombineAnswer) -> list[tuple[str, dict[str, str]]]:
    """Give cost a day and units a day of each combination."""
    return [
        (f"{one.cost_per_day.normalize():f}", {part.product_id: f"{part.units_per_day:f}" for part in one.products})
        for one in answer.combinations
    ]


@dataclass(frozen=True, slots=True)
class Tried:
    """One choice that keeps to every rule."""

    cost: Fraction
    units: Mapping[str, D]

    @property
    def key(self) -> tuple[Fraction, int, D, tuple[str, ...], tuple[D, ...]]:
        """Order as the service promises it: cost, products, units, ids."""
        ids = tuple(sorted(self.units))
        return (self.cost, len(ids), sum(self.units.values(), D(0)), ids, tuple(self.units[id_] for id_ in ids))


@dataclass(frozen=True, slots=True)
class Rules:
    """What ``try_everything`` keeps to: label lines with their least and most mg, and the number of products."""

    between: Mapping[str, tuple[Fraction, Fraction]]
    at_most: Mapping[str, Fraction]
    most_products: int


def try_everything(products: Sequence[Product], mg: Mapping[str, Mapping[str, Fraction]], rules: Rules) -> list[Tried]:
    """Find the three best sets by trying every number of parts of every product."""
    best: dict[frozenset[str], Tried] = {}
    for tried in _choices(products, mg, rules):
        set_ = frozenset(tried.units)
        best[set_] = min(best.get(set_, tried), tried, key=lambda one: one.key)
    found: list[Tried] = []
    for tried in sorted(best.values(), key=lambda one: one.key):
        if len(found) < 3 and not any(set(one.units) <= set(tried.units) for one in found):
            found.append(tried)
    return found


def _choices(products: Sequence[Product], mg: Mapping[str, Mapping[str, Fraction]], rules: Rules) -> Iterator[Tried]:
    for size in range(1, min(rules.most_products, len(products)) + 1):
        for chosen in combinations(products, size):
            counts = [range(1, _most_parts(one, mg[one.id], rules) + 1) for one in chosen]
            for steps in all_of(*counts):
                units = {one.id: STEP_OF[one.divisible] * count for one, count in zip(chosen, steps, strict=True)}
                if _keeps(units, mg, rules):
                    cost = sum(
                        Fraction(one.price or 0) / Fraction(one.unit_count or 1) * Fraction(units[one.id])
                        for one in chosen
                    )
                    yield Tried(Fraction(cost), units)


def _most_parts(one: Product, mg: Mapping[str, Fraction], rules: Rules) -> int:
    step = Fraction(STEP_OF[one.divisible])
    most = [20 / step]
    most += [top / (mg[name] * step) for name, (_, top) in rules.between.items() if mg.get(name)]
    most += [top / (mg[name] * step) for name, top in rules.at_most.items() if mg.get(name)]
    return int(min(most))


def _keeps(units: Mapping[str, D], mg: Mapping[str, Mapping[str, Fraction]], rules: Rules) -> bool:
    def _sum(name: str) -> Fraction:
        return sum((mg[id_].get(name, Fraction(0)) * Fraction(count) for id_, count in units.items()), Fraction(0))

    return all(low <= _sum(name) <= high for name, (low, high) in rules.between.items()) and all(
        _sum(name) <= top for name, top in rules.at_most.items()
    )
