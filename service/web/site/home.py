"""``/``: what this is, and an answer at once for one animal and one ingredient."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from flask import Blueprint, Response, render_template

from service.domain.common import Animal
from service.domain.dose_answer import DoseAnswer
from service.domain.dosing import DoseRequest, dose
from service.domain.errors import InvalidInput, NoGuidance
from service.domain.resolving import Resolution, resolver_for
from service.pages.daily_amount import present
from service.pages.known_instead import guided, present_known, suggestions
from service.pages.wording import EVIDENCE_MEANING, ORIGIN_MEANING
from service.reference.release import Reference
from service.schemas.dose import DoseQuerySchema
from service.web.animals import read_animal
from service.web.envelope import Envelope
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.reading import PageInput, PageQuery
from service.web.site.sources import page_sources

blueprint = Blueprint("site_home", __name__)
_LABELS = {"species": "Animal", "weight": "Body weight", "age_years": "Age", "ingredient": "Ingredient"}
_query = PageQuery(DoseQuerySchema, _LABELS)
_NEEDED = {
    "species": "Say whether it is a dog or a cat.",
    "weight": "Give the body weight with its unit, for example 34 kg or 75 lb.",
    "ingredient": "Name one ingredient, for example glucosamine.",
}


@dataclass(frozen=True, slots=True)
class _Ingredient:
    """What a reader's word for an ingredient means. ``possible``: ids and names to choose from, where none is."""

    id: str | None = None
    form: str | None = None
    error: str = ""
    possible: tuple[tuple[str, str], ...] = ()


@blueprint.get("/")
def home() -> Response:
    """Answer with the front page, and with amounts where an animal and an ingredient are given."""
    choose(("html",))
    given = _query.read()
    release = envelope()
    page: dict[str, Any] = {"possible": (), "answer": None, "known": None, "sources": {}}
    if not given.is_blank:
        given, found = _answer(release, given)
        page |= found
    text = render_template(
        "home.html",
        texts=given.texts,
        errors=given.errors,
        guided=guided(release.reference),
        origins=ORIGIN_MEANING,
        verdicts=EVIDENCE_MEANING,
        **page,
    )
    return respond(text.encode(), "html", Caching.REVALIDATE)


def _answer(release: Envelope, given: PageInput) -> tuple[PageInput, dict[str, Any]]:
    """Ask the domain; what is wrong comes back as errors of the fields."""
    errors = {name: text for name, text in _NEEDED.items() if not given.texts[name]} | dict(given.errors)
    meant = _Ingredient()
    if "ingredient" not in errors:
        meant = _meant(release.reference, given.values["ingredient"])
        errors |= {"ingredient": meant.error} if meant.error else {}
    found: dict[str, Any] = {"possible": meant.possible}
    try:
        animal = read_animal(given.values) if not errors.keys() & {"species", "weight"} else None
        if not errors and animal is not None and meant.id is not None:
            answer = _dose(release.reference, animal, meant)
            found["answer"] = present(release.reference, answer, given.texts)
            found["sources"] = page_sources(release, answer.source_ids)
    except InvalidInput as error:
        errors |= {issue.where: _query.sentence(issue.where, issue.detail) for issue in error.issues}
    except NoGuidance as error:
        errors["ingredient"] = str(error)
        found["known"] = present_known(release.reference, error)
    return replace(given, errors=errors), found


def _meant(reference: Reference, text: str) -> _Ingredient:
    if text in reference.ingredients:
        return _Ingredient(text)
    found = resolver_for(reference).resolve(text)
    if found.match == "exact" and found.ingredient is not None and not found.negated:
        return _Ingredient(found.ingredient, found.form)
    possible = _possible(reference, found) or suggestions(reference, text)
    advice = (
        "choose one of the names below, or write it as the label does" if possible else "write it as the label does"
    )
    return _Ingredient(
        error=f"This name is not known for sure: {advice}. What is not known is not thereby harmless.",
        possible=possible,
    )


def _possible(reference: Reference, found: Resolution) -> tuple[tuple[str, str], ...]:
    ids = dict.fromkeys((found.ingredient, *(miss.ingredient for miss in found.possible)))
    return tuple((id_, reference.ingredients[id_].name) for id_ in ids if id_ is not None)


def _dose(reference: Reference, animal: Animal, meant: _Ingredient) -> DoseAnswer:
    """Ask for the amount in the form that was named, or, where it cannot be stated in it, in that of the guidance."""
    request = DoseRequest(animal, meant.id or "", meant.form)
    try:
        return dose(reference, request)
    except InvalidInput as error:
        if {issue.where for issue in error.issues} != {"form"}:
            raise
        return dose(reference, replace(request, form=None))
