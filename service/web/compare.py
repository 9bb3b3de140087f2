"""``POST /v1/compare``."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response

from service.domain.comparing import CompareRequest, Target, compare
from service.schemas.animal import PinnedQuerySchema
from service.schemas.compare import CompareAnswerSchema, CompareBodySchema
from service.web import body
from service.web.animals import read_animal
from service.web.negotiation import ANY_ENDING, TABULAR, choose
from service.web.products import read_products
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.tables import Table, respond_with_table, table_of

blueprint = Blueprint("compare", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = CompareBodySchema()


@blueprint.post("/v1/compare")
@blueprint.post(f"/v1/compare.<{ANY_ENDING}:ending>")
def compare_products(ending: str | None = None) -> Response:
    """Answer with several products ranked for one animal."""
    form = choose(TABULAR, ending)
    release = envelope(_query.read()["dataset"])
    values = body.read(_body)
    wanted = CompareRequest(
        animal=read_animal(values["animal"], "animal/"),
        targets=tuple(Target(**target) for target in values["targets"]),
        products=read_products(values["products"], "products", "p"),
        aim=values["aim"],
        rank_by=values["rank_by"],
    )
    answer = compare(release.reference, wanted)
    if form == "json":
        return respond(release.json(answer, CompareAnswerSchema), form, Caching.NEVER, negotiated=ending is None)
    return respond_with_table(_table(release.members(answer)), form, Caching.NEVER)


def _table(members: dict[str, Any]) -> Table:
    after = {
        "caution_codes": [caution["code"] for caution in members["cautions"]],
        "dataset_version": members["dataset"]["version"],
        "notice": members["notice"],
    }
    rows = [{**row, **after} for row in members["rows"]]
    title = f"Products for a {members['species']} of {members['weight_kg']} kg"
    return table_of(title, rows, members, "Best first. A product with an objection is listed last, with the reason.")
