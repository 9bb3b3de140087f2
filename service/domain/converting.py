"""Converting an amount of one chemical form to its active moiety or to another form."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from service.domain.amounts import read_amount
from service.domain.common import Caution, origin_cautions
from service.domain.errors import InvalidInput, Issue, UnknownForm
from service.domain.rounding import amount_range, significant
from service.domain.suggesting import nearest_ids
from service.reference.records import Form
from service.reference.release import Reference

_ONE = Decimal(1)


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


def convert(reference: Reference, form_id: str, amount: str, to: str | None = None) -> ConvertAnswer:
    """Convert an amount of a form.

    Parameters
    ----------
    reference
        The release to answer from.
    form_id
        The form the amount is stated in.
    amount
        As printed, for example ``500 mg`` or ``400 IU``.
    to
        A form id, or ``None`` for the active moiety.

    Returns
    -------
    ConvertAnswer
        Amounts in mg; low and high differ where the form or the print leaves it open.

    Raises
    ------
    UnknownForm
        If a form id is not known.
    InvalidInput
        If the amount cannot be read, has no mass, or the two forms hold different moieties.
    """
    form = _form(reference, form_id, "form")
    target = _form(reference, to, "to") if to is not None else None
    low, high, flags = _mass_mg(reference, form, amount)
    from_low, from_high = _shares(form, "form")
    to_low, to_high = _shares(target, "to") if target else (_ONE, _ONE)
    if target is not None and target.moiety != form.moiety:
        same = [row.id for row in reference.forms_of.get(form.ingredient_id, ()) if row.moiety == form.moiety]
        detail = (
            f"{target.id} holds {target.moiety}, {form.id} holds {form.moiety}: one cannot be converted to the other"
        )
        raise InvalidInput(Issue("to", f"{detail}; use one of: {', '.join(same)}"))
    share_low, share_high = from_low / to_high, from_high / to_low
    if target is not None and target.id == form.id:
        share_low = share_high = _ONE
    amount_low, amount_high = amount_range(low, high)
    done_low, done_high = amount_range(low * share_low, high * share_high)
    open_ = share_low != share_high or low != high
    return ConvertAnswer(
        form=form.id,
        to=target.id if target else form.moiety,
        amount_mg=amount_low if low == high else None,
        amount_low_mg=amount_low,
        amount_high_mg=amount_high,
        converted_mg=None if open_ else done_low,
        converted_low_mg=done_low,
        converted_high_mg=done_high,
        share=significant(share_low) if share_low == share_high else None,
        share_low=significant(share_low),
        share_high=significant(share_high),
        how=_how(form, target),
        formula=form.formula,
        molar_mass_g_per_mol=form.molar_mass_g_per_mol,
        moiety=form.moiety,
        moiety_formula=form.moiety_formula,
        moieties_per_formula=form.moieties_per_formula,
        flags=(*flags, *(("form_open",) if form.kind == "open" or (target and target.kind == "open") else ())),
        cautions=_cautions(form, target),
        source_ids=tuple(dict.fromkeys((*form.source_ids, *(target.source_ids if target else ())))),
    )


def _form(reference: Reference, form_id: str, where: str) -> Form:
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


def _mass_mg(reference: Reference, form: Form, amount: str) -> tuple[Decimal, Decimal, tuple[str, ...]]:
    read = read_amount(reference, amount, "amount")
    if read.unit.dimension == "mass":
        return _positive(read.low * read.unit.factor), read.high * read.unit.factor, read.flags
    if read.unit.dimension != "iu":
        raise InvalidInput(Issue("amount", f"{amount!r} is not a mass; use mg, g, mcg or IU"))
    if form.iu_per_mg_low is None or form.iu_per_mg_high is None:
        raise InvalidInput(Issue("amount", f"no IU is defined for {form.name}; give the amount in mg, g or mcg"))
    flags = (
        read.flags if form.iu_per_mg_low == form.iu_per_mg_high else (*read.flags, "natural_or_synthetic_not_stated")
    )
    return _positive(read.low / form.iu_per_mg_high), read.high / form.iu_per_mg_low, flags


def _positive(value: Decimal) -> Decimal:
    if value <= 0:
        raise InvalidInput(Issue("amount", "must be greater than zero"))
    return value


def _how(form: Form, target: Form | None) -> str:
    def one(row: Form) -> str:
        if row.kind == "open":
            share = f"between {row.share_low} and {row.share_high} of its mass"
            return f"{row.name}: the form is open, {share} is {row.moiety}"
        if row.moieties_per_formula is None or row.molar_mass_g_per_mol is None:
            return f"{row.name}: counted as labelled, share {row.share_low}"
        return (
            f"{row.name}: {row.moieties_per_formula} x {row.moiety_molar_mass_g_per_mol} ({row.moiety_formula}) / "
            f"{row.molar_mass_g_per_mol} ({row.formula}) = {row.share_low}"
        )

    return one(form) if target is None else f"{one(form)}; divided by {one(target)}"


def _cautions(form: Form, target: Form | None) -> tuple[Caution, ...]:
    found = list(origin_cautions({form.origin, *({target.origin} if target else ())}))
    notes = dict.fromkeys(row.note for row in (form, target) if row is not None and row.note)
    found += [Caution("form_note", "info", note) for note in notes]
    if target is not None and target.id != form.id:
        text = "Equal milligrams of moiety do not mean equal effect."
        found.append(Caution("arithmetic_only", "info", text))
    return tuple(found)
