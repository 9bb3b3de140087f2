"""How much of what a hazard's thresholds count is in a material: salts, plants, dried plants, spirits.

The high reading is the factor that the dataset recommends, or more where the name says so; the low one is the lowest
figure found for the same material. Safety is judged on the high reading.
"""

from __future__ import annotations

import re
from decimal import Decimal

from service.domain.cocoa_kinds import COCOA, cocoa_content
from service.domain.content_factors import WHOLE, Content, high_share, of_rows, strength_of, usable_factors
from service.domain.label_text import fold, words
from service.domain.stated_parts import stated_parts
from service.domain.stated_strength import stated_share
from service.reference.records import ContentFactor, Hazard
from service.reference.release import Reference

_FRESH = re.compile(r"\b(?:fresh|frisch\w*|frais|fraiche|fresco|fresca|raw|roh\w*|crudo|cruda)\b")
_DRIED = re.compile(
    r"powder|pulver|poudre|polvo|polvere|granul|flake|dried|dehydrat|deshydrat|deshidrat|getrockn|\bsec\b|\bseco\b|salt"
)
# The only drying ratio at hand is that of onion; garlic is taken to dry no less.
_DRYING_RATIO_OF = "allium"
# Drinks state their strength; without one the usual one of their kind counts, else the pure substance.
_STATED_BY_STRENGTH = frozenset({"ethanol"})
_FRACTION = "fraction"
# What the plants that hold stimulants are judged by; a share of the plant itself ("70 % cocoa") is none of these.
_COUNTED_ALONE = ("caffeine", "theobromine")


def own_content(
    reference: Reference, hazard: Hazard, ingredient: str, name: str, species: str, *, dried_unless_said: bool
) -> Content:
    """Give the share of a hazard's own substance in a material whose chemical form is not known.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        A row of table ``hazards``.
    ingredient
        What the amount is of: the hazard's own ingredient, or another that holds it (kelp, sodium).
    name
        As printed.
    species
        ``dog`` or ``cat``.
    dried_unless_said
        Whether a plant is taken to be dried where the name does not say: so on labels, not in a kitchen.

    Returns
    -------
    Content
        ``UNKNOWN`` where no row tells.
    """
    factors = usable_factors(reference, hazard.id)
    if ingredient != hazard.ingredient_id:
        if (stated := _stated(reference, name, hazard.id)) is not None:
            return stated
        # Wine is grape and alcohol.
        if hazard.id in _STATED_BY_STRENGTH and strength_of(reference, hazard.id, words(name)) is not None:
            return _of_strength(reference, name, hazard)
        return of_rows(reference, [row for row in factors if ingredient in fold(row.material).split()])
    counted = counted_compound(reference, hazard)
    if counted is not None:
        return _as_counted_compound(counted, factors, name)
    named = [row for row in factors if set(words(row.material)) <= set(words(name))]
    if _counts_an_element(reference, hazard):
        return of_rows(reference, named)
    if part := [row for row in named if row.quantity == _moiety_of(hazard) and row.unit == _FRACTION]:
        return of_rows(reference, part)
    if hazard.id in _STATED_BY_STRENGTH:
        return _of_strength(reference, name, hazard)
    folded = fold(name)
    is_dried = _FRESH.search(folded) is None if dried_unless_said else _DRIED.search(folded) is not None
    return drying_content(reference, hazard.id, species) if is_dried else WHOLE


def _stated(reference: Reference, name: str, *hazard_ids: str) -> Content | None:
    """Give the share that a name states of substances, where it states any of them."""
    parts = stated_parts(reference, name)
    shares = [parts[id_] for id_ in hazard_ids if id_ in parts]
    return Content(sum(shares, Decimal(0)), sum(shares, Decimal(0)), stated=True) if shares else None


def converted_content(reference: Reference, hazard: Hazard, name: str) -> Content:
    """Give the share of the substance whose tiers a material is judged by: caffeine of a plant, both of cocoa.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        The material: cocoa, guarana, tea, ...
    name
        As printed; ``dark chocolate 70 %`` tells kind and share of cocoa.

    Returns
    -------
    Content
        By the material that the name says, else by the strongest; ``UNKNOWN`` where no row tells.
    """
    stated = _stated(reference, name, *_COUNTED_ALONE)
    if stated is not None and stated.high <= 1:
        return stated
    if hazard.id == COCOA:
        return cocoa_content(reference, name)
    factors = usable_factors(reference, hazard.id)
    named = [row for row in factors if fold(row.material) in fold(name)]
    return of_rows(reference, named or factors, kind_named=bool(named) or len(factors) == 1)


def counted_compound(reference: Reference, hazard: Hazard) -> ContentFactor | None:
    """Find the compound that a hazard's amounts are stated in: sodium fluoride for fluoride, boric acid for boron.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard
        A row of table ``hazards``.

    Returns
    -------
    ContentFactor or None
        The share of the ion or element in that compound; ``None`` for a hazard that counts itself.
    """
    moiety = _moiety_of(hazard)
    factors = usable_factors(reference, hazard.id)
    return next((row for row in factors if row.material == moiety and row.unit == _FRACTION), None)


def drying_content(reference: Reference, hazard_id: str, species: str) -> Content:
    """Give mg of fresh plant per mg of dried, one for a hazard whose tiers are not stated in fresh plant.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    Content
        The recorded drying ratio.
    """
    tiers = reference.thresholds_of.get((hazard_id, species), ())
    if not any(row.mg_per_kg_low is not None and "fresh" in (row.moiety or "") for row in tiers):
        return WHOLE
    rows = [row for row in usable_factors(reference, _DRYING_RATIO_OF) if row.quantity.startswith("fresh")]
    return of_rows(reference, rows) if rows else WHOLE


def fresh_per_dried(reference: Reference, hazard_id: str, species: str) -> Decimal:
    """Give the largest recorded mg of fresh plant per mg of dried, 1 where tiers are not stated in fresh plant.

    Parameters
    ----------
    reference
        The release to answer from.
    hazard_id
        Id of a hazard.
    species
        ``dog`` or ``cat``.

    Returns
    -------
    Decimal
        mg per mg.
    """
    return drying_content(reference, hazard_id, species).high


def _moiety_of(hazard: Hazard) -> str:
    return re.split(r"[;(]", hazard.moiety or "")[0].strip()


def _counts_an_element(reference: Reference, hazard: Hazard) -> bool:
    default = reference.ingredients[hazard.ingredient_id].default_form_id
    return default is not None and default.endswith("-element")


def _as_counted_compound(counted: ContentFactor, factors: list[ContentFactor], name: str) -> Content:
    """``Fluoride`` may be the ion or its salt; ``borax`` is counted as the boric acid that holds as much boron."""
    folded = fold(name)
    if fold(counted.material) in folded:
        return Content(Decimal(1), Decimal(1), (counted,))
    named = next((row for row in factors if words(row.material)[0] in words(name)), None)
    if named is not None:
        share = high_share(named) / high_share(counted)
        return Content(share, share, (counted, named))
    return Content(Decimal(1), 1 / high_share(counted), (counted,), kind_named=False)


def _of_strength(reference: Reference, name: str, hazard: Hazard) -> Content:
    share = stated_share(name)
    if share is not None:
        return Content(share, share)
    if (usual := strength_of(reference, hazard.id, words(name))) is not None:
        return usual
    return Content(Decimal(1), Decimal(1), kind_named=fold(name).strip() in (hazard.id, fold(hazard.name)))
