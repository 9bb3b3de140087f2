"""Contents that a bracket states itself: ``(EPA 300 mg, DHA 200 mg)``, ``(10 mg CBD)``, ``(Zn: 18 mg)``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.domain.errors import InvalidInput
from service.domain.numbers import read_number
from service.domain.resolving import Meaning, resolver_for
from service.reference.records import Form
from service.reference.release import Reference

_AMOUNT = re.compile(r"(?<![-\w])(?P<number>[0-9][0-9.,' ]*(?<![.,' ]))\s*(?P<unit>[^\W\d_]+)")
# The 3 of "omega 3 300 mg" is no digit of the amount.
_OMEGA = re.compile(r"\b(om[e\u00e9]ga) ?(?=[369]\b)", re.IGNORECASE)
# "2,000 mg/kg Se" tells a share of the material, no milligrams in this amount.
_IN_SOMETHING = re.compile(r"\s*(?:/|(?:per|je|pro|par|por)\b)", re.IGNORECASE)
_BETWEEN_PARTS = re.compile(r"\s*(?:&|\band\b|\bund\b|\bet\b|\by\b|;|\+|,(?!\d))\s*", re.IGNORECASE)


_AS = re.compile(r"\s\(?\s*\b(?:as|als|como|sous forme de)\s", re.IGNORECASE)
# Beside EPA and DHA a bracket names the rest of the oil; it is no part of what is counted.
_BESIDE = {"epa-dha": frozenset(("linoleic-acid", "gamma-linolenic-acid", "alpha-linolenic-acid"))}


THE_REST = frozenset("other others autres andere sonstige otros otras altri".split())


@dataclass(frozen=True, slots=True)
class StatedContent:
    """mg of a moiety in the amount that the bracket belongs to, as the label itself says.

    The two differ where a total is stated whose parts are not.
    """

    low_mg: Decimal
    high_mg: Decimal
    moiety: str
    form: Form

    @property
    def is_open(self) -> bool:
        """Say whether the label leaves the content open."""
        return self.low_mg != self.high_mg


def stated_content(reference: Reference, ingredient_id: str, text: str) -> StatedContent | None:
    """Read the contents that a bracket states.

    Parameters
    ----------
    reference
        The release to answer from.
    ingredient_id
        Only parts of this ingredient count.
    text
        Inside of the bracket.

    Returns
    -------
    StatedContent or None
        The sum of its parts in mg of moiety. A total beside its parts ("omega-3 300 mg, EPA 180 mg") is not added to
        them: it bounds what is not stated. ``None`` where a part is not understood or has no mass.
    """
    exact: list[StatedContent] = []
    totals: list[StatedContent] = []
    for part in _BETWEEN_PARTS.split(text):
        read = _part(reference, ingredient_id, part)
        if read is None:
            return None
        if isinstance(read, StatedContent):
            (totals if read.form.share_low == 0 else exact).append(read)
    if not exact and not totals:
        return None
    return _together(reference.ingredients[ingredient_id].moiety or "", exact, totals)


def _together(whole: str, exact: list[StatedContent], totals: list[StatedContent]) -> StatedContent | None:
    moieties = {one.moiety for one in exact}
    parts = set(whole.split(" + "))
    if len(moieties) > 1 and not moieties <= parts:
        return None
    low = sum((one.low_mg for one in exact), Decimal(0))
    high = sum((one.high_mg for one in exact), Decimal(0))
    if not totals or moieties >= parts or whole in moieties:
        moiety = exact[0].moiety if len(moieties) == 1 else whole
        return StatedContent(low, high, moiety, exact[0].form)
    high = max(high, *(one.high_mg for one in totals))
    return StatedContent(low, high, whole, totals[0].form)


def _part(reference: Reference, ingredient_id: str, part: str) -> StatedContent | str | None:
    """Read one part; the id of its ingredient where it is one that stands beside what counts."""
    part = _OMEGA.sub(r"\1-", part)
    match = _AMOUNT.search(part)
    unit = reference.units.get(match["unit"]) if match else None
    if match is None or unit is None or unit.dimension != "mass" or _IN_SOMETHING.match(part, match.end()):
        return None
    name = f"{part[: match.start()]} {part[match.end() :]}".strip(" :=.")
    meanings = resolver_for(reference).resolve(name, suggest=False).meanings
    if name.strip(" ()").casefold() in THE_REST:
        return name
    beside = next((one.ingredient for one in meanings if one.ingredient in _BESIDE.get(ingredient_id, ())), None)
    if beside is not None:
        return beside
    head, _, compound = (text.strip(" ()") for text in _AS.sub("|", name, count=1).partition("|"))
    if compound:
        meanings = resolver_for(reference).resolve(f"{head} {compound}", suggest=False).meanings
    form = _form(reference, ingredient_id, meanings)
    if form is None or form.share_low is None or form.share_high is None or _is_vague(form):
        return None
    try:
        number = read_number(match["number"], None, "name")
    except InvalidInput:
        return None
    if number.low != number.high:
        return None
    mg = number.low * unit.factor
    # "EPA (as ethyl ester)" leaves open whether the acid or the ester is counted.
    high = Decimal(1) if compound else form.share_high
    return StatedContent(mg * form.share_low, mg * high, form.moiety, form)


def _form(reference: Reference, ingredient_id: str, meanings: tuple[Meaning, ...]) -> Form | None:
    named = (one.form for one in meanings if one.ingredient == ingredient_id and not one.negated)
    return reference.forms.get(next((id_ for id_ in named if id_), ""))


def _is_vague(form: Form) -> bool:
    """Say whether a form leaves open what it is; a total leaves open only how much of each part it holds."""
    return form.share_low != form.share_high and form.share_low != 0
