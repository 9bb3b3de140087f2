"""From what was eaten to mg of what the thresholds count: salts to the element, plants to caffeine, cocoa by kind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from service.domain.content_factors import UNKNOWN, WHOLE, Content
from service.domain.eaten import Eaten
from service.domain.exposure_answer import ContentUsed
from service.domain.exposure_tiers import HOLDS, Counted, hazard_chain
from service.domain.material_content import converted_content, counted_compound, own_content
from service.domain.rounding import significant
from service.domain.screening_answers import plain, weakest_origin
from service.domain.screening_burden import METHYLXANTHINES, SAME_SUBSTANCE
from service.domain.screening_tiers import delegate_of
from service.domain.stated_parts import stated_parts
from service.domain.stated_strength import is_concentrate
from service.domain.substances import Substance
from service.reference.records import ContentFactor, Form, Hazard
from service.reference.release import Reference

_UNIT_WORDS = {
    "percent": "%",
    "percent_by_volume": "% by volume",
    "fraction": "of its mass",
    "g NaCl per g Na": "times as much",
}
_NOT_RECORDED = "What share of it counts is not recorded: between nothing and all."


@dataclass(frozen=True, slots=True)
class Counting:
    """mg by hazard id, and how the last of them, which the answer shows, follows from what was eaten."""

    counted: Mapping[str, Counted]
    shown: str
    content: Content
    used: ContentUsed | None
    form: Form | None


def count_hazard(reference: Reference, substance: Substance, hazard: Hazard, eaten: Eaten, species: str) -> Counting:
    """Turn an amount of a substance into mg of every substance that a hazard's tiers count.

    Parameters
    ----------
    reference
        The release to answer from.
    substance
        What was eaten.
    hazard
        One of its hazards.
    eaten
        How much.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    Counting
        Unrounded.
    """
    form, own, content = _own(reference, substance, hazard, eaten, species)
    counted = {hazard.id: own}
    shown = hazard.id
    for id_ in hazard_chain(reference, hazard.id, species)[1:]:
        if delegate_of(reference, shown, species) == id_ or HOLDS.get(shown) == id_:
            share = _share_of_target(reference, hazard, substance.text, shown, id_)
            content = _product(content, share)
            counted[id_] = _scaled(counted[shown], share, substance.text)
            shown = id_
        else:
            # The sum that caffeine belongs to, or the plant that garlic is judged like.
            counted[id_] = counted[shown]
            shown = id_ if id_ == METHYLXANTHINES else shown
    return Counting(counted, shown, content, _used(reference, hazard, substance, shown, content, form), form)


def _own(
    reference: Reference, substance: Substance, hazard: Hazard, eaten: Eaten, species: str
) -> tuple[Form | None, Counted, Content]:
    """Count the hazard's own substance: by the formula of a named form, else by the recorded content."""
    reading = substance.reading
    form = reading.form
    same = reading.ingredient == hazard.ingredient_id
    by_formula = same and eaten.moiety_high_mg is not None and counted_compound(reference, hazard) is None
    if by_formula and eaten.moiety_low_mg is not None and eaten.moiety_high_mg is not None:
        content = Content(reading.share_low or Decimal(1), reading.share_high or Decimal(1))
        return form, Counted(eaten.moiety_low_mg, eaten.moiety_high_mg), content
    if eaten.low_mg is None or eaten.high_mg is None:
        return form, Counted(Decimal(0), eaten.moiety_high_mg or Decimal(0), known=False), UNKNOWN
    ingredient = _counted_ingredient(reference, substance, hazard)
    content = own_content(reference, hazard, ingredient, substance.text, species, dried_unless_said=False)
    at_least = bool(content.factors) and is_concentrate(substance.text)
    low, high = eaten.low_mg * content.low, eaten.high_mg * content.high
    return None, Counted(low, high, content.known, at_least), content


