"""Amounts per day over all products, against the published maxima; and what is given twice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.common import Animal
from service.domain.daily_limits import limit_mg_per_day
from service.domain.rounding import amount, amount_range
from service.domain.screening_answers import Finding, Total, plain
from service.domain.screening_burden import DailyFact
from service.domain.screening_interactions import most_lines_of_one_moiety
from service.domain.screening_subjects import TEXT, Mention, ReadLabel, Subjects
from service.reference.records import Limit
from service.reference.release import Reference

# Energy that a dog of ordinary activity needs per kg^0.75, to read a limit stated per 1,000 kcal (fediaf21q).
_MAINTENANCE_KCAL_PER_KG075 = Decimal(130)
_BASES = ("per_kg075_per_day", "per_kg_per_day", "per_1000_kcal")
_COMMON_PRACTICE = "common-practice"


@dataclass(frozen=True, slots=True)
class _Sum:
    """mg per day of one moiety, exact."""

    low_mg: Decimal
    high_mg: Decimal
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Totals:
    """Totals, and the findings that follow from limits."""

    totals: tuple[Total, ...]
    findings: tuple[Finding, ...]


def add_up(reference: Reference, facts: Iterable[DailyFact], labels: Iterable[ReadLabel], animal: Animal) -> Totals:
    """Add up every ingredient over all products and compare with its maximum.

    Parameters
    ----------
    reference
        The release to answer from.
    facts
        Amounts per day.
    labels
        The products, for their ids.
    animal
        Without a weight no limit applies.

    Returns
    -------
    Totals
        Per ingredient and moiety, nutrients in one sum. ``over_limit`` findings compare the high reading with the
        limits that the release enforces, at level ``veterinarian``; a recalled limit is named as such.
    """
    ids = {label.place: label.product.id for label in labels}
    totals, findings = [], []
    for (ingredient, moiety), summed in _sums(reference, facts).items():
        limit = _limit(reference, ingredient, animal)
        total = _total(ingredient, moiety, summed, ids, animal, limit)
        totals.append(total)
        if limit is not None and summed.high_mg > limit[1]:
            findings.append(_over(reference, total, limit[0]))
    return Totals(tuple(totals), tuple(findings))


def _sums(reference: Reference, facts: Iterable[DailyFact]) -> dict[tuple[str, str | None], _Sum]:
    found: dict[tuple[str, str | None], dict[str, list[DailyFact]]] = {}
    for fact in facts:
        if fact.ingredient is None or is_collective(reference, fact.ingredient):
            continue
        row = reference.ingredients[fact.ingredient]
        # Every source of a nutrient counts as one; the parts of a sum (EPA, DHA) belong to the sum.
        together = row.kind == "nutrient" or " + " in (row.moiety or "")
        key = (fact.ingredient, row.moiety if together else fact.moiety)
        found.setdefault(key, defaultdict(list))[fact.place].append(fact)
    return {
        key: _Sum(
            sum((_of_one_product(lines, key[1], "low_mg") for lines in places.values()), Decimal(0)),
            sum((_of_one_product(lines, key[1], "high_mg") for lines in places.values()), Decimal(0)),
            tuple(places),
        )
        for key, places in found.items()
    }


def is_collective(reference: Reference, ingredient_id: str) -> bool:
    """Say whether an ingredient may stand for several substances ("other herbs"), which never add up.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        Id of an ingredient.

    Returns
    -------
    bool
        ``True`` for an active or nutrient without a moiety, a group or another ingredient to screen it as.
    """
    row = reference.ingredients[ingredient_id]
    named = row.moiety or row.group_ids or row.screened_as_ids
    return not named and row.kind in ("active", "nutrient")


def _of_one_product(lines: list[DailyFact], moiety: str | None, reading: str) -> Decimal:
    """Add the lines of one product; of a whole, its parts and a vaguer total the largest counts, not all of them."""
    if " + " not in (moiety or ""):
        return sum((getattr(line, reading) for line in lines), Decimal(0))
    # "Omega-3 1000 mg" may hold none of it, or all that the other lines state.
    vague: list[Decimal] = [getattr(line, reading) for line in lines if not line.low_mg]
    exact = [line for line in lines if line.low_mg]
    whole = sum((getattr(line, reading) for line in exact if line.moiety == moiety), Decimal(0))
    parts = sum((getattr(line, reading) for line in exact if line.moiety != moiety), Decimal(0))
    return max(whole, parts, *vague)


def _total(
    ingredient: str,
    moiety: str | None,
    summed: _Sum,
    ids: dict[str, str],
    animal: Animal,
    limit: tuple[Limit, Decimal] | None,
) -> Total:
    low, high = amount_range(summed.low_mg, summed.high_mg)
    return Total(
        ingredient=ingredient,
        moiety=moiety,
        low_mg_per_day=low,
        high_mg_per_day=high,
        mg_per_kg_high=amount(summed.high_mg / animal.weight_kg) if animal.weight_kg is not None else None,
        products=tuple(dict.fromkeys(ids[place] for place in summed.places)),
        limit_mg_per_day=amount(limit[1]) if limit is not None else None,
        limit_id=limit[0].id if limit is not None else None,
        share_of_limit=amount(summed.high_mg / limit[1]) if limit is not None else None,
    )


def _limit(reference: Reference, ingredient: str, animal: Animal) -> tuple[Limit, Decimal] | None:
    """Pick the enforced limit as mg per day; of two bases the one per kg^0.75 first, of equals the lower."""
    if animal.weight_kg is None:
        return None
    found = []
    for row in reference.limits_of.get((ingredient, animal.species), ()):
        mg = _mg_per_day(row, animal.weight_kg) if row.enforced and row.basis in _BASES else None
        if mg is not None:
            found.append((_BASES.index(row.basis), mg, row))
    if not found:
        return None
    _, mg, row = min(found, key=lambda one: one[:2])
    return row, mg


def _mg_per_day(limit: Limit, weight_kg: Decimal) -> Decimal | None:
    if limit.basis != "per_1000_kcal":
        return limit_mg_per_day(limit, weight_kg)
    per_kg075 = limit_mg_per_day(replace(limit, basis="per_kg075_per_day"), weight_kg)
    return None if per_kg075 is None else per_kg075 * _MAINTENANCE_KCAL_PER_KG075 / 1000


def _over(reference: Reference, total: Total, limit: Limit) -> Finding:
    name, places = reference.ingredients[total.ingredient].name, ", ".join(total.products)
    known = "recalled" if limit.origin == "memory" else "published"
    return Finding(
        kind="over_limit",
        level="veterinarian",
        subjects=(total.ingredient,),
        topic=None,
        finding=None,
        effect=(
            f"{name}: up to {plain(total.high_mg_per_day)} mg a day over {places}, above the {known} "
            f"maximum of {plain(total.limit_mg_per_day or Decimal(0))} mg for this animal."
        ),
        action="Lower the amount, or ask a veterinarian before giving it.",
        evidence=None,
        evidence_species=None,
        limit_or_conflict=limit.note,
        match="exact",
        origin=limit.origin,
        record_ids=(limit.id,),
        source_ids=limit.source_ids,
    )


def duplicate_findings(reference: Reference, subjects: Subjects) -> tuple[Finding, ...]:
    """Find ingredients that stand in two products, or twice in the ingredient text.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        What the request names; traces and additives are left out.

    Returns
    -------
    tuple of Finding
        At level ``watch``, naming the places. To count both is a rule of the trade.
    """
    grouped: dict[tuple[str, str], list[Mention]] = {}
    for mention in subjects.mentions:
        if not mention.trace and not mention.carried and reference.ingredients[mention.ingredient].kind != "excipient":
            name = mention.name if is_collective(reference, mention.ingredient) else ""
            grouped.setdefault((mention.ingredient, name), []).append(mention)
    found = []
    for (ingredient, _), mentions in grouped.items():
        places = tuple(dict.fromkeys(mention.where for mention in mentions))
        in_text = [mention for mention in mentions if mention.where == TEXT]
        if len(places) > 1 or most_lines_of_one_moiety(reference, in_text) > 1:
            found.append(_duplicate(reference, ingredient, mentions))
    return tuple(found)


def _duplicate(reference: Reference, ingredient: str, mentions: list[Mention]) -> Finding:
    named = "; ".join(dict.fromkeys(f"{mention.text} ({mention.where})" for mention in mentions))
    return Finding(
        kind="duplicate",
        level="watch",
        subjects=(ingredient,),
        topic=None,
        finding=None,
        effect=f"{reference.ingredients[ingredient].name} is given more than once: {named}.",
        action="Count both amounts as one.",
        evidence=None,
        evidence_species=None,
        limit_or_conflict=None,
        match="exact",
        origin="common_practice",
        record_ids=(),
        source_ids=(_COMMON_PRACTICE,),
    )


def presentation_findings(labels: Iterable[ReadLabel]) -> tuple[Finding, ...]:
    """Note for products that taste like food: a whole pack is easily eaten at once.

    Parameters
    ----------
    labels
        Products and other supplements.

    Returns
    -------
    tuple of Finding
        One per product given as chews, treats, bites or gummies, at level ``note`` (common practice).
    """
    return tuple(
        Finding(
            kind="presentation",
            level="note",
            subjects=(label.product.id,),
            topic=None,
            finding=None,
            effect="It tastes like food: an animal may eat the whole pack at once.",
            action="Keep the pack out of reach.",
            evidence=None,
            evidence_species=None,
            limit_or_conflict=None,
            match="exact",
            origin="common_practice",
            record_ids=(),
            source_ids=(_COMMON_PRACTICE,),
        )
        for label in labels
        if any(word in label.product.unit.casefold() for word in ("chew", "treat", "bite", "gumm"))
    )
