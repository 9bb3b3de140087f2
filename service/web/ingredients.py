"""``GET /v1/ingredients`` and ``/v1/ingredients/{id}``."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.common import NOTICE
from service.domain.describing import IngredientItem, describe_ingredient, list_ingredients
from service.schemas.animal import PinnedQuerySchema
from service.schemas.ingredients import IngredientAnswerSchema, IngredientsAnswerSchema, IngredientsQuerySchema
from service.web.negotiation import ANY_ENDING, JSON_ONLY, TABULAR, choose
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope
from service.web.table_pages import Layout
from service.web.tables import Table, respond_with_table
from service.web.wire import field_names, to_wire

blueprint = Blueprint("ingredients", __name__)
_list_query = QueryReader(IngredientsQuerySchema)
_one_query = QueryReader(PinnedQuerySchema)

# What a reader looks for in a list; the moiety stands with the forms of each ingredient.
_LAYOUT = Layout(
    (
        ("id", lambda row: row["id"]),
        ("name", lambda row: row["name"]),
        ("kind", lambda row: row["kind"]),
        ("default form", lambda row: row["default_form"]),
        ("amounts for dogs", lambda row: row["has_guidance_dog"]),
        ("amounts for cats", lambda row: row["has_guidance_cat"]),
        ("evidence", lambda row: row["evidence_verdict"]),
        ("spellings", lambda row: row["names_count"]),
    )
)


@blueprint.get("/v1/ingredients")
@blueprint.get(f"/v1/ingredients.<{ANY_ENDING}:ending>")
def get_ingredients(ending: str | None = None) -> Response:
    """Answer with the ingredient list."""
    form = choose(TABULAR, ending)
    values = _list_query.read()
    release = envelope(values["dataset"])
    items = to_wire(list_ingredients(release.reference, values["q"], values["kind"], values["species"]))
    caching = pinned(values["dataset"])
    members = {"items": items, "count": len(items), "dataset": release.dataset, "notice": NOTICE}
    if form == "json":
        return respond(release.plain_json(members, IngredientsAnswerSchema), form, caching, negotiated=ending is None)
    table = Table("Ingredients", field_names(IngredientItem), items, members, page=_LAYOUT.page(items))
    return respond_with_table(table, form, caching)


@blueprint.get("/v1/ingredients/<id_>")
def get_ingredient(id_: str) -> Response:
    """Answer with everything the dataset holds about one ingredient."""
    choose(JSON_ONLY)
    version = _one_query.read()["dataset"]
    release = envelope(version)
    answer = describe_ingredient(release.reference, id_)
    return respond(release.json(answer, IngredientAnswerSchema), "json", pinned(version))