def _counted_ingredient(reference: Reference, substance: Substance, hazard: Hazard) -> str:
    """Give what the amount is taken to be of: "sugar free dark chocolate" is chocolate beside its sweetener."""
    reading = substance.reading
    if reading.ingredient is not None and hazard.id in stated_parts(reference, substance.text):
        return reading.ingredient
    first = reading.resolution.matched_name
    for meaning in reading.hazards:
        if meaning.hazard == hazard.id and meaning.matched_name != first and meaning.ingredient is not None:
            return meaning.ingredient
    return reading.ingredient or hazard.ingredient_id


def _share_of_target(reference: Reference, hazard: Hazard, text: str, from_id: str, to_id: str) -> Content:
    if (from_id, to_id) in SAME_SUBSTANCE:
        return WHOLE
    return converted_content(reference, hazard if from_id == hazard.id else reference.hazards[from_id], text)


def _scaled(own: Counted, share: Content, text: str) -> Counted:
    return Counted(
        own.low_mg * share.low,
        own.high_mg * share.high,
        own.known and share.known,
        not share.stated and (own.at_least or (bool(share.factors) and is_concentrate(text))),
    )


def _product(first: Content, second: Content) -> Content:
    return Content(
        first.low * second.low,
        first.high * second.high,
        (*second.factors, *first.factors),
        (*second.beside, *first.beside),
        first.known and second.known,
        first.kind_named and second.kind_named,
        second.stated,
    )


def _used(
    reference: Reference, hazard: Hazard, substance: Substance, shown: str, content: Content, form: Form | None
) -> ContentUsed | None:
    of = counted_words(reference, shown)
    low, high = significant(content.low), significant(content.high)
    if form is not None:
        how = f"{form.name}: {plain(low)} to {plain(high)} of its mass is {form.moiety}"
        how = how if low != high else f"{form.name}: {plain(high)} of its mass is {form.moiety}"
        return ContentUsed(form.name, form.moiety, low, high, True, (), how, form.origin, form.source_ids)
    if not content.known:
        sources = hazard.source_ids
        return ContentUsed(substance.text, of, low, high, False, (), _NOT_RECORDED, hazard.origin, sources)
    if content.stated:
        how = f"{substance.text}: {plain(high * 100)} % of its mass, as its name states"
        return ContentUsed(substance.text, of, low, high, True, (), how, hazard.origin, hazard.source_ids)
    if not content.factors:
        return None
    return ContentUsed(
        material=content.factors[0].material,
        of=of,
        share_low=low,
        share_high=high,
        known=True,
        factor_ids=tuple(row.id for row in content.factors),
        how="; ".join(factor_words(row) for row in content.factors),
        origin=weakest_origin([row.origin for row in content.factors]),
        source_ids=tuple(dict.fromkeys(id_ for row in content.factors for id_ in row.source_ids)),
    )


def factor_words(row: ContentFactor) -> str:
    """Put a content factor into words.

    Parameters
    ----------
    row
        A row of table ``content_factors``.

    Returns
    -------
    str
        For example ``milk chocolate: 2.3 mg/g theobromine+caffeine``.
    """
    low, high = row.value_low, row.value_high
    printed = " to ".join(plain(value) for value in (low, high) if value is not None)
    counted = "" if row.recommended in (low, high, None) else f", counted as {plain(row.recommended or Decimal(0))}"
    return f"{row.material}: {printed} {_UNIT_WORDS.get(row.unit, row.unit)} {row.quantity}{counted}"


def counted_words(reference: Reference, hazard_id: str) -> str:
    """Name what the amounts of a hazard count.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.

    Returns
    -------
    str
        For example ``elemental iron`` or ``caffeine``.
    """
    hazard = reference.hazards[hazard_id]
    words = (hazard.moiety or hazard.name).split("=")[0].split(";")[0].split(" (")[0].strip()
    return words.replace("ELEMENTAL", "elemental").removesuffix(" mass")
