"""How much of a harmful substance reaches the animal per day.

An amount is judged on its high reading. A plant that holds the harmful substance is converted with the recommended
content factor; sources of one substance are added before they are compared, caffeine to theobromine included.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from service.domain.material_content import converted_content, own_content
from service.domain.screening_carried import carried_by
from service.domain.screening_subjects import Mention, ReadLabel
from service.domain.screening_tiers import chain_of, delegate_of
from service.domain.stated_parts import stated_parts
from service.domain.stated_strength import is_concentrate
from service.reference.records import Form, Hazard
from service.reference.release import Reference

CAFFEINE, METHYLXANTHINES = "caffeine", "methylxanthines"
# Counted in the sum of theobromine and caffeine as it is; every other source needs a content factor.
SAME_SUBSTANCE = frozenset({("theobromine", METHYLXANTHINES)})


@dataclass(frozen=True, slots=True)
class DailyFact:
    """One line of a facts panel as mg per day: low and high reading of its moiety, or of the material itself."""

    place: str
    fact: int
    name: str
    ingredient: str | None
    moiety: str | None
    low_mg: Decimal
    high_mg: Decimal


@dataclass(frozen=True, slots=True)
class Burden:
    """All harmful substances of a request as mg per day, and which mentions could not be counted."""

    mg_per_day: Mapping[str, Decimal]
    not_counted: frozenset[Mention]


def units_per_day(label: ReadLabel) -> Decimal:
    """Units given per day: as stated, else one serving, else one unit.

    Parameters
    ----------
    label
        A label with its product.

    Returns
    -------
    Decimal
        Tablets, chews, ... per day.
    """
    return label.product.units_per_day or label.product.serving_units or Decimal(1)


def daily_facts(reference: Reference, labels: Iterable[ReadLabel]) -> tuple[DailyFact, ...]:
    """Turn facts into mg per day; lines without a mass are left out.

    Parameters
    ----------
    reference
        The release to answer from.
    labels
        Products and other supplements.

    Returns
    -------
    tuple of DailyFact
        In printed order; a compound that brings another ingredient along is followed by that.
    """
    found = []
    for label in labels:
        times = units_per_day(label)
        for number, fact in enumerate(label.facts):
            mass, reading = fact.mass, fact.reading
            low, high, moiety = mass.moiety_low_mg, mass.moiety_high_mg, reading.moiety
            if low is None or high is None:
                low, high, moiety = mass.mg_low, mass.mg_high, None
            if low is not None and high is not None:
                per_day = (low * times, high * times)
                line = DailyFact(label.place, number, fact.fact.name, reading.ingredient, moiety, *per_day)
                found += [line, *_carried_lines(reference, line, reading.form)]
    return tuple(found)


def _carried_lines(reference: Reference, line: DailyFact, form: Form | None) -> list[DailyFact]:
    """Turn an amount of glucosamine into that of the potassium which comes with it."""
    if form is None or not form.share_low or not form.share_high:
        return []
    # Of the moiety or, where the label gives no moiety, of the compound itself.
    share_low, share_high = (form.share_low, form.share_high) if line.moiety is not None else (1, 1)
    return [
        replace(
            line,
            ingredient=carried.ingredient,
            moiety=carried.expression.moiety,
            low_mg=line.low_mg / share_high * (carried.expression.share_low or 0),
            high_mg=line.high_mg / share_low * (carried.expression.share_high or 0),
        )
        for carried in carried_by(reference, form.id)
    ]


def burden_of(reference: Reference, mentions: Iterable[Mention], facts: Iterable[DailyFact], species: str) -> Burden:
    """Add up every harmful substance over all its sources.

    Parameters
    ----------
    reference
        The release to answer from.
    mentions
        Mentions of hazards; traces are left out.
    facts
        Amounts per day.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    Burden
        mg per day by hazard id, in the substance that the hazard's tiers are stated in. A mention in a list below a
        facts panel that gives the amount of the same hazard counts as that amount.
    """
    by_line: dict[tuple[str, int], list[DailyFact]] = {}
    for fact in facts:
        by_line.setdefault((fact.place, fact.fact), []).append(fact)
    sums: dict[str, Decimal] = {}
    lines: dict[tuple[str, str, int], bool] = {}
    present = [mention for mention in mentions if mention.hazard is not None and not mention.trace]
    for mention in present:
        hazard = reference.hazards[mention.hazard or ""]
        line = _line_of(by_line.get((mention.where, mention.fact), []) if mention.fact is not None else [], mention)
        key = (mention.where, hazard.id, mention.item)
        if (
            key not in lines
            and line is not None
            and _is_counted_with_another(reference, mention, present, line, species)
        ):
            lines[key] = True
        elif key not in lines:
            lines[key] = line is not None and _add(reference, sums, hazard, line, species)
    if CAFFEINE in sums:
        sums[METHYLXANTHINES] = sums.get(METHYLXANTHINES, Decimal(0)) + sums[CAFFEINE]
    stated = {(where, hazard_id) for (where, hazard_id, _), counted in lines.items() if counted}
    not_counted = frozenset(
        mention
        for mention in present
        if not lines[mention.where, mention.hazard or "", mention.item]
        and not (mention.fact is None and (mention.where, mention.hazard) in stated)
    )
    return Burden(MappingProxyType(sums), not_counted)


def _is_counted_with_another(
    reference: Reference, mention: Mention, present: Iterable[Mention], line: DailyFact, species: str
) -> bool:
    """Say whether a substance whose share a line states is counted where its plant is: caffeine of guarana."""
    if mention.ingredient == line.ingredient or mention.hazard not in stated_parts(reference, line.name):
        return False
    own = chain_of(reference, mention.hazard or "", species)
    return any(
        own[-1] == chain_of(reference, other.hazard or "", species)[-1] or mention.hazard == delegate
        for other in present
        if (other.where, other.item) == (mention.where, mention.item) and other.ingredient == line.ingredient
        for delegate in (delegate_of(reference, other.hazard or "", species),)
        if delegate is not None
    )


def _line_of(lines: list[DailyFact], mention: Mention) -> DailyFact | None:
    """Pick the amount of what is mentioned, else that of the line itself."""
    own = (line for line in lines if line.ingredient == mention.ingredient)
    return next(own, lines[0] if lines else None)


def _add(reference: Reference, sums: dict[str, Decimal], hazard: Hazard, line: DailyFact, species: str) -> bool:
    """Add one line to the sums; false where its amount cannot be compared, wholly or at all."""
    own = _own_share(reference, hazard, line, species)
    if own is None:
        return False
    sums[hazard.id] = sums.get(hazard.id, Decimal(0)) + line.high_mg * own
    target = delegate_of(reference, hazard.id, species)
    if target is None:
        return own == 1 or not is_concentrate(line.name) or hazard.id in stated_parts(reference, line.name)
    if (hazard.id, target) in SAME_SUBSTANCE:
        sums[target] = sums.get(target, Decimal(0)) + line.high_mg * own
        return True
    content = converted_content(reference, hazard, line.name)
    if not content.known:
        return False
    sums[target] = sums.get(target, Decimal(0)) + line.high_mg * content.high
    # A factor holds for the plant; an extract of it can hold many times more, unless the label says how much.
    return content.stated or content.high == 1 or not is_concentrate(line.name)


def _own_share(reference: Reference, hazard: Hazard, line: DailyFact, species: str) -> Decimal | None:
    """Give mg of the hazard's own substance per mg of the line, ``None`` where the line is of something else."""
    if line.ingredient is None:
        return None
    same = line.ingredient == hazard.ingredient_id
    if same and line.moiety is not None:
        return Decimal(1)
    content = own_content(reference, hazard, line.ingredient, line.name, species, dried_unless_said=True)
    return content.high if content.known or same else None
