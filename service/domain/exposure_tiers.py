"""Which published tiers an amount eaten once reaches, and what can be said where it reaches none."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.content_factors import high_share
from service.domain.exposure_answer import BELOW, LIFE_THREATENING, MILD, NO_SAFE_AMOUNT, SEVERE, TIERS
from service.domain.material_content import counted_compound
from service.domain.screening_burden import CAFFEINE, METHYLXANTHINES
from service.domain.screening_tiers import chain_of, is_reached, kind_for
from service.reference.records import ContentFactor, Hazard, Threshold
from service.reference.release import Reference

# The table tells four kinds of signs apart, an answer three tiers: "moderate" counts with the graver ones, as it does
# on the screen. An LD50 is no limit to stay under, but an amount that reaches one can kill.
TIER_OF_SEVERITY = {
    "signs_mild": MILD,
    "signs_moderate": SEVERE,
    "signs_severe": SEVERE,
    "potentially_lethal": LIFE_THREATENING,
    "ld50": LIFE_THREATENING,
}
# What a row says of signs. Rows on feed, on amounts that were tolerated and on rules would only reassure.
_SHOWN = frozenset({*TIER_OF_SEVERITY, "any_exposure", "caution", "nuisance", "reported_case"})
# The rows of these hazards say so: garlic and onion are judged alike, vitamin D2 counts as vitamin D.
JUDGED_ALIKE = {"garlic": "allium", "vitamin-d2": "vitamin-d3"}
# Carob holds a little of what chocolate is judged by; of itself no harm is recorded.
HOLDS = {"carob": METHYLXANTHINES}
# An amount eaten once that is so many times one that harms when it is given every day is no milder than that.
_TIMES_DAILY = Decimal(10)
_NOT_HARMLESS = "That is not the same as harmless."


@dataclass(frozen=True, slots=True)
class Counted:
    """mg of one substance. ``known`` is false where it lies anywhere between nothing and ``high_mg``.

    ``at_least`` where an extract can hold more than the plant that the factor is of.
    """

    low_mg: Decimal
    high_mg: Decimal
    known: bool = True
    at_least: bool = False


@dataclass(frozen=True, slots=True)
class Compared:
    """One row with the amount that it was held against; ``reached`` is ``None`` where it was not.

    ``if_daily``: the amount would reach it if it were eaten every day.
    """

    row: Threshold
    counted: Counted | None
    reached: bool | None
    why_not: str | None
    if_daily: bool = False


@dataclass(frozen=True, slots=True)
class Judged:
    """What an amount means for one hazard. ``decided_by`` is the row that the tier follows from."""

    tier: str | None
    why_no_tier: str | None
    compared: tuple[Compared, ...]
    decided_by: Threshold | None


def hazard_chain(reference: Reference, hazard_id: str, species: str) -> tuple[str, ...]:
    """List the hazards whose tiers an amount is held against: its own, those it delegates to, and sums it belongs to.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    tuple of str
        Ids, the hazard itself first; caffeine counts in the sum of the methylxanthines as well.
    """
    chain = chain_of(reference, hazard_id, species)
    if chain[-1] == CAFFEINE:
        chain = (*chain, METHYLXANTHINES)
    alike = JUDGED_ALIKE.get(hazard_id) or HOLDS.get(hazard_id)
    return chain if alike is None else (*chain, alike)


def judge(
    reference: Reference, hazard: Hazard, counted: Mapping[str, Counted], species: str, weight_kg: Decimal
) -> Judged:
    """Hold an amount eaten once against every published tier of a hazard.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        What was eaten.
    counted
        mg by hazard id, for the ids of :func:`hazard_chain`; a missing one cannot be compared.
    species, weight_kg
        The animal.

    Returns
    -------
    Judged
        The gravest primary tier that the high reading reaches from its low end on. Tiers of an amount given every day
        are shown and not compared, unless the amount is ten times theirs. Never ``below_published_thresholds`` where
        no amount is known to be harmless, where only deadly amounts are published, or where no figure marks the
        beginning of harm.
    """
    chain = hazard_chain(reference, hazard.id, species)
    rows = [row for id_ in chain for row in reference.thresholds_of.get((id_, species), ()) if row.severity in _SHOWN]
    part = counted_compound(reference, hazard)
    compared = tuple(_compare(row, _as_row_counts(row, counted.get(row.hazard_id), part), weight_kg) for row in rows)
    if kind_for(hazard, species) == "toxic_any_amount" or any(_forbids_any(row, hazard) for row in rows):
        any_amount = next((row for row in rows if row.severity == "any_exposure" and row.use == "primary"), None)
        return Judged(NO_SAFE_AMOUNT, None, tuple(_not_a_limit(one) for one in compared), any_amount)
    reached = [one for one in compared if one.reached and one.row.use == "primary"]
    sure = [one for one in reached if one.counted is not None and one.counted.known]
    if sure:
        gravest = max(sure, key=lambda one: (tier_rank(TIER_OF_SEVERITY[one.row.severity]), _start(one.row)))
        return Judged(TIER_OF_SEVERITY[gravest.row.severity], None, compared, gravest.row)
    why = _why_no_tier(hazard, species, compared, bool(reached))
    return Judged(BELOW if why is None else None, why, compared, None)


def tier_rank(tier: str | None) -> int:
    """Order tiers for choosing the gravest of several; not being able to judge ranks above being below.

    Parameters
    ----------
    tier
        A word of ``TIERS``, or ``None``.

    Returns
    -------
    int
        Higher is graver.
    """
    return 1 if tier is None else 2 * TIERS.index(tier)


def _as_row_counts(row: Threshold, counted: Counted | None, part: ContentFactor | None) -> Counted | None:
    """Turn sodium fluoride into the ion, or boric acid into boron, for a row that counts these."""
    if counted is None or part is None or row.moiety != part.quantity:
        return counted
    share = high_share(part)
    return replace(counted, low_mg=counted.low_mg * share, high_mg=counted.high_mg * share)


def _compare(row: Threshold, counted: Counted | None, weight_kg: Decimal) -> Compared:
    if row.severity not in TIER_OF_SEVERITY:
        return Compared(row, counted, None, "It names no amount from which such signs are to be expected.")
    if row.per_day:
        if_daily = counted is not None and bool(is_reached(row, counted.high_mg, weight_kg))
        if counted is not None and is_reached(row, counted.high_mg / _TIMES_DAILY, weight_kg):
            return Compared(row, counted, True, None, if_daily)
        return Compared(row, counted, None, "It is of an amount given every day; this one was eaten once.", if_daily)
    if counted is None:
        return Compared(row, None, None, "How much of what it counts was eaten is not known.")
    reached = is_reached(row, counted.high_mg, weight_kg)
    why = None if reached is not None else "It is not an amount per kilogram of body weight."
    return Compared(row, counted, reached, why)


def _not_a_limit(one: Compared) -> Compared:
    """Where no amount is harmless, a tier that is not reached must not look like a limit that was kept."""
    if one.reached is not False:
        return one
    return replace(one, reached=None, why_not="No amount is known to be harmless, so it is no limit to stay under.")


def _forbids_any(row: Threshold, hazard: Hazard) -> bool:
    return row.severity == "any_exposure" and row.use == "primary" and row.hazard_id == hazard.id


def _start(row: Threshold) -> Decimal:
    return row.mg_per_kg_low or row.amount_low or Decimal(0)


def _why_no_tier(hazard: Hazard, species: str, compared: tuple[Compared, ...], open_reach: bool) -> str | None:
    """Say why an amount that reaches nothing for sure is not below the thresholds either; ``None`` where it is."""
    held = [one for one in compared if one.reached is not None and one.row.use == "primary"]
    tiers = {TIER_OF_SEVERITY[one.row.severity] for one in held}
    if open_reach:
        return f"How much {_plain_name(hazard)} is in it is not recorded, so the amount cannot be judged."
    if not held:
        return _why_nothing_held(hazard, species, compared)
    if any(one.counted is not None and one.counted.at_least for one in held):
        return "An extract or concentrate can hold many times more than the plant, so the amount cannot be judged."
    if tiers == {LIFE_THREATENING}:
        return (
            f"The only published threshold for a {species} is of deadly amounts, which this one does not reach; harm "
            "begins at smaller amounts, and no source says where."
        )
    if kind_for(hazard, species) != "threshold" and hazard.id not in HOLDS:
        return f"No amount is known from which harm to a {species} begins; the thresholds shown do not settle it."
    return None


def _why_nothing_held(hazard: Hazard, species: str, compared: tuple[Compared, ...]) -> str:
    signs = [one for one in compared if one.row.severity in TIER_OF_SEVERITY and one.row.use == "primary"]
    if any(one.row.per_day for one in signs):
        return (
            f"The published thresholds for a {species} are of amounts given every day; none is of one eaten once. "
            f"{_NOT_HARMLESS}"
        )
    if any(one.counted is None for one in signs):
        return f"How much {_plain_name(hazard)} is in it is not recorded, so the amount cannot be judged."
    return f"This release has no threshold for a {species} to hold the amount against. {_NOT_HARMLESS}"


def _plain_name(hazard: Hazard) -> str:
    return hazard.name.split(" (")[0].split(":")[0].lower()
