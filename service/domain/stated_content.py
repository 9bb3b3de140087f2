"""Contents that a bracket states itself: ``(EPA 300 mg, DHA 200 mg)``, ``(10 mg CBD)``, ``(Zn: 18 mg)``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.domain.errors import InvalidInput
from service.domain.numbers import read_number
from service.domain.resolving import resolver_for
from service.reference.records import Form
from service.reference.release import Reference

_AMOUNT = re.compile(r"(?P<number>[0-9][0-9.,' ]*(?<![.,' ]))\s*(?P<unit>[^\W\d_]+)")
# "2,000 mg/kg Se" tells a share of the material, no milligrams in this amount.
_IN_SOMETHING = re.compile(r"\s*(?:/|(?:per|je|pro|par|por)\b)", re.IGNORECASE)
_BETWEEN_PARTS = re.compile(r"\s*(?:&|\band\b|\bund\b|\bet\b|\by\b|;|\+|,(?!\d))\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class StatedContent:
    """mg of a moiety in the amount that the bracket belongs to, as the label itself says."""

    mg: Decimal
    moiety: str
    form: Form


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
        The sum of its parts in mg of moiety; ``None`` where a part is not understood, has no mass, or a share of
        moiety that the label leaves open.
    """
    found: list[StatedContent] = []
    for part in _BETWEEN_PARTS.split(text):
        content = _part(reference, ingredient_id, part)
        if content is None:
            return None
        found.append(content)
    moieties = dict.fromkeys(content.moiety for content in found)
    whole = reference.ingredients[ingredient_id].moiety or ""
    if len(moieties) > 1 and not set(moieties) <= set(whole.split(" + ")):
        return None
    moiety = found[0].moiety if len(moieties) == 1 else whole
    return StatedContent(sum((content.mg for content in found), Decimal(0)), moiety, found[0].form)


def _part(reference: Reference, ingredient_id: str, part: str) -> StatedContent | None:
    match = _AMOUNT.search(part)
    unit = reference.units.get(match["unit"]) if match else None
    if match is None or unit is None or unit.dimension != "mass" or _IN_SOMETHING.match(part, match.end()):
        return None
    name = f"{part[: match.start()]} {part[match.end() :]}".strip(" :=.")
    meanings = resolver_for(reference).resolve(name, suggest=False).meanings
    named = (one.form for one in meanings if one.ingredient == ingredient_id and not one.negated)
    form = reference.forms.get(next((id_ for id_ in named if id_), ""))
    if form is None or form.share_low is None or form.share_low != form.share_high:
        return None
    try:
        number = read_number(match["number"], None, "name")
    except InvalidInput:
        return None
    if number.low != number.high:
        return None
    return StatedContent(number.low * unit.factor * form.share_low, form.moiety, form)
