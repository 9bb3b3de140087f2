"""``POST /v1/normalise``."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.normalising import normalise
from service.schemas.animal import PinnedQuerySchema
from service.schemas.normalise import NormaliseAnswerSchema, NormaliseBodySchema
from service.web import body
from service.web.negotiation import JSON_ONLY, choose
from service.web.products import read_product
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("normalise", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = NormaliseBodySchema()


@blueprint.post("/v1/normalise")
def normalise_product() -> Response:
    """Answer with a product's amounts per unit and costs per milligram."""
    choose(JSON_ONLY)
    release = envelope(_query.read()["dataset"])
    product = read_product(body.read(_body)["product"], "product")
    answer = normalise(release.reference, product)
    return respond(release.json(answer, NormaliseAnswerSchema), "json", Caching.NEVER)
