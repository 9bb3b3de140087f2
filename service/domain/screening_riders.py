"""What the salts on a facts panel bring along, as mg per day: sodium of an ascorbate, chloride of a hydrochloride.

The share of an element follows from the formula of the salt. That of a whole compound ("ascorbic acid in manganese
ascorbate") is a row of its own in table ``forms`` and is counted where the line itself is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from types import MappingProxyType

from service.domain.common import Animal
from service.domain.normalising import ReadFact
from service.domain.screening_burden import DailyFact, units_per_day
from service.domain.screening_constituents import constituents
from service.domain.screening_subjects import Mention, ReadLabel, Subjects
from service.reference.records import Form
from service.reference.release import Reference

_ATOMS = re.compile(r"([A-Z][a-z]?)([0-9]{0,4})")
_LONGEST_FORMULA = 60
_DEFINED = "defined"
# A rule of ours: the traces that a trace-element salt brings along are no source of sodium or potassium.
_LEAST_MG_PER_KG = Decimal(1)


def rider_lines(reference: Reference, labels: Iterable[ReadLabel], counted: Iterable[DailyFact]) -> list[DailyFact]:
    """List what lines bring along and what is not counted yet: elements of salts, constituents stated in brackets.

    Parameters
    ----------
    reference
        The release to answer from.
    labels
        Products and other supplements.
    counted
        Lines that are counted already.

    Returns
    -------
    list of DailyFact
        In printed order; a salt whose amount or formula is not known brings nothing that could be counted.
    """
    have = {(line.place, line.fact, line.ingredient) for line in counted}
    found = []
    for label in labels:
        for number, fact in enumerate(label.facts):
            lines = [*_elements_of(reference, label, number, fact), *_constituents_of(reference, label, number, fact)]
            found += [line for line in lines if (line.place, line.fact, line.ingredient) not in have]
    return found


def brought_mentions(
    reference: Reference, subjects: Subjects, riders: Iterable[DailyFact], animal: Animal
) -> tuple[Mention, ...]:
    """Make mentions of the elements that come in more than a trace, so that conditions see them.

    Parameters
    ----------
    reference
        The release to answer from.
    subjects
        What is named: an ingredient named at the same place needs no second mention.
    riders
        What ``rider_lines`` lists.
    animal
        A trace is less than 1 mg per kg body weight a day, a rule of ours; without a weight less than 1 mg a day.

    Returns
    -------
    tuple of Mention
        Marked as carried.
    """
    named = {(mention.where, mention.ingredient) for mention in subjects.mentions}
    # One spot with the salt itself: a salt and its metal are one material and no pair.
    salts = {(mention.where, mention.fact): mention for mention in reversed(subjects.mentions)}
    least = _LEAST_MG_PER_KG * (animal.weight_kg or 1)
    found = {}
    for line in riders:
        salt = salts.get((line.place, line.fact))
        if salt is None or line.ingredient is None or (line.place, line.ingredient) in named or line.high_mg < least:
            continue
        form = reference.ingredients[line.ingredient].default_form_id
        brought = replace(salt, ingredient=line.ingredient, form=form, hazard=None, carried=True)
        found[line.place, line.ingredient] = brought
    return tuple(found.values())


def _elements_of(reference: Reference, label: ReadLabel, number: int, fact: ReadFact) -> Iterable[DailyFact]:
    form = fact.reading.form
    salt = _mg_of_salt(form, fact.mass.moiety_low_mg, fact.mass.moiety_high_mg)
    if form is None or salt is None:
        return
    times = units_per_day(label)
    for element, share in _elements_beside(reference, form.id).items():
        low, high = (mg * share * times for mg in salt)
        yield DailyFact(label.place, number, fact.fact.name, element.ingredient_id, element.moiety, low, high)


def _constituents_of(reference: Reference, label: ReadLabel, number: int, fact: ReadFact) -> Iterable[DailyFact]:
    times = units_per_day(label)
    for read in constituents(reference, label.product, fact):
        mass = read.mass
        low, high, moiety = mass.moiety_low_mg, mass.moiety_high_mg, read.reading.moiety
        if low is None or high is None:
            low, high, moiety = mass.mg_low, mass.mg_high, None
        if low is not None and high is not None:
            yield DailyFact(
                label.place, number, fact.fact.name, read.reading.ingredient, moiety, low * times, high * times
            )


def _mg_of_salt(form: Form | None, low_mg: Decimal | None, high_mg: Decimal | None) -> tuple[Decimal, Decimal] | None:
    if form is None or form.kind != _DEFINED or not form.share_low or low_mg is None or high_mg is None:
        return None
    return low_mg / form.share_low, high_mg / form.share_low


@lru_cache(maxsize=1024)
def _elements_beside(reference: Reference, form_id: str) -> Mapping[Form, Decimal]:
    """Give the share by mass of every element with a total of its own that a salt holds beside its moiety."""
    form = reference.forms[form_id]
    mass = form.molar_mass_g_per_mol
    if not form.formula or not mass:
        return MappingProxyType({})
    atoms = _atoms(form.formula)
    own = _atoms(form.moiety_formula or "")
    found = {}
    for symbol, element in _elements(reference).items():
        if symbol in atoms and symbol not in own and element.ingredient_id != form.ingredient_id:
            found[element] = atoms[symbol] * (element.molar_mass_g_per_mol or Decimal(0)) / mass
    return MappingProxyType(found)


@lru_cache(maxsize=8)
def _elements(reference: Reference) -> Mapping[str, Form]:
    """Find the forms that are one element as such, by symbol: those a label can state "as the element"."""
    return MappingProxyType(
        {
            form.formula: form
            for form in reference.forms.values()
            if form.formula is not None
            and form.id == reference.ingredients[form.ingredient_id].default_form_id
            and sum(_atoms(form.formula).values()) == 1
        }
    )


def _atoms(formula: str) -> dict[str, int]:
    """Count the atoms of a plain formula such as ``C12H28Cl2K2N2O14S``; anything else counts as none."""
    if len(formula) > _LONGEST_FORMULA or "".join(match[0] for match in _ATOMS.finditer(formula)) != formula:
        return {}
    found: dict[str, int] = {}
    for symbol, count in _ATOMS.findall(formula):
        found[symbol] = found.get(symbol, 0) + int(count or 1)
    return found
