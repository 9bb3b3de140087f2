"""The harm that one substance can do: what to do now, its tiers, and how much of it things hold."""

from __future__ import annotations

from dataclasses import dataclass

from service.domain.common import SPECIES
from service.domain.describing import HazardItem
from service.domain.exposure_words import FIRST_STEPS
from service.domain.screening_hazards import GRADE_WORDS
from service.domain.screening_tiers import unquantified_action
from service.pages.asked import asked
from service.pages.ingredient_words import (
    ACTION_WORDS,
    COMPARISON_WORDS,
    FACTOR_UNIT_WORDS,
    THRESHOLD_UNIT_WORDS,
    UNQUANTIFIED_WORDS,
    severity,
)
from service.pages.page_table import PageTable, Row, page_table
from service.pages.wording import number, origin_words, span, words
from service.reference.records import ContentFactor, Hazard, Threshold
from service.reference.release import Reference

_TIERS = ("what follows", "from which amount", "signs", "begins after", "what to do", "known by")
_FACTORS = ("in", "of", "value", "reckoned with", "known by")
_URGENT = frozenset(("contact_now", "avoid"))


@dataclass(frozen=True, slots=True)
class HazardView:
    """One hazard. ``concerned`` says per animal how grave it is while the amount is not known."""

    id: str
    name: str
    description: str
    concerned: tuple[tuple[str, str], ...]
    is_urgent: bool
    identifiers: tuple[tuple[str, str], ...]
    conflicts: tuple[str, ...]
    false_friends: str | None
    gaps: str | None
    tiers: tuple[tuple[str, PageTable], ...]
    factors: PageTable
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Alarm:
    """What to do at once, for the animals it concerns."""

    species: str
    steps: tuple[str, ...]


def present_hazard(reference: Reference, item: HazardItem) -> HazardView:
    """Arrange one hazard for reading."""
    hazard = item.hazard
    factors = reference.content_factors_of.get(hazard.id, ())
    return HazardView(
        id=hazard.id,
        name=hazard.name,
        description=hazard.description,
        concerned=tuple((species, UNQUANTIFIED_WORDS[action]) for species, action in _actions(hazard)),
        is_urgent=any(action in _URGENT for _, action in _actions(hazard)),
        identifiers=tuple((label, value) for label, value in (("CAS", hazard.cas), ("E", hazard.e_number)) if value),
        conflicts=tuple(part.strip() for part in hazard.conflicts.split(" | ")) if hazard.conflicts else (),
        false_friends=hazard.false_friends,
        gaps=hazard.gaps,
        tiers=tuple(found for species in SPECIES if (found := _tiers(reference, hazard, item.thresholds, species))[1]),
        factors=page_table(_FACTORS, map(_factor, factors)),
        origin=hazard.origin,
        source_ids=tuple(
            dict.fromkeys(
                (*hazard.source_ids, *(id_ for row in (*item.thresholds, *factors) for id_ in row.source_ids))
            )
        ),
    )


def alarm(hazards: tuple[HazardItem, ...]) -> Alarm | None:
    """Say what to do at once where any amount of it may be an emergency; ``None`` where none is."""
    urgent = {species for item in hazards for species, action in _actions(item.hazard) if action in _URGENT}
    if not urgent:
        return None
    return Alarm(" or ".join(f"a {species}" for species in SPECIES if species in urgent), FIRST_STEPS)


def _actions(hazard: Hazard) -> tuple[tuple[str, str], ...]:
    found = ((species, unquantified_action(hazard, species)) for species in SPECIES)
    return tuple((species, action) for species, action in found if action != "none")


def _tiers(reference: Reference, hazard: Hazard, rows: tuple[Threshold, ...], species: str) -> tuple[str, PageTable]:
    return species, page_table(_TIERS, (_tier(reference, hazard, row) for row in rows if row.species == species))


def _tier(reference: Reference, hazard: Hazard, row: Threshold) -> Row:
    aside = "Shown for comparison, another row decides" if row.use == "reference" else None
    grade = GRADE_WORDS.get(row.grade or "")
    delegate = reference.hazards.get(row.delegates_to or "")
    what = f"counted as {delegate.name}" if delegate is not None else severity(row.severity)
    of_what = f"Of {row.moiety}" if row.moiety else None
    kind = f"Kind of source: {grade}" if grade else None
    return (
        f"{what} (for comparison)" if aside else what,
        asked(row.id, _amount(hazard, row), row, of_what, row.basis, aside, kind, row.note),
        row.signs,
        row.onset,
        ACTION_WORDS.get(row.action, words(row.action)),
        origin_words(row.origin),
    )


def _amount(hazard: Hazard, row: Threshold) -> str:
    if row.amount_low is None:
        return "any amount" if row.severity == "any_exposure" else "no figure"
    comparison = COMPARISON_WORDS.get(row.comparison or "", "") if row.amount_high is None else ""
    unit = THRESHOLD_UNIT_WORDS.get(row.unit or "", words(row.unit))
    known = {hazard.name.casefold(), (hazard.moiety or "").casefold()}
    of_what = f" of {row.moiety}" if row.moiety and row.moiety.casefold() not in known else ""
    high = row.amount_low if row.amount_high is None else row.amount_high
    return f"{comparison}{span(row.amount_low, high)} {unit}{of_what}"


def _factor(row: ContentFactor) -> Row:
    unit = "" if row.unit == "fraction" else f" {FACTOR_UNIT_WORDS.get(row.unit, words(row.unit))}"
    high = row.value_low if row.value_high is None else row.value_high
    value = f"{span(row.value_low, high)}{unit}" if row.value_low is not None else "not recorded"
    return (
        row.material,
        row.quantity,
        asked(row.id, value, row, row.note),
        f"{number(row.recommended)}{unit}" if row.recommended is not None else None,
        origin_words(row.origin),
    )
