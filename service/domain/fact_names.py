"""What the name on one line of a facts panel refers to: which form, and what its number counts.

The rules are those of the field: a salt named first is the salt's mass; ``(as X)`` after an active leaves open
whether the number is the active or the salt; ``(as X)`` after a nutrient states the nutrient (source chem-s06).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from service.domain.label_text import clean, fold
from service.domain.resolving import Meaning, Resolution, resolver_for
from service.reference.records import Form
from service.reference.release import Reference

_BRACKET = re.compile(r"^(?P<head>[^()\[\]]+?)\s*[(\[](?P<inside>.+)[)\]]\s*(?P<tail>[^()\[\]]*)$", re.DOTALL)
_AS = re.compile(r"^(?:as|in the form of|supplied as|als|en forme de|sous forme de|como|en forma de)\s+", re.IGNORECASE)
_FROM = re.compile(r"^(?:from|derived from|aus|de|provenant de|procedente de)\s+", re.IGNORECASE)
_SEVERAL = re.compile(r"\s*(?:&|\band\b|\bund\b|\bet\b|\by\b|/|,|\+)\s*", re.IGNORECASE)
_BLEND = re.compile(
    r"\b(?:blend|proprietary|complex|matrix|formula|mischung|m\u00e9lange|mezcla|miscela)\b", re.IGNORECASE
)
_OPEN_FLAGS = {
    "glucosamine-unspecified": "form_not_stated",
    "glucosamine-sulfate": "stabiliser_not_stated",
    "omega-3-total": "epa_dha_not_stated",
}


@dataclass(frozen=True, slots=True)
class FactReading:
    """What a fact's name refers to. Shares are mg of moiety per labelled mg; ``None`` where unknown."""

    ingredient: str | None
    form: Form | None
    basis: str | None
    moiety: str | None
    share_low: Decimal | None
    share_high: Decimal | None
    flags: tuple[str, ...]
    hazards: tuple[Meaning, ...]
    resolution: Resolution
    members: tuple[Resolution, ...] = ()


def read_fact_name(reference: Reference, name: str) -> FactReading:
    """Read the name of one fact.

    Parameters
    ----------
    reference
        The release to answer from.
    name
        As printed, for example ``Glucosamine (as HCl)``, ``Zinc (as zinc gluconate)``, ``Glucosamine HCl``.

    Returns
    -------
    FactReading
        Ingredient, form, basis and the share of active moiety in the labelled number.
    """
    plain = re.sub(r"[*#\u2020\u2021\u00a7]+", "", clean(name)).strip()
    if _BLEND.search(plain):
        return _blend(reference, plain)
    resolver = resolver_for(reference)
    whole = resolver.resolve(plain)
    match = _BRACKET.match(plain)
    if match is None or whole.negated:
        return _plain(reference, whole)
    head = resolver.resolve(f"{match['head']} {match['tail']}".strip())
    return _bracketed(reference, whole, head, match["head"], match["inside"].strip())


def _hazards(*resolutions: Resolution) -> tuple[Meaning, ...]:
    found: dict[str, Meaning] = {}
    for resolution in resolutions:
        for meaning in resolution.meanings:
            if meaning.hazard and not meaning.negated:
                found.setdefault(meaning.hazard, meaning)
    return tuple(found.values())


def _plain(reference: Reference, resolution: Resolution, extra: tuple[str, ...] = ()) -> FactReading:
    """Read a name without brackets: a named form, an ingredient that is its own form, or a material."""
    meaning = _main_meaning(resolution)
    if meaning is None or meaning.ingredient is None:
        return FactReading(None, None, None, None, None, None, extra, _hazards(resolution), resolution)
    form = _form_of(reference, meaning)
    if form is None:
        return FactReading(
            meaning.ingredient, None, "material", None, None, None, extra, _hazards(resolution), resolution
        )
    flags = (*extra, *_form_flags(form))
    return FactReading(
        meaning.ingredient,
        form,
        _basis(reference, form),
        form.moiety,
        form.share_low,
        form.share_high,
        flags,
        _hazards(resolution),
        resolution,
    )


def _main_meaning(resolution: Resolution) -> Meaning | None:
    """Pick what a fact's number counts: the first meaning with a chemical form, else the first there is."""
    present = [meaning for meaning in resolution.meanings if not meaning.negated]
    if not present:
        return None
    same = [meaning for meaning in present if meaning.matched_name == present[0].matched_name]
    with_form = next((meaning for meaning in present if meaning.form is not None), None)
    return with_form or next((meaning for meaning in same if meaning.hazard is None), present[0])


def _form_of(reference: Reference, meaning: Meaning) -> Form | None:
    if meaning.form is not None:
        return reference.forms[meaning.form]
    default = reference.ingredients[meaning.ingredient or ""].default_form_id
    form = reference.forms[default] if default else None
    # A default that is a salt says nothing about what this label holds; only "as labelled" forms stand for themselves.
    return form if form is not None and form.kind == "as_labelled" else None


def _form_flags(form: Form) -> tuple[str, ...]:
    if form.kind == "open":
        return (_OPEN_FLAGS.get(form.id) or _open_flag(form.id),)
    if form.kind == "no_fixed_formula":
        return ("no_fixed_formula",)
    return ("assay_unknown",) if form.id == "chondroitin-sulfate" else ()


