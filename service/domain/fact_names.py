"""What the name on one line of a facts panel refers to: which form, and what its number counts.

The rules are those of the field: a salt named first is the salt's mass; ``(as X)`` after an active leaves open
whether the number is the active or the salt; ``(as X)`` after a nutrient states the nutrient (source chem-s06).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.fact_forms import AMOUNT, SEVERAL, forms_inside, several_salts
from service.domain.label_text import clean, fold, words
from service.domain.label_wording import QUALIFIERS
from service.domain.resolving import Meaning, Resolution, Resolver, resolver_for
from service.domain.stated_content import StatedContent, stated_content
from service.reference.records import Form
from service.reference.release import Reference

_BRACKET = re.compile(r"^(?P<head>[^()\[\]]+?)\s*[(\[](?P<inside>.+)[)\]]\s*(?P<tail>[^()\[\]]*)$", re.DOTALL)
# "Zinc as zinc gluconate" says without a bracket what "zinc (as zinc gluconate)" says with it.
_SPELT_AS = re.compile(
    r"^(?P<head>[^()\[\]]{2,60}?) "
    r"(?P<inside>(?:as|als|sous forme de|en forme de|como|en forma de) [^()\[\]]+)(?P<tail>)$",
    re.IGNORECASE,
)
_AS = re.compile(r"^(?:as|in the form of|supplied as|als|en forme de|sous forme de|como|en forma de)\s+", re.IGNORECASE)
_FROM = re.compile(r"^(?:from|derived from|aus|de|provenant de|procedente de)\s+", re.IGNORECASE)
_FEED_CODE = re.compile(r"\b3a[0-9]{3}[a-z]{0,2}\b", re.IGNORECASE)
_FEED_VITAMIN = re.compile(r"\bvitamine?\b|\bvitamina\b", re.IGNORECASE)
_ADDITIVE_CODE = re.compile(r"^(?:[1-4][a-d][0-9]{1,4}[a-z]*|E ?[0-9]{1,4})[ :,]+", re.IGNORECASE)
_TOGETHER = re.compile(r"[&/+]|\b(?:and|und|et|y)\b", re.IGNORECASE)
_BLEND = re.compile(r"\b(?:blend|proprietary|mix|mixture|m\u00e9lange|mezcla|miscela|\w*mischung)\b", re.IGNORECASE)
# These words also stand in the names of single substances.
_PERHAPS_BLEND = re.compile(r"\b(?:complexe?|complejo|matrix|formula|formule|\w*komplex)\b", re.IGNORECASE)
# "Copper(II) sulfate": the Roman number belongs to the name and opens no bracket.
_OXIDATION = re.compile(r"\((i{1,3}|iv|vi?)\)", re.IGNORECASE)
# "Chondroitin sulfate 90 %": whether the printed mass is already that of the pure substance is open.
_PURITY = re.compile(r"\s+(?P<share>[0-9]{2}(?:[.,][0-9]{1,2})?)\s?%$")
_IMPURE_BY_NATURE = re.compile(r"\b(?:extra[ck]t\w*|extrait|extracto|oil|\w*\u00f6l|huile|aceite)\b", re.IGNORECASE)
# "10:1" says how much herb went in, nothing about what the extract is.
_RATIO = re.compile(r"\(?\b[0-9]{1,3}\s*:\s*[0-9]{1,3}\b\)?\s*(?=extra[ck]t)", re.IGNORECASE)
_TOTAL = "omega-3-total"
_OPEN_FLAGS = {
    "glucosamine-unspecified": "form_not_stated",
    "glucosamine-sulfate": "stabiliser_not_stated",
    _TOTAL: "epa_dha_not_stated",
}


@dataclass(frozen=True, slots=True)
class FactReading:
    """What a fact's name refers to. Shares are mg of moiety per labelled mg; ``None`` where unknown.

    ``stated_mg`` are low and high mg of moiety in the printed amount where the label itself says so: then no share is
    needed.
    """

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
    stated_mg: tuple[Decimal, Decimal] | None = None


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
    plain = _RATIO.sub("", re.sub(r"[*#\u2020\u2021\u00a7]+", "", clean(name)).strip())
    plain = _OXIDATION.sub(r" \1 ", plain)
    if (purity := _PURITY.search(plain)) is not None and not _IMPURE_BY_NATURE.search(plain):
        share = Decimal(purity["share"].replace(",", ".")) / 100
        return _with_purity(read_fact_name(reference, plain[: purity.start()]), share)
    return _of_feed(reference, _read(reference, plain), plain)


def _of_feed(reference: Reference, reading: FactReading, name: str) -> FactReading:
    """``3a700 Vitamin E``: feed labels are found both ways, mg of the additive or of the vitamin in it."""
    code, form = _FEED_CODE.search(name), reading.form
    if code is None or form is None or _FEED_VITAMIN.search(name) is None:
        return reading
    if form.kind == "open":
        # The code fixes what the name leaves open.
        form = reference.forms.get(resolver_for(reference).resolve(code[0], suggest=False).form or "", form)
    if form.kind != "defined" or form.share_low in (None, Decimal(1)):
        return reading
    flags = ("salt_or_base_ambiguous",)
    return replace(reading, form=form, basis="ambiguous", share_low=form.share_low, share_high=Decimal(1), flags=flags)


def _read(reference: Reference, plain: str) -> FactReading:
    resolver = resolver_for(reference)
    whole = resolver.resolve(plain)
    if _is_blend(reference, plain, whole):
        return _blend(reference, plain, whole)
    if members := _joined(reference, plain, whole):
        return _hidden(whole, members)
    if len(salts := several_salts(reference, plain, whole)) > 1:
        return _ambiguous(whole, salts, _hazards(whole), whole)
    match = _BRACKET.match(plain) or _SPELT_AS.match(plain)
    if match is None or whole.negated:
        return _plain(reference, whole)
    head_text = _without_code(reference, match["head"])
    head = resolver.resolve(f"{head_text} {match['tail']}".strip())
    inside = resolver.resolve(_AS.sub("", match["inside"].strip()))
    if inside.match == "exact" and inside.form and head.ingredient in _stands_for(reference, inside.ingredient):
        # "Glucosamine (as N-acetyl glucosamine)" is the other molecule, whose milligrams are not glucosamine.
        return _plain(reference, inside)
    return _bracketed(reference, whole, head, head_text, match["inside"].strip())


def _without_code(reference: Reference, head_text: str) -> str:
    """``3b103 Iron (ferrous sulfate)``: the code names the compound, the word before the bracket what is counted."""
    rest = _ADDITIVE_CODE.sub("", head_text)
    named = resolver_for(reference).resolve(rest).form if rest != head_text and rest else None
    return rest if named is not None and _is_element(reference.forms[named]) else head_text


def _with_purity(reading: FactReading, share: Decimal) -> FactReading:
    """Lower the low reading: the label may count the material, of which only a share is the substance (chem-s22)."""
    if reading.share_low is None:
        return reading
    flags = (*reading.flags, "purity_basis_ambiguous")
    return replace(reading, basis="ambiguous", share_low=reading.share_low * share, flags=flags)


def _stands_for(reference: Reference, ingredient_id: str | None) -> tuple[str, ...]:
    return reference.ingredients[ingredient_id].screened_as_ids if ingredient_id else ()


def with_stated_content(reference: Reference, reading: FactReading, text: str) -> FactReading:
    """Take over what a bracket states, where the name alone leaves the content open.

    Parameters
    ----------
    reference
        The release to answer from.
    reading
        What the fact's name refers to.
    text
        A bracket of the name or of the amount, for example ``Zn: 18 mg`` or ``EPA 300 mg, DHA 200 mg``.

    Returns
    -------
    FactReading
        With ``stated_mg``, or unchanged where the bracket states no content of this ingredient.
    """
    form = reading.form
    left_open = form is None or form.kind == "no_fixed_formula" or form.id == _TOTAL
    if reading.ingredient is None or not left_open or _FROM.match(text):
        return reading
    # "Salmon oil (EPA 90 mg, DHA 60 mg)": the oil is credited with nothing, what it states is.
    for ingredient in (reading.ingredient, *reference.ingredients[reading.ingredient].screened_as_ids):
        if (content := stated_content(reference, ingredient, text)) is not None:
            break
    else:
        return reading
    return replace(
        reading,
        ingredient=ingredient,
        form=form or content.form,
        basis="base",
        moiety=content.moiety,
        share_low=None,
        share_high=None,
        flags=("content_stated", *_flags_of(content)),
        stated_mg=(content.low_mg, content.high_mg),
    )


def _flags_of(content: StatedContent) -> tuple[str, ...]:
    if not content.is_open:
        return ()
    return (_OPEN_FLAGS[_TOTAL],) if content.form.id == _TOTAL else ("ester_or_acid_ambiguous",)


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
        flags = (*extra, *(("no_fixed_formula",) if _has_element(reference, meaning.ingredient) else ()))
        return FactReading(
            meaning.ingredient, None, "material", None, None, None, flags, _hazards(resolution), resolution
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
    # Zinc methionine or seaweed is no element: only a name that means the element itself leads to its form.
    return form if form is not None and form.kind == "as_labelled" and not _is_element(form) else None


def _is_element(form: Form) -> bool:
    return form.kind == "as_labelled" and form.id.endswith("-element")


def _has_element(reference: Reference, ingredient_id: str) -> bool:
    default = reference.ingredients[ingredient_id].default_form_id
    return default is not None and _is_element(reference.forms[default])


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
        return "element" if _is_element(form) else "as_labelled"
    if form.kind == "open" and (_leaves_all_open(form) or "-as-" in form.id) and form.share_low != form.share_high:
        return "ambiguous"
    if form.share_low == form.share_high == 1:
        return "base"
    return "salt"


def _leaves_all_open(form: Form) -> bool:
    return form.kind == "open" and form.id.endswith(("-unspecified", "-total"))


def _bracketed(reference: Reference, whole: Resolution, head: Resolution, head_text: str, inside: str) -> FactReading:
    """``head (inside)``: the bracket can name a source, a salt, a Latin name, a share or a content."""
    if head.ingredient is None:
        return _plain(reference, whole)
    explicit, from_ = _AS.match(inside) is not None, _FROM.match(inside) is not None
    body = _FROM.sub("", _AS.sub("", inside))
    hazards = _hazards(whole, head)
    meaning = _main_meaning(head)
    head_form = _form_of(reference, meaning) if meaning is not None else None
    forms = () if _is_constituent(head_form, body) else forms_inside(reference, head, head_text, body)
    nutrient = reference.ingredients[head.ingredient].kind == "nutrient"
    counted_from = from_ and AMOUNT.search(body) is not None
    if head_form is not None and not _is_generic(head_form):
        forms = tuple(form for form in forms if form.id in head_form.candidate_form_ids)
        if forms:
            return _narrowed(head_form, forms, explicit, counted_from, hazards, whole)
    elif head_form is not None and not nutrient and _holds_parts(head_form):
        # "Boswellia extract (boswellic acids)", "omega-3 (EPA)": a part of what is counted, not its form.
        forms = tuple(form for form in forms if form.moiety == head_form.moiety)
    if not from_ and AMOUNT.search(body):
        reading = with_stated_content(reference, replace(_plain(reference, head), resolution=whole), body)
        if reading.stated_mg is not None:
            return replace(reading, hazards=hazards)
    if not forms:
        reading = _plain(reference, whole if _names_more(whole, head) else head)
        shares = _stated_share(reading, body)
        return replace(reading, share_low=shares[0], share_high=shares[1], hazards=hazards, resolution=whole)
    if nutrient:
        return _nutrient(reference, head, forms[0], hazards, whole)
    if counted_from:
        # "415 mg from 500 mg HCl": the label itself states the base.
        moiety = forms[0].moiety
        return FactReading(head.ingredient, forms[0], "base", moiety, Decimal(1), Decimal(1), (), hazards, whole)
    return _ambiguous(head, forms, hazards, whole)


def _names_more(whole: Resolution, head: Resolution) -> bool:
    """Say whether a recorded name reaches into the bracket: "collagen type II (undenatured)"."""
    return whole.form is not None and len(words(whole.matched_name or "")) > len(words(head.matched_name or ""))


def _holds_parts(form: Form) -> bool:
    return (form.kind == "as_labelled" and not _is_element(form)) or form.id.endswith("-total")


def _is_constituent(head_form: Form | None, body: str) -> bool:
    """``extract (65 % boswellic acids)`` standardises; the number still counts the extract."""
    return "%" in body and head_form is not None and head_form.kind == "as_labelled" and not _is_element(head_form)


def _is_generic(form: Form) -> bool:
    """Say whether a name leaves its salt to the bracket: "glucosamine", "zinc", "EPA", but not "zinc sulfate"."""
    return form.kind == "as_labelled" or _leaves_all_open(form) or form.share_low == form.share_high == 1


def _narrowed(
    head_form: Form, forms: tuple[Form, ...], explicit: bool, counted_from: bool,
    hazards: tuple[Meaning, ...], whole: Resolution,
) -> FactReading:  # fmt: skip
    """Read a salt whose bracket says which: ``glucosamine sulfate (2KCl)``, ``zinc sulfate (monohydrate)``."""
    low = min((form.share_low for form in forms if form.share_low is not None), default=None)
    high = max((form.share_high for form in forms if form.share_high is not None), default=None)
    flags: tuple[str, ...] = ()
    if counted_from:
        # "500 mg sulfate (from 628 mg sulfate with sodium chloride)" counts the salt without its stabiliser.
        low = high = head_form.share_high
    elif explicit and high != head_form.share_high:
        high, flags = head_form.share_high, ("salt_or_base_ambiguous",)
    form = forms[0] if len(forms) == 1 else head_form
    return FactReading(head_form.ingredient_id, form, "salt", head_form.moiety, low, high, flags, hazards, whole)


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
    basis = "element" if _has_element(reference, head.ingredient or "") else "base"
    return FactReading(head.ingredient, form, basis, form.moiety, Decimal(1), Decimal(1), (), hazards, whole)


def _stated_share(reading: FactReading, body: str) -> tuple[Decimal | None, Decimal | None]:
    """``Zinc proteinate (15 % Zn)``: where no formula exists, the label's own percentage is all there is."""
    match = re.search(r"([0-9]{1,3}(?:[.,][0-9]{1,3})?)\s*%", fold(body))
    if match and reading.form is not None and reading.form.kind == "no_fixed_formula":
        share = Decimal(match[1].replace(",", ".")) / 100
        return share, share
    return reading.share_low, reading.share_high


