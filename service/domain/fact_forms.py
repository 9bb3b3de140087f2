"""Which salts and other forms the name of one fact mentions: in its bracket, or joined outside of it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from service.domain.resolving import Resolution, resolver_for
from service.reference.records import Form
from service.reference.release import Reference

SEVERAL = re.compile(r"\s*(?:&|\b(?:and|und|et|y|or|oder|ou)\b|/|,|\+)\s*", re.IGNORECASE)
_NO_SALTS = frozenset(("as_labelled", "open"))
AMOUNT = re.compile(r"[0-9][0-9.,' ]*\s*(?:mg|mcg|\u00b5g|\u03bcg|g)\b", re.IGNORECASE)


def several_salts(reference: Reference, name: str, whole: Resolution) -> tuple[Form, ...]:
    """Find the salts that share one number outside of brackets: ``Glucosamine HCl + sulfate 2KCl``.

    Parameters
    ----------
    reference
        The release to answer from.
    name
        The name as printed.
    whole
        What it means as a whole.

    Returns
    -------
    tuple of Form
        Fewer than two where the name has one salt.
    """
    outside = re.sub(r"[(\[][^()\[\]]*[)\]]", " ", name)
    pieces = [piece for piece in SEVERAL.split(outside) if any(char.isalpha() for char in piece)]
    if whole.ingredient is None or whole.negated or len(pieces) < 2:
        return ()
    resolver, first_word = resolver_for(reference), pieces[0].split()[0]
    bare = _named_form(resolver.resolve(first_word), whole.ingredient)
    found: dict[str, Form] = {}
    for piece in pieces:
        for candidate in (piece, f"{first_word} {piece}"):
            form_id = _named_form(resolver.resolve(candidate, suggest=False), whole.ingredient)
            if form_id is not None and form_id != bare and reference.forms[form_id].kind not in _NO_SALTS:
                found.setdefault(form_id, reference.forms[form_id])
                break
    return tuple(found.values())


def forms_inside(reference: Reference, head: Resolution, head_text: str, body: str) -> tuple[Form, ...]:
    """Find forms of the head's ingredient that the bracket names, written out or as ``HCl`` after the head.

    Parameters
    ----------
    reference
        The release to answer from.
    head, head_text
        What stands before the bracket, resolved and as printed.
    body
        What stands inside.

    Returns
    -------
    tuple of Form
        Several where the bracket joins several: ``HCl, sulfate``.
    """
    whole_body = AMOUNT.sub("", body).strip()
    pieces = [piece for piece in SEVERAL.split(whole_body) if any(char.isalpha() for char in piece)]
    whole = _forms_of(reference, head, head_text, [whole_body])
    several = _forms_of(reference, head, head_text, pieces)
    if len(several) > 1 and (not whole or whole.keys() < several.keys()):
        # "HCl, sulfate" means both; "EPA + DHA" as a whole has a form of its own.
        return tuple(several.values())
    return tuple((whole or several).values())


def _forms_of(reference: Reference, head: Resolution, head_text: str, texts: Iterable[str]) -> dict[str, Form]:
    bare = _named_form(resolver_for(reference).resolve(head_text.split()[0]), head.ingredient)
    found = (_form_inside(reference, head, head_text, text) for text in texts)
    return {one.id: one for one in found if one is not None and one.id not in (head.form, bare)}


def _form_inside(reference: Reference, head: Resolution, head_text: str, piece: str) -> Form | None:
    resolver, first_word = resolver_for(reference), head_text.split()[0]
    for candidate in (
        piece, f"{head_text} {piece}", f"{first_word} {piece}", f"{first_word}{piece}", f"{piece} de {head_text}"
    ):  # fmt: skip
        form_id = _named_form(resolver.resolve(candidate, suggest=False), head.ingredient)
        form = reference.forms[form_id] if form_id else None
        if form is not None and form.id != head.form and form.kind not in ("expression", "polymer"):
            return form
    return None


def _named_form(resolution: Resolution, ingredient: str | None) -> str | None:
    if resolution.match != "exact" or resolution.ingredient != ingredient:
        return None
    return resolution.form