def _open_flag(form_id: str) -> str:
    if "-as-" in form_id:
        return "salt_or_base_ambiguous"
    return "hydration_not_stated" if form_id.endswith("hydration") else "form_not_stated"


def _basis(reference: Reference, form: Form) -> str:
    if form.kind == "as_labelled":
        return "element" if form.id.endswith("-element") else "as_labelled"
    if form.id in ("glucosamine-unspecified",) or "-as-" in form.id:
        return "ambiguous"
    if form.share_low == form.share_high == 1:
        return "base"
    return "salt"


def _bracketed(reference: Reference, whole: Resolution, head: Resolution, head_text: str, inside: str) -> FactReading:
    """``head (inside)``: the bracket can name a source, a salt, a Latin name, or a share."""
    if head.ingredient is None:
        return _plain(reference, whole)
    from_ = _FROM.match(inside)
    body = _FROM.sub("", _AS.sub("", inside))
    forms = _forms_inside(reference, head, head_text, body)
    hazards = _hazards(whole, head)
    if not forms:
        reading = _plain(reference, head if whole.form is None else whole)
        return FactReading(
            reading.ingredient, reading.form, reading.basis, reading.moiety, *_stated_share(reading, body),
            reading.flags, hazards, whole,
        )  # fmt: skip
    if reference.ingredients[head.ingredient].kind == "nutrient":
        return _nutrient(reference, head, forms[0], hazards, whole)
    if from_ and re.search(r"[0-9]\s*(?:mg|g|mcg)\b", body):
        # "415 mg from 500 mg HCl": the label itself states the base.
        moiety = forms[0].moiety
        return FactReading(head.ingredient, forms[0], "base", moiety, Decimal(1), Decimal(1), (), hazards, whole)
    return _ambiguous(head, forms, hazards, whole)


def _ambiguous(
    head: Resolution, forms: tuple[Form, ...], hazards: tuple[Meaning, ...], whole: Resolution
) -> FactReading:
    lows = [form.share_low for form in forms if form.share_low is not None]
    highs = [form.share_high for form in forms if form.share_high is not None]
    if not lows:
        return FactReading(
            head.ingredient, None, None, forms[0].moiety, None, None, ("no_fixed_formula",), hazards, whole
        )
    if len(forms) > 1:
        flag, high = "mixed_salts_split_unknown", max(highs)
    else:
        ester = forms[0].id.endswith(("ethyl-ester", "triglyceride"))
        flag, high = ("ester_or_acid_ambiguous" if ester else "salt_or_base_ambiguous"), Decimal(1)
    settled = min(lows) == high
    form = forms[0] if len(forms) == 1 else None
    basis = "base" if settled else "ambiguous"
    flags = () if settled else (flag,)
    return FactReading(head.ingredient, form, basis, forms[0].moiety, min(lows), high, flags, hazards, whole)


def _nutrient(
    reference: Reference, head: Resolution, form: Form, hazards: tuple[Meaning, ...], whole: Resolution
) -> FactReading:
    element = reference.ingredients[head.ingredient or ""].moiety
    basis = "element" if element and form.ingredient_id == head.ingredient and form.kind != "as_labelled" else "base"
    return FactReading(head.ingredient, form, basis, form.moiety, Decimal(1), Decimal(1), (), hazards, whole)


def _forms_inside(reference: Reference, head: Resolution, head_text: str, body: str) -> tuple[Form, ...]:
    """Forms of the head's ingredient that the bracket names, written out or as ``HCl`` after the head."""
    resolver = resolver_for(reference)
    found: dict[str, Form] = {}
    pieces = [re.sub(r"[0-9.,]+\s*(?:mg|g|mcg)\b", "", piece).strip() for piece in _SEVERAL.split(body)]
    for piece in (body, *pieces):
        for candidate in (piece, f"{head_text} {piece}", f"{head_text.split()[0]} {piece}"):
            form_id = _named_form(resolver.resolve(candidate), head.ingredient)
            form = reference.forms[form_id] if form_id else None
            if form is not None and form.id != head.form and form.kind not in ("expression", "polymer"):
                found.setdefault(form.id, form)
                break
        if piece is body and len(pieces) == 1:
            break
    return tuple(form for form in found.values() if not (form.kind == "open" and len(found) > 1))


def _named_form(resolution: Resolution, ingredient: str | None) -> str | None:
    if resolution.match != "exact" or resolution.ingredient != ingredient:
        return None
    return resolution.form


def _stated_share(reading: FactReading, body: str) -> tuple[Decimal | None, Decimal | None]:
    """``Zinc proteinate (15 % Zn)``: where no formula exists, the label's own percentage is all there is."""
    match = re.search(r"([0-9]{1,3}(?:[.,][0-9]{1,3})?)\s*%", fold(body))
    if match and reading.form is not None and reading.form.kind == "no_fixed_formula":
        share = Decimal(match[1].replace(",", ".")) / 100
        return share, share
    return reading.share_low, reading.share_high


def _blend(reference: Reference, name: str) -> FactReading:
    resolver = resolver_for(reference)
    _head, _, tail = name.partition(":")
    match = _BRACKET.match(name)
    members_text = tail or (match["inside"] if match else "")
    members = tuple(item.resolution for item in resolver.resolve_list(members_text)) if members_text else ()
    whole = resolver.resolve(name)
    hazards = _hazards(whole, *members)
    return FactReading(
        None, None, None, None, None, None, ("amount_hidden_in_blend",), hazards, whole, members
    )  # fmt: skip
