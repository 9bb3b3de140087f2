"""An answer of ``dose`` as the front page shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_FLOOR
from urllib.parse import urlencode

from service.domain.common import Caution
from service.domain.dose_answer import DoseAnswer, EvidenceSummary, PhaseDose, TrialAmount
from service.domain.rounding import significant
from service.pages.amounts import published_amount, rule_sentence, weight_band
from service.pages.ingredient_words import phase
from service.pages.page_table import PageTable, Row, page_table
from service.pages.wording import amount_for_people, number, origin_words, sentence_case, span, words
from service.reference.release import Reference

_DIGITS_OF_A_WEIGHT = 4


@dataclass(frozen=True, slots=True)
class PhaseView:
    """The amount of one phase. ``amount`` is the number set large, in mg a day; ``rule`` says where it is from."""

    id: str
    heading: str
    amount: str
    parts: str
    moiety: str | None
    rule: str
    origin: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DailyAmount:
    """What the page says of one animal and one ingredient."""

    title: str
    ingredient: str
    ingredient_name: str
    species: str
    form_name: str
    phases: tuple[PhaseView, ...]
    upper_limit: str | None
    limit_source_ids: tuple[str, ...]
    evidence: EvidenceSummary
    reassess: str | None
    cautions: tuple[Caution, ...]
    chart: str
    chart_alt: str
    published: PageTable
    query: str
    source_ids: tuple[str, ...]


_PUBLISHED = ("id", "what", "amount", "body weight", "outcome", "known by")


def present(reference: Reference, answer: DoseAnswer, texts: Mapping[str, str]) -> DailyAmount:
    """Arrange an answer for reading.

    Parameters
    ----------
    reference
        The release that answered.
    answer
        Amounts for one animal.
    texts
        What the reader typed, of which ``weight`` is shown back.

    Returns
    -------
    DailyAmount
        For the template.
    """
    name = reference.ingredients[answer.ingredient].name
    weight = _weight(answer, texts["weight"])
    phases = tuple(_phase(reference, answer, phase, weight) for phase in answer.phases)
    limit = answer.upper_limit
    told = {answer.evidence.summary}
    return DailyAmount(
        title=f"{sentence_case(name)} for a {answer.species} of {weight}",
        ingredient=answer.ingredient,
        ingredient_name=name,
        species=answer.species,
        form_name=_form_name(reference, answer),
        phases=phases,
        upper_limit=number(significant(limit.amount_mg, 3, ROUND_FLOOR)) if limit else None,
        limit_source_ids=limit.source_ids if limit else (),
        evidence=answer.evidence,
        reassess=_reassess(answer.reassess_after_days),
        cautions=tuple(caution for caution in answer.cautions if caution.text not in told),
        chart=_query(answer, texts, "species", "ingredient", "weight"),
        chart_alt=_alt(name, answer.species, phases, weight),
        published=page_table(_PUBLISHED, map(_published, answer.published_amounts)),
        query=_query(answer, texts, "species", "weight", "age_years", "ingredient"),
        source_ids=answer.source_ids,
    )


def _form_name(reference: Reference, answer: DoseAnswer) -> str:
    name = reference.forms[answer.form].name
    # Names of forms begin with a capital; inside a sentence only abbreviations keep theirs.
    return name if name[1:2].isupper() or len(name) == 1 else f"{name[:1].lower()}{name[1:]}"


def _weight(answer: DoseAnswer, typed: str) -> str:
    kilograms = f"{number(significant(answer.weight_kg, _DIGITS_OF_A_WEIGHT))}\u00a0kg"
    return kilograms if "kg" in typed.casefold() else f"{typed} ({kilograms})"


def _phase(reference: Reference, answer: DoseAnswer, phase: PhaseDose, weight: str) -> PhaseView:
    low, high = amount_for_people(phase.low_mg, phase.high_mg)
    moiety = None
    if (phase.moiety_low_mg, phase.moiety_high_mg) != (phase.low_mg, phase.high_mg):
        moiety = f"{span(*amount_for_people(phase.moiety_low_mg, phase.moiety_high_mg))} mg of {answer.moiety} itself"
    return PhaseView(
        id=phase.phase,
        heading=_heading(answer, phase),
        amount=span(low, high),
        parts=_parts(phase.divided_doses),
        moiety=moiety,
        rule=_rule(reference, answer, phase, weight),
        origin=phase.origin,
        source_ids=phase.source_ids,
    )


def _heading(answer: DoseAnswer, phase: PhaseDose) -> str:
    if len(answer.phases) == 1:
        return "Every day"
    if phase.phase == "loading":
        return f"At first, for {span(phase.days_low, phase.days_high)} days" if phase.days_low else "At first"
    return "From then on"


def _parts(divided_doses: int) -> str:
    return "Once a day" if divided_doses == 1 else f"In {divided_doses} parts over the day"


def _rule(reference: Reference, answer: DoseAnswer, phase: PhaseDose, weight: str) -> str:
    rows = reference.guidance_of[answer.ingredient, answer.species]
    row = next(row for row in rows if row.id == phase.guidance_id)
    stated = f"{span(row.amount_low, row.amount_high)} {row.unit}"
    at = "at every weight" if row.basis == "fixed" else f"at {number(row.at_weight_kg)} kg"
    exact = f"{span(phase.low_mg, phase.high_mg)} mg"
    band = weight_band(phase.band.from_kg, phase.band.to_kg)
    animals = f"{answer.species}s {'of ' if phase.band.to_kg is not None else ''}{band}"
    scaled = "" if row.basis == "fixed" else f" For {weight} that is {exact}; shown in three digits."
    rule = rule_sentence(phase.rule, phase.basis)
    return f"{rule}: {stated} a day {at} (for {animals}).{scaled}"


def _reassess(days: int | None) -> str | None:
    return None if days is None else f"after {days} days"


def _published(trial: TrialAmount) -> Row:
    return (
        trial.regimen_id,
        "; ".join(part for part in (phase(trial.phase), trial.material) if part),
        published_amount(trial.amount_low, trial.amount_high, trial.unit, trial.basis),
        weight_band(trial.weight_from_kg, trial.weight_to_kg),
        words(trial.outcome) if trial.outcome else "",
        origin_words(trial.origin),
    )


def _alt(name: str, species: str, phases: tuple[PhaseView, ...], weight: str) -> str:
    at = "; ".join(f"{phase.heading.lower()} {phase.amount} mg" for phase in phases)
    return (
        f"Chart: milligrams of {name} a day over the body weight of a {species}, published amounts as points. "
        f"At {weight}: {at}."
    )


def _query(answer: DoseAnswer, texts: Mapping[str, str], *names: str) -> str:
    told = {**texts, "species": answer.species, "ingredient": answer.ingredient}
    return urlencode({name: told[name] for name in names if told.get(name)})
