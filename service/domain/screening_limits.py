"""What a maximum says where there is none, and where an amount is missing to test one."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from service.domain.common import Animal, Caution
from service.domain.rounding import amount
from service.domain.screening_answers import Finding, NotAssessed, Total, plain
from service.domain.screening_burden import DailyFact
from service.domain.screening_subjects import Mention
from service.reference.records import Regimen
from service.reference.release import Reference

REASON = "amount_not_stated"
# Eaten by the pack these have harmed dogs, yet no threshold is published: the rule below is ours.
_JOINT_SUPPLEMENTS = ("glucosamine", "chondroitin-sulfate")
_OVERDOSE = "joint-chew-overdose"
_RECORDED_IN = "dog"
_COMMON_PRACTICE = "common-practice"
_KG_PER_LB = Decimal("0.45359237")


def untested_limits(
    reference: Reference, mentions: Iterable[Mention], facts: Iterable[DailyFact], species: str
) -> tuple[NotAssessed, ...]:
    """List ingredients with a daily maximum of which the label gives no amount.

    Parameters
    ----------
    reference
        The release to answer from.
    mentions, facts
        What is named, and what of it has an amount.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of NotAssessed
        ``a`` is the ingredient on the label (fish oil), ``b`` the id of the limit (of EPA and DHA).
    """
    amounts = {(fact.place, fact.ingredient) for fact in facts}
    found: dict[tuple[str, str], NotAssessed] = {}
    for mention in mentions:
        for id_ in (mention.ingredient, *reference.ingredients[mention.ingredient].screened_as_ids):
            if mention.trace or (mention.where, id_) in amounts:
                continue
            for row in reference.limits_of.get((id_, species), ()):
                if row.enforced and row.amount is not None:
                    key = (mention.ingredient, row.id)
                    found.setdefault(key, NotAssessed(*key, REASON))
    return tuple(found.values())


def untested_caution(reference: Reference, untested: Iterable[NotAssessed]) -> tuple[Caution, ...]:
    """Say once that a maximum was not tested, and of what.

    Parameters
    ----------
    reference
        The release to answer from.
    untested
        The gaps: ingredients with a maximum and no amount to test.

    Returns
    -------
    tuple of Caution
        One, or none where every maximum was tested.
    """
    names = dict.fromkeys(reference.ingredients[gap.a].name for gap in untested)
    if not names:
        return ()
    text = f"A daily maximum was not tested, because the label gives no amount that it applies to: {', '.join(names)}."
    return (Caution("limit_not_tested", "caution", text),)


def unusual_amounts(reference: Reference, totals: Iterable[Total], animal: Animal) -> tuple[Finding, ...]:
    """Find joint supplements above the highest amount per kg that the release records.

    Parameters
    ----------
    reference
        The release to answer from.
    totals
        Amounts per day.
    animal
        Without a weight nothing is compared. A cat is compared with dogs, for which alone there are records.

    Returns
    -------
    tuple of Finding
        ``over_limit`` at level ``veterinarian``; a rule of ours, not a published maximum.
    """
    found = []
    for total in totals:
        if animal.weight_kg is None:
            continue
        highest = highest_recorded(reference, total.ingredient, total.moiety is not None)
        if highest is None:
            continue
        # Rounded like the total, so that the recorded amount itself is not above itself.
        most_mg = amount(highest[0] * animal.weight_kg)
        if total.high_mg_per_day > most_mg:
            found.append(_finding(reference, total, most_mg, highest[1]))
    return tuple(found)


def is_held_against_records(reference: Reference, total: Total) -> bool:
    """Say whether a total without a limit is compared with the amounts that have been given.

    Parameters
    ----------
    reference
        The release to answer from.
    total
        An amount per day.

    Returns
    -------
    bool
        ``True`` for glucosamine and chondroitin.
    """
    return highest_recorded(reference, total.ingredient, total.moiety is not None) is not None


def highest_recorded(reference: Reference, ingredient: str, as_moiety: bool) -> tuple[Decimal, Regimen] | None:
    """Find the highest amount of a joint supplement that the release records for dogs.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient
        Id of an ingredient.
    as_moiety
        Whether the amount to compare with it counts the moiety.

    Returns
    -------
    tuple of Decimal and Regimen, or None
        mg per kg and day with the row it comes from; ``None`` for what is no joint supplement, or has no such row.
    """
    if ingredient not in _JOINT_SUPPLEMENTS:
        return None
    rows = []
    for row in reference.regimens_of.get(ingredient, ()):
        per_kg = _mg_per_kg(row)
        if per_kg is not None and _RECORDED_IN in row.species.split(";") and row.origin != "memory":
            share = reference.forms[row.form_id].share_high if as_moiety and row.form_id else None
            rows.append((per_kg * (share or 1), row))
    return max(rows, key=lambda pair: pair[0], default=None)


def _mg_per_kg(row: Regimen) -> Decimal | None:
    if row.amount_high is None or row.unit != "mg":
        return None
    if row.basis == "per_kg_per_day":
        return row.amount_high
    if row.basis == "per_lb_per_day":
        return row.amount_high / _KG_PER_LB
    # An amount for a span of weights was given at least to the heaviest.
    return row.amount_high / row.weight_to_kg if row.basis == "per_day" and row.weight_to_kg else None


def _finding(reference: Reference, total: Total, most_mg: Decimal, row: Regimen) -> Finding:
    hazard = reference.hazards.get(_OVERDOSE)
    name = reference.ingredients[total.ingredient].name
    return Finding(
        kind="over_limit",
        level="veterinarian",
        subjects=(total.ingredient,),
        topic=None,
        finding=None,
        effect=(
            f"{name}: up to {plain(total.high_mg_per_day)} mg a day, above {plain(most_mg)} mg, "
            "the highest amount per kg recorded for dogs in this release. No maximum is published: to compare with "
            "the records is a rule of ours."
        ),
        action="Check the amount, and ask a veterinarian before giving it.",
        evidence="highest recorded amount, a rule of ours",
        evidence_species=_RECORDED_IN,
        limit_or_conflict=hazard.description if hazard is not None else None,
        match="exact",
        origin="common_practice",
        record_ids=(row.id, *((hazard.id,) if hazard is not None else ())),
        source_ids=tuple(dict.fromkeys((_COMMON_PRACTICE, *row.source_ids, *(hazard.source_ids if hazard else ())))),
    )