def _is_blend(reference: Reference, name: str, whole: Resolution) -> bool:
    if _BLEND.search(name):
        return True
    if not _PERHAPS_BLEND.search(name):
        return False
    form = reference.forms.get(whole.form or "")
    # "Zinc methionine complex" is one substance; so is "glucosamine sulfate sodium chloride complex".
    one_name = whole.matched_name is not None and _PERHAPS_BLEND.search(whole.matched_name) is not None
    return not (one_name or (form is not None and form.kind == "defined"))


def _joined(reference: Reference, name: str, whole: Resolution) -> tuple[Resolution, ...]:
    """Find the members of a line that gives one number for several substances: ``Glucosamine & chondroitin``."""
    if whole.negated or (len({meaning.matched_name for meaning in whole.meanings}) < 2 and not whole.not_understood):
        return ()
    resolver = resolver_for(reference)
    outside = re.sub(r"[(\[][^()\[\]]*[)\]]", " ", name)
    pieces = [piece for piece in SEVERAL.split(outside) if set(fold(piece).split()) - QUALIFIERS]
    members = tuple(_member(resolver, pieces[0], piece) for piece in pieces)
    known = {member.ingredient for member in members} - {None}
    strange = any(member.ingredient is None for member in members) and _TOGETHER.search(outside)
    return members if len(known) > 1 or (known and strange) else ()


def _member(resolver: Resolver, first: str, piece: str) -> Resolution:
    """Resolve one of several: the "K2" of "vitamin D3 & K2" is understood after the first word of the line."""
    alone = resolver.resolve(piece)
    together = resolver.resolve(f"{first.split()[0]} {piece}") if alone.ingredient is None else alone
    return alone if together.not_understood else together


def _blend(reference: Reference, name: str, whole: Resolution) -> FactReading:
    _head, _, tail = name.partition(":")
    match = _BRACKET.match(name)
    members_text = tail or (match["inside"] if match else "")
    resolver = resolver_for(reference)
    members = tuple(item.resolution for item in resolver.resolve_list(members_text)) if members_text else ()
    return _hidden(whole, members)


def _hidden(whole: Resolution, members: tuple[Resolution, ...]) -> FactReading:
    """Several substances share one number: nothing is credited, everything is screened."""
    flags, hazards = ("amount_hidden_in_blend",), _hazards(whole, *members)
    return FactReading(None, None, None, None, None, None, flags, hazards, whole, members)
