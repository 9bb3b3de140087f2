"""``/ingredients`` and ``/ingredients/{id}``: what the dataset holds, for people."""

from __future__ import annotations

from flask import Blueprint, Response, render_template

from service.domain.describing import describe_ingredient, list_ingredients
from service.pages.ingredient import present_ingredient
from service.pages.ingredient_words import KIND_WORDS
from service.schemas.ingredients import IngredientsQuerySchema
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.reading import PageQuery
from service.web.site.sources import page_sources

blueprint = Blueprint("site_ingredients", __name__)
_query = PageQuery(IngredientsQuerySchema, {"q": "Name", "kind": "Kind", "species": "Animal"})


@blueprint.get("/ingredients")
def list_pages() -> Response:
    """Answer with the ingredients that the filters leave, by kind."""
    choose(("html",))
    given = _query.read()
    release = envelope()
    values = given.values
    found = list_ingredients(release.reference, values.get("q"), values.get("kind"), values.get("species"))
    by_name = sorted(found, key=lambda item: item.name.casefold())
    groups = [(kind, heading, [item for item in by_name if item.kind == kind]) for kind, heading in KIND_WORDS.items()]
    text = render_template(
        "ingredients.html",
        texts=given.texts,
        errors=given.errors,
        kinds=KIND_WORDS,
        groups=[group for group in groups if group[2]],
        count=len(found),
    )
    return respond(text.encode(), "html", Caching.REVALIDATE)


@blueprint.get("/ingredients/<id_>")
def show_page(id_: str) -> Response:
    """Answer with everything about one ingredient."""
    choose(("html",))
    release = envelope()
    page = present_ingredient(release.reference, describe_ingredient(release.reference, id_))
    text = render_template("ingredient.html", page=page, sources=page_sources(release, page.source_ids))
    return respond(text.encode(), "html", Caching.REVALIDATE)
