"""What to do and what to know about an exposure, in sentences for whoever is frightened."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from service.domain.common import Animal, Caution, origin_cautions
from service.domain.content_factors import BY_VOLUME
from service.domain.exposure_answer import BELOW, LIFE_THREATENING, MILD, NO_SAFE_AMOUNT, SEVERE
from service.domain.exposure_beyond import Beyond
from service.domain.exposure_counting import Counting
from service.domain.exposure_rows import severity_words, speaking_row
from service.domain.exposure_tiers import TIER_OF_SEVERITY, Judged, tier_rank
from service.domain.screening_tiers import kind_for, unquantified_action
from service.domain.substances import Substance
from service.reference.records import Hazard, Threshold

_NOW = "Contact a veterinarian or an animal poison line now."
_TELL = "Tell them weight, species, what was eaten, how much and when, and keep the pack at hand."
_NOTHING_ALONE = "Do not make the animal vomit and give it nothing unless they say so."
_AT_ONCE = "Do not wait for signs."
# What to do first, in this order, where something dangerous may have been eaten.
FIRST_STEPS = (_NOW, _AT_ONCE, _TELL, _NOTHING_ALONE)
_WATCH = (
    "Contact a veterinarian or an animal poison line if signs appear, if more may have been eaten, or if the animal is "
    "very young, old, pregnant, ill or takes medicines."
)
_FLAG_WORDS = {
    "unit_suspicious": "The unit is unusual for such an amount: check whether mg, mcg or g is meant.",
    "approximate": "The amount is approximate: count with more than the number says.",
    "separator_ambiguous": "The dot may part thousands: the amount was judged as if it did. Write it without the dot.",
    "mass_not_known": "No mass follows from this volume; no amount of it is known to be harmless either way.",
}
_DRUG = "drug"
_GRAVE_ACTIONS = frozenset({"contact_now", "avoid"})
_YOUNG_UNDER_YEARS = 1


@dataclass(frozen=True, slots=True)
class Assessed:
    """One hazard of what was eaten (``None``: nothing harmful is recorded of it) and what the amount means for it."""

    hazard: Hazard | None
    counting: Counting | None
    judged: Judged
    beyond: Beyond | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do, and what must not be missed."""

    action: str
    cautions: tuple[Caution, ...]


def advise(
    substance: Substance, flags: tuple[str, ...], first: Assessed, animal: Animal, pack: Hazard | None
) -> Advice:
    """Say what to do and what to know.

    Parameters
    ----------
    substance
        What was eaten.
    flags
        What is unclear about the printed amount.
    first
        The gravest of its hazards.
    animal
        Who ate it.
    pack
        What whole packs of a supplement do that has no threshold of its own.

    Returns
    -------
    Advice
        From ``mild`` upward, and wherever nothing can be said about something that may be grave, the action begins
        with contacting a veterinarian or an animal poison line now. Cautions stand gravest first.
    """
    found = [*_about_outcome(first, animal.species), *_about_words(substance), *_about_content(first)]
    found += [Caution(flag, "caution", text) for flag, text in _FLAG_WORDS.items() if flag in flags]
    if pack is not None:
        found.append(Caution("whole_packs_have_harmed", "caution", pack.description))
    if animal.age_years is not None and animal.age_years < _YOUNG_UNDER_YEARS:
        text = "The thresholds come mostly from adult animals; a young one may be harmed by less."
        found.append(Caution("young_animal", "warning", text))
    text = "Only this substance and this amount were judged: what else is in the product or was eaten is not counted."
    found.append(Caution("one_substance_only", "info", text))
    return Advice(_action(first, animal.species, pack), (*found, *origin_cautions(_origins(first))))


def _origins(first: Assessed) -> set[str]:
    speaking, used = speaking_row(first.judged), first.counting.used if first.counting is not None else None
    return {one.origin for one in (first.hazard, speaking, used) if one is not None}


def _action(first: Assessed, species: str, pack: Hazard | None) -> str:
    judged, speaking = first.judged, speaking_row(first.judged)
    signs_from = f" Onset of signs, as published: {speaking.onset}." if speaking is not None and speaking.onset else ""
    if judged.tier in (MILD, SEVERE, LIFE_THREATENING, NO_SAFE_AMOUNT):
        return f"{_NOW} {_AT_ONCE}{signs_from} {_TELL} {_NOTHING_ALONE}"
    reason = f" {first.beyond.words}" if first.beyond is not None else ""
    if reason or (first.hazard is not None and _grave_whatever_the_amount(first.hazard, judged, species)):
        return f"{_NOW} This answer is no reason to wait.{reason}{signs_from} {_TELL} {_NOTHING_ALONE}"
    below = "Below the published thresholds does not mean harmless. " if judged.tier == BELOW else ""
    whole = f"If it was a whole pack or many times the daily amount: {_NOW[0].lower()}{_NOW[1:]} " if pack else ""
    return f"{whole}{below}{_WATCH}{signs_from}"


