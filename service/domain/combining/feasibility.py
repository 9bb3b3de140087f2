"""An independent check of every combination before it is answered: from the labels, not from the programme.

Nothing here uses the rows that the programme is made of. Amounts are added up product by product in exact decimals, and
the upper limits are whatever the screen itself finds exceeded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from service.domain.combining.request import HIGH_READING, CombineRequest, needed_mg
from service.domain.combining.screens import AVOID, OVER_LIMIT, VETERINARIAN
from service.domain.combining.telling import told_apart
from service.domain.compare_answer import TargetRange
from service.domain.normalising import ReadFact, read_facts
from service.domain.practicality import LARGEST_ENERGY_SHARE, has_unknown_cost, is_too_many, resting_energy_kcal
from service.domain.products import STEP_OF, Product
from service.domain.rounding import significant
from service.domain.screening_answers import ScreenAnswer
from service.domain.targets import known_weight, mg_in_unit
from service.reference.release import Reference

_NOISE_DIGITS = 15
_NOTHING = (Decimal(0), Decimal(0))


def faults(
    reference: Reference,
    request: CombineRequest,
    ranges: tuple[TargetRange, ...],
    units: Mapping[str, Decimal],
    before: ScreenAnswer,
    screened: ScreenAnswer,
) -> tuple[str, ...]:
    """List everything that a combination breaks.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        What was asked for.
    ranges
        The targets, settled.
    units
        Units a day by product id.
    before, screened
        The screen without the combination, and with it.

    Returns
    -------
    tuple of str
        Sentences; empty where it keeps to everything.
    """
    by_id = {product.id: product for product in request.products}
    unknown = [id_ for id_ in units if id_ not in by_id]
    if unknown:
        return tuple(f"{id_} is no product of the request." for id_ in unknown)
    given = [(by_id[id_], count) for id_, count in units.items()]
    found = [fault for product, count in given for fault in _product_faults(product, count)]
    if not 1 <= len(given) <= request.most_products:
        found.append(f"{len(given)} products are not 1 to {request.most_products}.")
    found += _target_faults(reference, request, ranges, given)
    found += _energy_faults(request, given)
    found += _screen_faults(set(units), before, screened)
    return tuple(found)


def _product_faults(product: Product, units: Decimal) -> list[str]:
    found = []
    if units <= 0 or units % STEP_OF[product.divisible]:
        found.append(f"{product.id}: {units} units cannot be given of what divides into {product.divisible}.")
    if is_too_many(product, units):
        found.append(f"{product.id}: {units} units a day are too many.")
    if has_unknown_cost(product):
        found.append(f"{product.id}: its cost is not known.")
    return found


def _target_faults(
    reference: Reference,
    request: CombineRequest,
    ranges: Iterable[TargetRange],
    given: Iterable[tuple[Product, Decimal]],
) -> list[str]:
    chosen = [(read_facts(reference, product), units) for product, units in given]
    beside = [(read_facts(reference, one), _units_of(one)) for one in request.other_supplements]
    found = []
    for wanted in ranges:
        own = _added(reference, chosen, wanted)
        already = _added(reference, beside, wanted) if request.count_other_supplements else _NOTHING
        reached, above = (significant(one + other, _NOISE_DIGITS) for one, other in zip(own, already, strict=True))
        needed = needed_mg(wanted, request.aim)
        if reached < needed:
            found.append(_said(f"{wanted.ingredient}: {{}} mg do not reach {{}} mg.", reached, needed))
        end, brought = (above, own[1]) if request.high_end_on == HIGH_READING else (reached, own[0])
        if brought and end > wanted.high_mg:
            found.append(_said(f"{wanted.ingredient}: {{}} mg pass {{}} mg.", end, wanted.high_mg))
    return found


def _added(
    reference: Reference, given: Iterable[tuple[tuple[ReadFact, ...], Decimal]], wanted: TargetRange
) -> tuple[Decimal, Decimal]:
    low = high = Decimal(0)
    for facts, units in given:
        low_mg, high_mg = mg_in_unit(reference, facts, wanted)
        low, high = low + low_mg * units, high + high_mg * units
    return low, high


def _units_of(supplement: Product) -> Decimal:
    return supplement.units_per_day or supplement.serving_units or Decimal(1)


def _energy_faults(request: CombineRequest, given: Iterable[tuple[Product, Decimal]]) -> list[str]:
    added = sum(((product.unit_energy_kcal or Decimal(0)) * units for product, units in given), Decimal(0))
    already = ((one.unit_energy_kcal or Decimal(0)) * _units_of(one) for one in request.other_supplements)
    energy = sum(already, added)
    most = significant(LARGEST_ENERGY_SHARE * resting_energy_kcal(known_weight(request.animal)), _NOISE_DIGITS)
    too_much = added and significant(energy, _NOISE_DIGITS) > most
    return [_said("{} kcal a day are more than {} kcal.", energy, most)] if too_much else []


def _said(sentence: str, first: Decimal, second: Decimal) -> str:
    return sentence.format(*told_apart(first, second))


def _screen_faults(ids: set[str], before: ScreenAnswer, screened: ScreenAnswer) -> list[str]:
    known = frozenset(before.findings)
    over = {
        ingredient
        for finding in screened.findings
        if finding.kind == OVER_LIMIT and finding.level == VETERINARIAN and finding not in known
        for ingredient in finding.subjects
    }
    brought = {
        total.ingredient
        for total in screened.totals
        if any(part.high_mg_per_day and part.product in ids for part in total.parts)
    }
    found = [f"{ingredient}: more than its upper limit." for ingredient in sorted(over & brought)]
    return found + [one.effect for one in screened.findings if one.level == AVOID and one not in known]
