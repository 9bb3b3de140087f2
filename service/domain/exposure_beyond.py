"""What can be said of an amount for which a species has no threshold of its own.

A row that only says "ask" is a rule for labels without an amount. With an amount known it is held against what is
published for the other species; where no figure exists at all, more than a day's food holds is a reason to ask now.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal
from service.domain.exposure_answer import TIERS
from service.domain.exposure_rows import severity_words
from service.domain.exposure_tiers import TIER_OF_SEVERITY, Counted, hazard_chain
from service.domain.rounding import significant
from service.domain.screening_answers import plain
from service.domain.screening_daily_limits import limits_for
from service.domain.screening_tiers import is_reached
from service.reference.records import Hazard, Threshold
from service.reference.release import Reference

_OTHERS = {"dog": ("dog", "cat"), "cat": ("cat", "dog")}
_ASKING = frozenset({"ask_veterinarian", "contact_now", "avoid"})
_SHOWN_DIGITS = 4
# More of a mineral than a day's food brings, where no maximum of the diet is recorded: a rule of ours, no threshold.
_LARGE_MG_PER_KG = Decimal(100)


@dataclass(frozen=True, slots=True)
class Beyond:
    """Why an amount without a tier is a reason to ask now; ``row`` is what it follows from."""

    row: Threshold
    of_species: str
    words: str


def beyond_own_thresholds(
    reference: Reference, hazard: Hazard, counted: Mapping[str, Counted], animal: Animal
) -> Beyond | None:
    """Find what speaks for asking now about an amount that no tier of the species judges.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        What was eaten.
    counted
        mg by hazard id.
    animal
        Species and weight.

    Returns
    -------
    Beyond or None
        The gravest row with a figure that the high reading reaches, of either species; where neither has such a row,
        one that says to ask without a figure. ``None`` below all of them, and for what a day's food holds.
    """
    weight_kg = animal.weight_kg or Decimal(1)
    rows = [row for species in _OTHERS[animal.species] for row in _asking_rows(reference, hazard, species)]
    amounts = {row.id: counted[row.hazard_id].high_mg for row in rows if row.hazard_id in counted}
    held = [
        (row, reached)
        for row in rows
        if row.id in amounts and (reached := is_reached(row, amounts[row.id], weight_kg)) is not None
    ]
    passed = [row for row, reached in held if reached]
    if passed:
        gravest = max(passed, key=lambda row: (_rank(row), row.mg_per_kg_low or Decimal(0)))
        return Beyond(gravest, gravest.species, _passed_words(gravest, animal.species))
    own = next((row for row in rows if row.species == animal.species and row.severity == "caution"), None)
    if held or own is None or hazard.id not in counted or _is_ordinary(reference, hazard, counted, animal):
        return None
    signs = f" ({own.signs})" if own.signs else ""
    return Beyond(own, own.species, f"Large amounts can harm{signs}; no source says from how many mg/kg.")


def _asking_rows(reference: Reference, hazard: Hazard, species: str) -> list[Threshold]:
    return [
        row
        for id_ in hazard_chain(reference, hazard.id, species)
        for row in reference.thresholds_of.get((id_, species), ())
        if row.use == "primary" and row.action in _ASKING
    ]


def _is_ordinary(reference: Reference, hazard: Hazard, counted: Mapping[str, Counted], animal: Animal) -> bool:
    """Say whether a day's food holds as much: by a recorded maximum, else by the rule of ours."""
    mg = counted[hazard.id].high_mg
    if limits := limits_for(reference, hazard.ingredient_id, mg, animal):
        return any(limit.share <= 1 for limit in limits)
    return mg < _LARGE_MG_PER_KG * (animal.weight_kg or Decimal(1))


def _rank(row: Threshold) -> int:
    tier = TIER_OF_SEVERITY.get(row.severity)
    return -1 if tier is None else TIERS.index(tier)


def _passed_words(row: Threshold, species: str) -> str:
    whose = f"a {row.species}, not for a {species}" if row.species != species else f"a {species}"
    if row.severity in TIER_OF_SEVERITY:
        daily = " a day" if row.per_day else ""
        return f"Published for {whose}: {severity_words(row)}{daily}; this amount reaches it."
    start = plain(significant(row.mg_per_kg_low or Decimal(0), _SHOWN_DIGITS))
    signs = f" with {row.signs}" if row.signs else ""
    of_what = f" {row.moiety}" if row.moiety else ""
    return f"Published for {whose}: {start} mg/kg{of_what} was borne{signs}; this amount reaches it."
