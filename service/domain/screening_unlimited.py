"""Amounts that nothing could be held against: no limit, no threshold, or hidden among the members of a blend."""

from __future__ import annotations

from collections.abc import Iterable

from service.domain.common import Animal
from service.domain.screening_answers import NotAssessed, Total, Unrecognised
from service.domain.screening_limits import is_held_against_records
from service.domain.screening_subjects import ReadLabel
from service.domain.screening_tiers import chain_of, threshold_limits, tiers_of
from service.reference.release import Reference

NO_LIMIT = "no_limit_recorded"
HIDDEN = "amount_hidden_in_blend"
DAILY_MAXIMUM = "daily_maximum"
_WHAT_TO_GIVE = "It states one amount for several substances: give the members and their amounts, or ask the maker."


def unlimited_totals(reference: Reference, totals: Iterable[Total], animal: Animal) -> tuple[NotAssessed, ...]:
    """List the totals that were held against nothing: neither a limit nor a threshold is recorded for the species.

    Parameters
    ----------
    reference
        The release to answer from.
    totals
        Amounts per day.
    animal
        Without a weight no amount is compared at all, of which a caution tells.

    Returns
    -------
    tuple of NotAssessed
        ``a`` is the ingredient, ``b`` the word for its daily maximum. What a salt only brings along, and what is
        screened as something else that has a limit (fish oil), is no gap of its own.
    """
    if animal.weight_kg is None:
        return ()
    open_ones = (
        total.ingredient
        for total in totals
        if total.limit_mg_per_day is None
        and not is_held_against_records(reference, total)
        and not _is_compared(reference, total, animal.species)
    )
    return tuple(NotAssessed(id_, DAILY_MAXIMUM, NO_LIMIT) for id_ in dict.fromkeys(open_ones))


def _is_compared(reference: Reference, total: Total, species: str) -> bool:
    forms = [reference.forms[part.form] for part in total.parts if part.form is not None]
    only_brought = len(forms) == len(total.parts) and all(form.ingredient_id != total.ingredient for form in forms)
    others = reference.ingredients[total.ingredient].screened_as_ids
    limited = any(row.enforced for id_ in others for row in reference.limits_of.get((id_, species), ()))
    return only_brought or limited or _has_threshold(reference, total.ingredient, species)


def _has_threshold(reference: Reference, ingredient: str, species: str) -> bool:
    return any(
        tiers_of(reference, id_, species) or threshold_limits(reference, hazard, species)
        for hazard in reference.hazards_of.get(ingredient, ())
        for id_ in chain_of(reference, hazard.id, species)
    )


def hidden_amounts(labels: Iterable[ReadLabel]) -> tuple[NotAssessed, ...]:
    """List what a blend holds in an amount that its label does not give.

    Parameters
    ----------
    labels
        Products with their facts.

    Returns
    -------
    tuple of NotAssessed
        ``a`` is the product, ``b`` a member; the printed name where the members are not listed.
    """
    hidden = ((label.product.id, fact) for label in labels for fact in label.facts if HIDDEN in fact.flags)
    gaps = dict.fromkeys(
        (product, member)
        for product, fact in hidden
        for member in [one.ingredient or one.name for one in fact.reading.members] or [fact.fact.name]
    )
    return tuple(NotAssessed(product, member, HIDDEN) for product, member in gaps)


def hidden_members(labels: Iterable[ReadLabel], listed: Iterable[Unrecognised]) -> tuple[Unrecognised, ...]:
    """List blends that do not say what they hold: to know the word "blend" is to understand none of its members.

    Parameters
    ----------
    labels
        Products with their facts.
    listed
        What is listed as not understood already.

    Returns
    -------
    tuple of Unrecognised
        Each text once, with what to give instead.
    """
    have = {(one.text, one.where) for one in listed}
    found = dict.fromkeys(
        (fact.fact.name, label.place)
        for label in labels
        for fact in label.facts
        if HIDDEN in fact.flags and not fact.reading.members
    )
    return tuple(Unrecognised(text, where, (), _WHAT_TO_GIVE) for text, where in found if (text, where) not in have)
