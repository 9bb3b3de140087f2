"""Amounts per day over all products, against the published maxima; and what is given twice."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal, Caution
from service.domain.daily_limits import WHOLE_DIET
from service.domain.rounding import amount, amount_range
from service.domain.screening_answers import Finding, Total, TotalLimit, TotalPart, plain
from service.domain.screening_burden import DailyFact
from service.domain.screening_daily_limits import answering, limits_for, strictest_exceeded
from service.domain.screening_interactions import most_lines_of_one_moiety
from service.domain.screening_subjects import TEXT, Mention, ReadLabel, Subjects
from service.reference.release import Reference

_COMMON_PRACTICE = "common-practice"
_AT_LEAST = "min"


@dataclass(frozen=True, slots=True)
class DailySum:
    """mg per day of one moiety over all products, exact, and the lines behind it."""

    low_mg: Decimal
    high_mg: Decimal
    lines: tuple[DailyFact, ...]


@dataclass(frozen=True, slots=True)
class Totals:
    """Totals, and the findings that follow from limits."""

    totals: tuple[Total, ...]
    findings: tuple[Finding, ...]


def add_up(reference: Reference, facts: Iterable[DailyFact], subjects: Subjects, animal: Animal) -> Totals:
    """Add up every ingredient over all products and compare with its limits.

    Parameters
    ----------
    reference
        The release to answer from.
    facts
        Amounts per day, with what salts and brackets bring along.
    subjects
        The products, for their ids, and all that is named, to tell where an amount is missing.
    animal
        Without a weight no limit applies.

    Returns
    -------
    Totals
        Per ingredient and moiety, nutrients in one sum. ``over_limit`` findings
        compare the high reading with the limit that answers, at level ``veterinarian``; a recalled limit is named as
        such, and so is one of the whole diet. Where only another recorded limit is exceeded, the level is ``watch``.
    """
    counted = tuple(facts)
    labels = {label.place: label for label in subjects.labels}
    totals, findings = [], []
    for (ingredient, moiety), summed in daily_sums(reference, counted).items():
        limits = limits_for(reference, ingredient, summed.high_mg, animal)
        limit = answering(limits)
        unknown = _unknown_in(reference, ingredient, counted, subjects)
        total = _total((ingredient, moiety), summed, labels, animal, limits, unknown)
        totals.append(total)
        if limit is not None and limit.share > 1:
            findings.append(_over(reference, total, limit))
        elif stricter := strictest_exceeded(limits):
            findings.append(_over_a_stricter(reference, total, stricter, limit))
    return Totals(tuple(totals), tuple(findings))


def daily_sums(reference: Reference, facts: Iterable[DailyFact]) -> dict[tuple[str, str | None], DailySum]:
    """Add up every ingredient over all products, not rounded.

    Parameters
    ----------
    reference
        The release to answer from.
    facts
        Amounts per day, with what salts and brackets bring along.

    Returns
    -------
    dict
        Low and high reading by ingredient and moiety; nutrients, and whatever is the sum of parts, under one moiety.
        Products add up, and twice the units of one are twice its part of the sum.
    """
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
        key: DailySum(
            sum((_of_one_product(lines, key[1], "low_mg") for lines in places.values()), Decimal(0)),
            sum((_of_one_product(lines, key[1], "high_mg") for lines in places.values()), Decimal(0)),
            tuple(line for lines in places.values() for line in lines),
        )
        for key, places in found.items()
    }


def _unknown_in(
    reference: Reference, ingredient: str, counted: Iterable[DailyFact], subjects: Subjects
) -> tuple[str, ...]:
    """List the places that name the ingredient, or a source of it, without an amount that could be counted."""
    row = reference.ingredients[ingredient]
    # Salt is sodium too, and how much of it is no line of its own.
    beside = row.screened_as_ids if row.kind == "nutrient" and row.moiety else ()
    lines = [line for line in counted if line.ingredient == ingredient]
    with_amount = {line.place for line in lines}
    stated = {(line.place, line.fact) for line in lines}

    def _is_open(mention: Mention) -> bool:
        if mention.where not in with_amount:
            return True
        # Cod liver oil on a line of its own holds vitamin D beside the one that another line states.
        return row.kind == "nutrient" and mention.fact is not None and (mention.where, mention.fact) not in stated

    named = (
        mention.where
        for mention in subjects.mentions
        if not mention.trace
        and _is_open(mention)
        and ingredient in (mention.ingredient, *reference.ingredients[mention.ingredient].screened_as_ids)
    )
    at_least = (
        label.place
        for label in subjects.labels
        if any(fact.bound == _AT_LEAST and fact.reading.ingredient == ingredient for fact in label.facts)
    )
    as_other = (mention.where for mention in subjects.mentions if mention.ingredient in beside and not mention.trace)
    return tuple(dict.fromkeys((*named, *as_other, *at_least)))


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
    key: tuple[str, str | None],
    summed: DailySum,
    labels: Mapping[str, ReadLabel],
    animal: Animal,
    limits: tuple[TotalLimit, ...],
    unknown: tuple[str, ...],
) -> Total:
    low, high = amount_range(summed.low_mg, summed.high_mg)
    limit = answering(limits)
    return Total(
        ingredient=key[0],
        moiety=key[1],
        low_mg_per_day=low,
        high_mg_per_day=high,
        mg_per_kg_high=amount(summed.high_mg / animal.weight_kg) if animal.weight_kg is not None else None,
        products=tuple(dict.fromkeys(labels[line.place].product.id for line in summed.lines)),
        limit_mg_per_day=limit.limit_mg_per_day if limit is not None else None,
        limit_id=limit.limit_id if limit is not None else None,
        share_of_limit=limit.share if limit is not None else None,
        lower_bound=bool(unknown),
        unknown_in=tuple(labels[place].product.id if place in labels else place for place in unknown),
        parts=tuple(_part(line, labels[line.place]) for line in summed.lines),
        limits=limits,
    )


def _part(line: DailyFact, label: ReadLabel) -> TotalPart:
    form = label.facts[line.fact].reading.form
    low, high = amount_range(line.low_mg, line.high_mg)
    return TotalPart(label.product.id, line.name, form.id if form is not None else None, low, high)


def lower_bound_caution(reference: Reference, totals: Iterable[Total]) -> tuple[Caution, ...]:
    """Say once which totals are only lower bounds.

    Parameters
    ----------
    reference
        The release to answer from.
    totals
        Amounts per day.

    Returns
    -------
    tuple of Caution
        One, or none where every amount is known.
    """
    open_ones = {
        reference.ingredients[total.ingredient].name: ", ".join(total.unknown_in)
        for total in totals
        if total.lower_bound
    }
    if not open_ones:
        return ()
    named = "; ".join(f"{name} (also in {places})" for name, places in open_ones.items())
    text = f"These totals are at least what is stated, because an amount is not known: {named}."
    return (Caution("totals_are_lower_bounds", "caution", text),)


def _over(reference: Reference, total: Total, limit: TotalLimit) -> Finding:
    name, places = reference.ingredients[total.ingredient].name, ", ".join(total.products)
    row = next(row for row in reference.tables["limits"] if row.id == limit.limit_id)
    known = "recalled" if limit.origin == "memory" else "published"
    whole = " of a whole day's food" if limit.covers == WHOLE_DIET else ""
    at_least = "at least " if total.lower_bound else "up to "
    return Finding(
        kind="over_limit",
        level="veterinarian",
        subjects=(total.ingredient,),
        topic=None,
        finding=None,
        effect=(
            f"{name}: {at_least}{plain(total.high_mg_per_day)} mg a day over {places}, above the {known} "
            f"maximum{whole} of {plain(limit.limit_mg_per_day)} mg for this animal ({limit.rule})."
        ),
        action="Lower the amount, or ask a veterinarian before giving it.",
        evidence=f"{known} maximum",
        evidence_species=row.species,
        limit_or_conflict=row.note,
        match="exact",
        origin=limit.origin,
        record_ids=(limit.limit_id,),
        source_ids=limit.source_ids,
    )


def _over_a_stricter(reference: Reference, total: Total, stricter: TotalLimit, deciding: TotalLimit | None) -> Finding:
    """Tell of a limit that is exceeded and does not decide, with the one that does."""
    name = reference.ingredients[total.ingredient].name
    row = next(row for row in reference.tables["limits"] if row.id == stricter.limit_id)
    beside = (
        f"The limit that decides here is {plain(deciding.limit_mg_per_day)} mg ({deciding.rule}; {deciding.limit_id})"
        if deciding is not None
        else "No limit that decides is recorded"
    )
    sources = (*stricter.source_ids, *(deciding.source_ids if deciding is not None else ()))
    return Finding(
        kind="over_limit",
        level="watch",
        subjects=(total.ingredient,),
        topic=None,
        finding=None,
        effect=(
            f"{name}: up to {plain(total.high_mg_per_day)} mg a day, above a stricter recorded limit of "
            f"{plain(stricter.limit_mg_per_day)} mg for this animal ({stricter.rule}; {stricter.limit_id}). {beside}."
        ),
        action="Keep to the stricter limit where nothing speaks for more.",
        evidence="recorded limit that does not decide",
        evidence_species=row.species,
        limit_or_conflict=row.note,
        match="exact",
        origin=stricter.origin,
        record_ids=(stricter.limit_id, *((deciding.limit_id,) if deciding is not None else ())),
        source_ids=tuple(dict.fromkeys(sources)),
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
        At level ``watch``, naming the places. What is screened as one (fish oil and krill oil) is one when it stands
        in two products. To count both is a rule of the trade.
    """
    grouped: dict[tuple[str, str], list[Mention]] = {}
    for mention in subjects.mentions:
        row = reference.ingredients[mention.ingredient]
        if not mention.trace and not mention.carried and row.kind != "excipient":
            name = mention.name if is_collective(reference, row.id) else ""
            for one in row.screened_as_ids or (row.id,):
                grouped.setdefault((one, name), []).append(mention)
    found = []
    for mentions in grouped.values():
        places = tuple(dict.fromkeys(mention.where for mention in mentions))
        in_text = [mention for mention in mentions if mention.where == TEXT]
        if len(places) > 1 or _twice_in_text(reference, in_text):
            found.append(_duplicate(reference, mentions))
    return tuple(found)


def _twice_in_text(reference: Reference, mentions: list[Mention]) -> bool:
    """Say whether one list names one ingredient twice; two sources of one thing there are one recipe."""
    by_ingredient: dict[str, list[Mention]] = {}
    for mention in mentions:
        by_ingredient.setdefault(mention.ingredient, []).append(mention)
    return any(most_lines_of_one_moiety(reference, lines) > 1 for lines in by_ingredient.values())


def _duplicate(reference: Reference, mentions: list[Mention]) -> Finding:
    named = "; ".join(dict.fromkeys(f"{mention.text} ({mention.where})" for mention in mentions))
    ids = tuple(dict.fromkeys(mention.ingredient for mention in mentions))
    names = " and ".join(reference.ingredients[id_].name for id_ in ids)
    counts = "is given" if len(ids) == 1 else "count as one and are given"
    return Finding(
        kind="duplicate",
        level="watch",
        subjects=ids,
        topic=None,
        finding=None,
        effect=f"{names} {counts} more than once: {named}.",
        action="Count both amounts as one.",
        evidence="rule of the trade",
        evidence_species=None,
        limit_or_conflict=None,
        match="exact",
        origin="common_practice",
        record_ids=(),
        source_ids=(_COMMON_PRACTICE,),
    )
