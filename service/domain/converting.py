"""Converting an amount of one chemical form to its active moiety or to another form."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.amounts import read_amount
from service.domain.common import Caution, origin_cautions
from service.domain.errors import InvalidInput, Issue, UnknownForm
from service.domain.international_units import UnitMass, mass_of_units
from service.domain.rounding import amount_range, significant
from service.domain.suggesting import nearest_ids
from service.reference.records import Form
from service.reference.release import Reference

_ONE = Decimal(1)
_ZERO = Decimal(0)
# A label that says "at most" promises nothing below it.
_UPPER_BOUNDS = {"max": "at_most", "less_than": "less_than"}


@dataclass(frozen=True, slots=True)
class ConvertAnswer:
    """A converted amount in mg; field names are the wire names of ``GET /v1/convert``."""

    form: str
    to: str
    amount_mg: Decimal | None
    amount_low_mg: Decimal
    amount_high_mg: Decimal
    converted_mg: Decimal | None
    converted_low_mg: Decimal
    converted_high_mg: Decimal
    share: Decimal | None
    share_low: Decimal
    share_high: Decimal
    how: str
    formula: str | None
    molar_mass_g_per_mol: Decimal | None
    moiety: str
    moiety_formula: str | None
    moieties_per_formula: int | None
    flags: tuple[str, ...]
    cautions: tuple[Caution, ...]
    source_ids: tuple[str, ...]


def convert(
    reference: Reference, form_id: str, amount: str, to: str | None = None, locale: str | None = None
) -> ConvertAnswer:
    """Convert an amount of a form.

    Parameters
    ----------
    reference, form_id
        The release to answer from, and the form the amount is stated in.
    amount
        As printed, for example ``500 mg``, ``400 IU`` or ``< 500 mg`` (read as nothing up to 500 mg).
    to
        A form id; ``None``, the name of the active moiety or the id of the ingredient mean the moiety.
    locale
        ``en`` where the amount is no print but a number: its dot is the decimal mark.

    Returns
    -------
    ConvertAnswer
        Amounts in mg; low and high differ where the form or the print leaves it open.

    Raises
    ------
    UnknownForm
        If a form id is not known.
    InvalidInput
        If the amount cannot be read, has no mass or no upper end, or the two forms hold different moieties.
    """
    form = _form(reference, form_id)
    target = None if to is None or _is_moiety(reference, form, to) else _form(reference, to)
    read = _amount(reference, form, amount, locale)
    (share_low, share_high), done = _shares_and_amounts(reference, form, target, read)
    amount_low, amount_high = amount_range(read.low_mg, read.high_mg)
    how = _how(form, target)
    done_low, done_high = amount_range(*done)
    open_ = share_low != share_high or done[0] != done[1]
    return ConvertAnswer(
        form=form.id,
        to=target.id if target else form.moiety,
        amount_mg=amount_low if read.low_mg == read.high_mg else None,
        amount_low_mg=amount_low,
        amount_high_mg=amount_high,
        converted_mg=None if open_ else done_low,
        converted_low_mg=done_low,
        converted_high_mg=done_high,
        share=significant(share_low) if share_low == share_high else None,
        share_low=significant(share_low),
        share_high=significant(share_high),
        how=f"{read.how}. {how}" if read.how else how,
        formula=form.formula,
        molar_mass_g_per_mol=form.molar_mass_g_per_mol,
        moiety=form.moiety,
        moiety_formula=form.moiety_formula,
        moieties_per_formula=form.moieties_per_formula,
        flags=(*read.flags, *_form_flags(form, target)),
        cautions=_cautions(form, target),
        source_ids=tuple(dict.fromkeys((*form.source_ids, *(target.source_ids if target else ()), *read.source_ids))),
    )


def _shares_and_amounts(
    reference: Reference, form: Form, target: Form | None, read: UnitMass
) -> tuple[tuple[Decimal, Decimal], tuple[Decimal, Decimal]]:
    """Give the lowest and highest share of the target in the form, and the amounts of the target in mg."""
    if target is not None and target.id == form.id:
        return (_ONE, _ONE), (read.low_mg, read.high_mg)
    from_low, from_high = _shares(form, "form")
    to_low, to_high = _target_shares(reference, form, target)
    return (from_low / to_high, from_high / to_low), (read.moiety_low_mg / to_high, read.moiety_high_mg / to_low)


def _target_shares(reference: Reference, form: Form, target: Form | None) -> tuple[Decimal, Decimal]:
    if target is None:
        return _ONE, _ONE
    shares = _shares(target, "to")
    _check_same_moiety(reference, form, target)
    return shares


def _form_flags(form: Form, target: Form | None) -> tuple[str, ...]:
    is_open = form.kind == "open" or (target is not None and target.kind == "open")
    return ("form_open",) if is_open else ()


def _check_same_moiety(reference: Reference, form: Form, target: Form) -> None:
    if target.moiety == form.moiety:
        return
    same = [row.id for row in reference.forms_of.get(form.ingredient_id, ()) if row.moiety == form.moiety]
    detail = f"{target.id} holds {target.moiety}, {form.id} holds {form.moiety}: one cannot be converted to the other"
    raise InvalidInput(Issue("to", f"{detail}; use one of: {', '.join(same)}"))


def _is_moiety(reference: Reference, form: Form, to: str) -> bool:
    """Say whether a target that is no form names what the answer gives by default."""
    return to not in reference.forms and to.strip().casefold() in (form.moiety.casefold(), form.ingredient_id)


def _form(reference: Reference, form_id: str) -> Form:
    form = reference.forms.get(form_id)
    if form is None:
        raise UnknownForm(form_id, nearest_ids(form_id, reference.forms))
    return form


def _shares(form: Form, where: str) -> tuple[Decimal, Decimal]:
    if form.share_low is None or form.share_high is None:
        raise InvalidInput(
            Issue(where, f"{form.name} has no fixed formula; only the label's own percentage can be used")
        )
    if not form.share_low:
        raise InvalidInput(Issue(where, f"{form.name} does not say how much of it is {form.moiety}"))
    return form.share_low, form.share_high


def _amount(reference: Reference, form: Form, text: str, locale: str | None) -> UnitMass:
    """Read the amount as mg of the form and of its moiety."""
    read = read_amount(reference, text, "amount", locale)
    if read.bound == "min":
        detail = f"{text!r} says only how much it is at least; how much it can be is open, so it cannot be converted"
        raise InvalidInput(Issue("amount", f"{detail}; give the amount itself, for example '500 mg'"))
    flags = (*read.flags, *((_UPPER_BOUNDS[read.bound],) if read.bound else ()))
    if read.low <= 0:
        raise InvalidInput(Issue("amount", "must be greater than zero"))
    low = _ZERO if read.bound else read.low
    if read.unit.dimension == "mass":
        factor = read.unit.factor
        share_low, share_high = _shares(form, "form")
        low, high = low * factor, read.high * factor
        return UnitMass(low, high, low * share_low, high * share_high, flags, "", ())
    if read.unit.dimension != "iu":
        raise InvalidInput(Issue("amount", f"{text!r} is not a mass; use mg, g, mcg or IU"))
    found = mass_of_units(reference, form, low, read.high)
    if found is None:
        raise InvalidInput(Issue("amount", f"no IU is defined for {form.name}; give the amount in mg, g or mcg"))
    return replace(found, flags=(*flags, *found.flags))


def _how(form: Form, target: Form | None) -> str:
    def _one(row: Form) -> str:
        if row.kind == "open":
            share = f"between {row.share_low} and {row.share_high} of its mass"
            return f"{row.name}: the form is open, {share} is {row.moiety}"
        if row.moieties_per_formula is None or row.molar_mass_g_per_mol is None:
            return f"{row.name}: counted as labelled, share {row.share_low}"
        return (
            f"{row.name}: {row.moieties_per_formula} x {row.moiety_molar_mass_g_per_mol} ({row.moiety_formula}) / "
            f"{row.molar_mass_g_per_mol} ({row.formula}) = {row.share_low}"
        )

    return _one(form) if target is None else f"{_one(form)}; divided by {_one(target)}"


def _cautions(form: Form, target: Form | None) -> tuple[Caution, ...]:
    found = list(origin_cautions({form.origin, *({target.origin} if target else ())}))
    notes = dict.fromkeys(row.note for row in (form, target) if row is not None and row.note)
    found += [Caution("form_note", "info", note) for note in notes]
    if target is not None and target.id != form.id:
        text = "Equal milligrams of moiety do not mean equal effect."
        found.append(Caution("arithmetic_only", "info", text))
    return tuple(found)