def _grave_whatever_the_amount(hazard: Hazard, judged: Judged, species: str) -> bool:
    """Find a medicine, an emergency while its amount is not known, or a dangerous thing that could not be judged."""
    if hazard.group == _DRUG or unquantified_action(hazard, species) in _GRAVE_ACTIONS:
        return True
    if judged.tier is not None or kind_for(hazard, species) not in ("threshold", "caution"):
        return False
    held = {TIER_OF_SEVERITY[one.row.severity] for one in judged.compared if one.reached is not None}
    could_be = any(one.reached or one.if_daily for one in judged.compared)
    return unquantified_action(hazard, species) != "none" or could_be or held == {LIFE_THREATENING}


def _about_outcome(first: Assessed, species: str) -> Iterable[Caution]:
    judged = first.judged
    if judged.tier == NO_SAFE_AMOUNT:
        text = f"No amount is known to be harmless for a {species}: no figure here, however small, is a reassurance."
        yield Caution("no_safe_amount", "warning", text)
    if judged.tier == BELOW:
        text = "It is below the thresholds that this release holds. Animals differ, and that is no proof of no harm."
        yield Caution("below_is_not_harmless", "caution", text)
    if judged.tier is None and judged.why_no_tier is not None:
        yield Caution("not_judged", "warning", judged.why_no_tier)
    if first.beyond is not None and first.beyond.of_species != species:
        yield Caution("threshold_of_another_species", "warning", first.beyond.words)
    if (row := judged.decided_by) is not None and "(with " in (row.moiety or ""):
        text = f"The threshold that decides, {severity_words(row)}, was published for a mixture."
        yield Caution("published_for_a_mixture", "caution", text)
    if (row := judged.decided_by) is not None and row.per_day:
        text = (
            f"The threshold that decides, {severity_words(row)}, is of an amount given every day; this one, eaten "
            "once, is at least ten times as much."
        )
        yield Caution("ten_times_a_daily_threshold", "warning", text)
    elif (daily := next((one.row for one in judged.compared if one.if_daily), None)) is not None:
        text = f"As much every day reaches a published threshold: {severity_words(daily)} a day ({daily.basis})."
        yield Caution("daily_threshold_reached", "warning", text)
    if (row := _graver_beside(judged)) is not None:
        text = (
            f"A source that does not decide here gives {severity_words(row)}; this amount reaches it. "
            "Tell the veterinarian."
        )
        yield Caution("other_source_graver", "warning", text)
    if judged.tier == BELOW and any(_is_nuisance(one.row) for one in judged.compared):
        yield Caution("stomach_upset_possible", "info", "Stomach upset is published at amounts below the thresholds.")


def _graver_beside(judged: Judged) -> Threshold | None:
    beside = [one.row for one in judged.compared if one.reached and one.row.use != "primary"]
    graver = [row for row in beside if tier_rank(TIER_OF_SEVERITY[row.severity]) > tier_rank(judged.tier)]
    return max(graver, key=lambda row: tier_rank(TIER_OF_SEVERITY[row.severity]), default=None)


def _is_nuisance(row: Threshold) -> bool:
    return row.severity == "nuisance" and row.use == "primary" and row.mg_per_kg_low is not None


def _about_words(substance: Substance) -> Iterable[Caution]:
    for miss in substance.possible:
        text = f"The words come close to {miss.name!r}, a harmful substance that was not counted: check the spelling."
        yield Caution("possible_hazard", "warning", text)
    if substance.not_understood:
        text = f"Not understood and not judged: {', '.join(substance.not_understood)[:200]}."
        yield Caution("words_not_understood", "warning", text)


def _about_content(first: Assessed) -> Iterable[Caution]:
    hazard, counting = first.hazard, first.counting
    if hazard is None or counting is None:
        return
    counted = counting.counted[counting.shown]
    if not counting.content.known:
        text = "What was eaten holds an amount of the harmful substance that is not recorded; give that amount itself."
        yield Caution("content_not_known", "warning", text)
    elif not counting.content.kind_named:
        text = f"The words leave open which kind of {hazard.name.split(' (')[0].lower()} it was: the strongest counts."
        yield Caution("strongest_kind_counted", "caution", text)
    elif counting.content.low != counting.content.high:
        yield Caution("content_open", "caution", "Its content varies: the amount was judged on the high reading.")
    if any(row.unit == BY_VOLUME for row in counting.content.factors):
        text = "No strength is stated: the usual one of its kind counts. Give that on the pack if it is stronger."
        yield Caution("usual_strength_counted", "caution", text)
    if counted.at_least:
        text = "An extract or concentrate can hold many times more than the plant that was counted."
        yield Caution("concentrate", "warning", text)
