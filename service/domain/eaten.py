"""How much was eaten: an amount in plain words to mg of the material and, where its formula is known, of its moiety."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.amounts import LabelAmount, read_amount
from service.domain.content_factors import density_of
from service.domain.errors import InvalidInput, Issue
from service.domain.label_mass import mass_reading
from service.domain.products import Product
from service.domain.screening_answers import plain
from service.domain.screening_tiers import kind_for
from service.domain.substances import Substance
from service.reference.records import ContentFactor
from service.reference.release import Reference

_WHERE = "amount"
# What is asked is no label: its decimal mark is a dot, as in a weight.
_DOT_IS_DECIMAL = "en"
_MG_PER_G = Decimal(1000)
_ONE_UNIT = Product(id="eaten", serving_units=Decimal(1))
_MASS_FIRST = "give its mass, for example '4 g', '2 oz' or '600 mg'"
_MILD_KINDS = frozenset({"benign", "nuisance"})
# "1.500 mg" is one and a half milligrams in English and fifteen hundred elsewhere.
_MAY_BE_THOUSANDS = re.compile(
    r"(?<![0-9.,])([1-9][0-9]{0,2})\.([0-9]{3})(?=\s?(?:mg|mcg|\u00b5g|\u03bcg|ug|iu|ie|ui)\b)", re.IGNORECASE
)
_PIECES = ("g", "mg", "count/oz", "g/mL")


@dataclass(frozen=True, slots=True)
class Eaten:
    """mg of the material as named, ``None`` for units of activity; mg of its moiety, ``None`` without a formula."""

    low_mg: Decimal | None
    high_mg: Decimal | None
    moiety_low_mg: Decimal | None
    moiety_high_mg: Decimal | None
    flags: tuple[str, ...]
    density: ContentFactor | None = None


def read_eaten(reference: Reference, substance: Substance, text: str, species: str) -> Eaten:
    """Read an amount that was eaten once.

    Parameters
    ----------
    reference
        The release to answer from.
    substance
        What was eaten.
    text
        For example ``4 g``, ``2-3 oz``, ``400 IU``, ``less than 500 mg``; ``30 ml`` where a density is recorded.
    species
        ``dog`` or ``cat``, for what an error must say.

    Returns
    -------
    Eaten
        Low and high reading; an amount that is only bounded above begins at zero.

    Raises
    ------
    InvalidInput
        If the amount cannot be read, is a count, or has no upper end. The error says how to state it instead, and
        for a substance of which no amount is known to be harmless that this is no reason to wait.
    """
    try:
        found = _read(reference, substance, text, species)
        if not _MAY_BE_THOUSANDS.search(text):
            return found
        high = _read(reference, substance, _MAY_BE_THOUSANDS.sub(r"\g<1>\g<2>", text), species)
        return _between(found, high)
    except InvalidInput as error:
        detail = f"{error.issues[0].detail}{_pieces(reference, substance)}{_do_not_wait(substance, species)}"
        raise InvalidInput(Issue(_WHERE, detail)) from None


def _read(reference: Reference, substance: Substance, text: str, species: str) -> Eaten:
    amount = read_amount(reference, text, _WHERE, _DOT_IS_DECIMAL)
    return _mass(reference, substance, amount, text, species)


def _between(low: Eaten, high: Eaten) -> Eaten:
    """Take the low end of one reading and the high end of the other."""
    return replace(high, low_mg=low.low_mg, moiety_low_mg=low.moiety_low_mg, flags=(*high.flags, "separator_ambiguous"))


def _mass(reference: Reference, substance: Substance, amount: LabelAmount, text: str, species: str) -> Eaten:
    dimension = amount.unit.dimension
    if amount.bound == "min":
        raise _refused(f"{text!r} says only how much it is at least; give the most that can have been eaten")
    if dimension == "count" or amount.per_units is not None or "read_as_per_serving" in amount.flags:
        raise _refused(f"{text!r} counts pieces; {_MASS_FIRST}: the number of pieces times the mass of one")
    if dimension == "volume":
        return _from_volume(reference, substance, amount, text, species)
    low_factor = Decimal(0) if amount.bound else Decimal(1)
    mass = mass_reading(reference, substance.text, substance.reading, amount, _ONE_UNIT)
    if mass.mg_high is None and mass.moiety_high_mg is None:
        raise _refused(f"{text!r} cannot be turned into a mass of {substance.text[:80]!r}; {_MASS_FIRST}")
    return Eaten(
        _times(mass.mg_low, low_factor),
        mass.mg_high,
        _times(mass.moiety_low_mg, low_factor),
        mass.moiety_high_mg,
        amount.flags,
    )


def _times(value: Decimal | None, factor: Decimal) -> Decimal | None:
    return None if value is None else value * factor


def _from_volume(reference: Reference, substance: Substance, amount: LabelAmount, text: str, species: str) -> Eaten:
    density = next((row for hazard in substance.hazards if (row := density_of(reference, hazard.id))), None)
    if density is None and _is_never_harmless(substance, species):
        # However much it was, the answer is the same.
        return Eaten(None, None, None, None, (*amount.flags, "mass_not_known"))
    if density is None or density.recommended is None:
        raise _refused(f"{text!r} is a volume and no density is recorded for {substance.text[:80]!r}; {_MASS_FIRST}")
    factor = amount.unit.factor * density.recommended * _MG_PER_G
    low = Decimal(0) if amount.bound else amount.low * factor
    return Eaten(low, amount.high * factor, None, None, amount.flags, density)


def _refused(detail: str) -> InvalidInput:
    return InvalidInput(Issue(_WHERE, detail))


def _pieces(reference: Reference, substance: Substance) -> str:
    """Tell what is recorded on the mass of a piece or of a millilitre, for whoever has counted or measured."""
    rows = (row for hazard in substance.hazards for row in reference.content_factors_of.get(hazard.id, ()))
    told = [_told(row) for row in rows if row.unit in _PIECES and row.value_low is not None]
    return f". Recorded: {'; '.join(told)}" if told else ""


def _told(row: ContentFactor) -> str:
    ends = [plain(value) for value in (row.value_low, row.value_high) if value is not None]
    return f"{row.material}, {row.quantity}: {' to '.join(ends)} {row.unit.replace('count/', 'per ')}"


def _is_never_harmless(substance: Substance, species: str) -> bool:
    return any(kind_for(hazard, species) == "toxic_any_amount" for hazard in substance.hazards)


def _do_not_wait(substance: Substance, species: str) -> str:
    now = "contact a veterinarian or an animal poison line now, without waiting for an answer from here"
    if _is_never_harmless(substance, species):
        return f". No amount of it is known to be harmless for a {species}: {now}"
    if any(kind_for(hazard, species) not in _MILD_KINDS for hazard in substance.hazards):
        return f". It can harm a {species}: if it was eaten, {now}"
    return ""
