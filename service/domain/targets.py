"""What products are held against: amounts per day settled from guidance or by the caller, and what a unit holds."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal
from service.domain.compare_answer import TargetRange
from service.domain.errors import InvalidInput, Issue, NoGuidance, UnknownForm, UnknownIngredient
from service.domain.guidance import check_age, guidance_rows, phase_doses
from service.domain.normalising import ReadFact
from service.domain.rounding import amount
from service.domain.suggesting import nearest_ids
from service.reference.release import Reference


@dataclass(frozen=True, slots=True)
class Target:
    """One aim. Amounts are mg per day of ``form``; without them guidance is used."""

    ingredient: str
    form: str | None = None
    low_mg: Decimal | None = None
    high_mg: Decimal | None = None
    phase: str = "maintenance"


def known_weight(animal: Animal, where: str = "animal/weight") -> Decimal:
    """Give the weight of an animal that must have one.

    Parameters
    ----------
    animal
        The animal.
    where
        Path of the weight in the input, for the error.

    Returns
    -------
    Decimal
        In kg.

    Raises
    ------
    InvalidInput
        If the weight is not known.
    """
    if animal.weight_kg is None:
        raise InvalidInput(Issue(where, "is needed here"))
    return animal.weight_kg


def _check_known(reference: Reference, target: Target, where: str) -> None:
    if target.ingredient not in reference.ingredients:
        raise UnknownIngredient(target.ingredient, nearest_ids(target.ingredient, reference.ingredients))
    if target.form is None:
        return
    if target.form not in reference.forms:
        raise UnknownForm(target.form, nearest_ids(target.form, reference.forms))
    if reference.forms[target.form].ingredient_id != target.ingredient:
        raise InvalidInput(Issue(f"{where}/form", f"{target.form} is no form of {target.ingredient}"))
    if reference.forms[target.form].kind not in ("defined", "as_labelled"):
        detail = f"{target.form} does not settle how much of its moiety it holds; name one chemical form"
        raise InvalidInput(Issue(f"{where}/form", detail))


def settle_target(reference: Reference, animal: Animal, target: Target, aim: str, where: str) -> TargetRange:
    """Settle the amounts of one target.

    Parameters
    ----------
    reference
        The release to answer from.
    animal
        Its weight in kg must be known.
    target
        The ingredient, and what the caller says of amounts, form and phase.
    aim
        ``low``, ``middle`` or ``high``: which end of the range is to be reached.
    where
        Path of the target in the input, for errors.

    Returns
    -------
    TargetRange
        In mg per day of one form.

    Raises
    ------
    InvalidInput
        If the range runs downwards, the form does not fit, or the phase is not recorded.
    UnknownIngredient, UnknownForm
        If an id is not known.
    NoGuidance
        If the target has no amounts of its own and none is known.
    """
    low, high, form, origin = target.low_mg, target.high_mg, target.form, "caller"
    ids: tuple[str, ...] = ()
    _check_known(reference, target, where)
    if low is None or high is None or form is None:
        try:
            guided = _guided(reference, animal, target, where)
        except NoGuidance:
            if low is None:
                raise
            guided = None
        if guided is not None and low is None:
            low, origin, ids = guided.low_mg, guided.origin, guided.source_ids
            high = high if high is not None else guided.high_mg
        if guided is not None:
            form = form or guided.form
            high = high if high is not None else max(guided.high_mg, low or Decimal(0))
    if low is None:
        raise InvalidInput(Issue(f"{where}/low_mg", "is needed here"))
    high = high if high is not None else low
    if high < low:
        raise InvalidInput(Issue(f"{where}/high_mg", f"{high} is below low_mg {low}"))
    aim_mg = {"low": low, "middle": (low + high) / 2, "high": high}[aim]
    return TargetRange(
        target.ingredient, form, target.phase, low, high, min(max(amount(aim_mg), low), high), origin, ids
    )


def _guided(reference: Reference, animal: Animal, target: Target, where: str) -> TargetRange:
    weight_kg = known_weight(animal)
    rows = guidance_rows(reference, target.ingredient, animal.species)
    phases = {phase.phase: phase for phase in phase_doses(reference, rows, weight_kg, target.form or rows[0].form_id)}
    check_age(reference, target.ingredient, animal, rows)
    if target.phase not in phases:
        detail = f"no {target.phase} phase of {target.ingredient} is recorded; known: {', '.join(phases)}"
        raise InvalidInput(Issue(f"{where}/phase", detail))
    phase = phases[target.phase]
    form = target.form or rows[0].form_id
    return TargetRange(
        target.ingredient, form, phase.phase, phase.low_mg, phase.high_mg, phase.low_mg, phase.origin, phase.source_ids
    )


def mg_in_unit(reference: Reference, facts: tuple[ReadFact, ...], wanted: TargetRange) -> tuple[Decimal, Decimal]:
    """Add up what one unit holds of a target over all facts of its label.

    Parameters
    ----------
    reference
        The release to answer from.
    facts
        The label, read.
    wanted
        The target; its form says what is counted.

    Returns
    -------
    tuple of Decimal
        mg of the target's form in one unit: the low and the high reading of the label.
    """
    form = reference.forms[wanted.form] if wanted.form else None
    share = (form.share_low if form else None) or Decimal(1)
    whole = (form.moiety if form else reference.ingredients[wanted.ingredient].moiety) or ""
    if " + " in whole:
        low, high = _largest_figure(facts, wanted.ingredient, whole)
    else:
        low, high = _summed(facts, wanted.ingredient, {whole} if form else None)
    return low / share, high / share


def _largest_figure(facts: tuple[ReadFact, ...], ingredient: str, whole: str) -> tuple[Decimal, Decimal]:
    """Of "omega-3 900 mg, EPA + DHA 500 mg, EPA 300 mg, DHA 200 mg" add no figure to another that holds it."""
    kinds = {fact.reading.form.id for fact in facts if fact.reading.form}
    figures = [_summed(facts, ingredient, set(whole.split(" + ")))]
    for kind in kinds:
        of_kind = tuple(fact for fact in facts if fact.reading.form and fact.reading.form.id == kind)
        figures.append(_summed(of_kind, ingredient, {whole}))
    return max(low for low, _ in figures), max(high for _, high in figures)


def _summed(facts: tuple[ReadFact, ...], ingredient: str, moieties: set[str] | None) -> tuple[Decimal, Decimal]:
    low = high = Decimal(0)
    for fact in facts:
        counted = fact.reading.ingredient == ingredient and (moieties is None or fact.reading.moiety in moieties)
        if counted and fact.mass.moiety_low_mg is not None:
            # A guarantee of "at most" promises nothing to the buyer and everything to the safety side.
            low += Decimal(0) if fact.bound in ("max", "less_than") else fact.mass.moiety_low_mg
            high += fact.mass.moiety_high_mg or Decimal(0)
    return low, high
