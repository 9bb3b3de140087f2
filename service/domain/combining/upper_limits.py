"""Everything that a combination must not pass: maxima, highest recorded amounts, harmful amounts of hazards.

They are those by which the screen judges: what it would find ``over_limit`` at level ``veterinarian``, or a hazard of
level ``avoid``, is no combination. What is given already counts, so that only the rest may be added.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from service.domain.combining.intake import Contents, Intake, Substance
from service.domain.combining.programme import HARM, LIMIT
from service.domain.common import Animal
from service.domain.daily_limits import WHOLE_DIET, daily_limit
from service.domain.screening_burden import CAFFEINE, METHYLXANTHINES
from service.domain.screening_daily_limits import answering, limits_for
from service.domain.screening_limits import highest_recorded
from service.domain.screening_tiers import LEVEL_OF_SEVERITY, chain_of, kind_for, starts_at_mg, tiers_of
from service.domain.targets import known_weight
from service.reference.records import Threshold
from service.reference.release import Reference

_NONE = Decimal(0)
# Of these the screen makes no finding that depends on an amount.
_RULE_OF_OURS = "common_practice"
_NOT_JUDGED = ("benign", "nuisance")


@dataclass(frozen=True, slots=True)
class UpperLimit:
    """At most ``most_mg`` a day of one substance or hazard; ``itself_too_much`` where that very amount is too much.

    ``ingredient`` is its id, ``words`` what the limit is called in a sentence.
    """

    limit_id: str
    ingredient: str
    counts: Substance | str
    most_mg: Decimal
    itself_too_much: bool
    words: str
    origin: str
    source_ids: tuple[str, ...]

    @property
    def kind(self) -> str:
        """``harm`` where it is the amount of a hazard from which harm is published, else ``limit``."""
        return HARM if isinstance(self.counts, str) else LIMIT

    def mg_of(self, intake: Intake) -> Decimal:
        """Give what counts towards the limit.

        Parameters
        ----------
        intake
            Amounts per day.

        Returns
        -------
        Decimal
            mg per day.
        """
        if isinstance(self.counts, str):
            return intake.hazards.get(self.counts, _NONE)
        return intake.substances.get(self.counts, _NONE)


def upper_limits(reference: Reference, contents: Contents, animal: Animal) -> tuple[UpperLimit, ...]:
    """List the limits of everything that the products hold, whether it is a target or not.

    Parameters
    ----------
    reference
        The release to answer from.
    contents
        All products, and what is given already.
    animal
        Its weight in kg must be known.

    Returns
    -------
    tuple of UpperLimit
        For substances first, then for hazards; each in the order in which the products bring them.
    """
    intakes = [content.intake for content in contents.products]
    substances = dict.fromkeys(key for intake in intakes for key in intake.substances)
    hazards = dict.fromkeys(id_ for intake in intakes for id_ in intake.hazards)
    named = {id_ for intake in (*intakes, contents.given) for id_ in intake.named_hazards}
    found = [limit for key in substances for limit in _of_substance(reference, key, animal)]
    return (*found, *(limit for id_ in hazards for limit in _of_hazard(reference, id_, named, animal)))


def _of_substance(reference: Reference, key: Substance, animal: Animal) -> list[UpperLimit]:
    ingredient, moiety = key
    found = []
    weight_kg = known_weight(animal)
    limit = answering(limits_for(reference, ingredient, _NONE, animal))
    rows = reference.limits_of.get((ingredient, animal.species), ())
    exact = next((daily_limit(row, weight_kg) for row in rows if limit and row.id == limit.limit_id), None)
    if limit is not None and exact is not None:
        known = "recalled" if limit.origin == "memory" else "published"
        whole = " of a whole day's food" if limit.covers == WHOLE_DIET else ""
        words = f"the {known} maximum{whole} ({limit.limit_id})"
        found.append(
            UpperLimit(limit.limit_id, ingredient, key, exact.mg_per_day, False, words, limit.origin, limit.source_ids)
        )
    highest = highest_recorded(reference, ingredient, moiety is not None)
    if highest is not None:
        per_kg, regimen = highest
        words = f"the highest amount per kg recorded for dogs ({regimen.id}; a rule of ours, not a published maximum)"
        most_mg = per_kg * weight_kg
        # To compare with what was given is a rule of ours, however well that amount is known.
        found.append(UpperLimit(regimen.id, ingredient, key, most_mg, False, words, _RULE_OF_OURS, regimen.source_ids))
    return found


def _of_hazard(reference: Reference, hazard_id: str, named: Iterable[str], animal: Animal) -> list[UpperLimit]:
    """Find where the lowest tier starts that the screen answers with "do not give"."""
    species, weight_kg = animal.species, known_weight(animal)
    sources = [id_ for id_ in named if _counts_for(reference, id_, hazard_id, species)]
    if any(kind_for(reference.hazards[id_], species) in _NOT_JUDGED for id_ in sources):
        return []
    starts = [
        (start, row)
        for row in tiers_of(reference, hazard_id, species)
        if LEVEL_OF_SEVERITY[row.severity] == "avoid" and (start := starts_at_mg(row, weight_kg)) is not None
    ]
    if not starts:
        return []
    start, row = min(starts, key=lambda pair: pair[0])
    return [_harmful(reference, hazard_id, start, row)]


def _counts_for(reference: Reference, source: str, hazard_id: str, species: str) -> bool:
    chain = chain_of(reference, source, species)
    return hazard_id in chain or (hazard_id == METHYLXANTHINES and CAFFEINE in chain)


def _harmful(reference: Reference, hazard_id: str, start: Decimal, row: Threshold) -> UpperLimit:
    hazard = reference.hazards[hazard_id]
    words = f"the lowest amount of {hazard.name} from which harm is published ({row.id})"
    too_much = row.comparison != ">"
    return UpperLimit(row.id, hazard.ingredient_id, hazard_id, start, too_much, words, row.origin, row.source_ids)
