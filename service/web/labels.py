"""``POST /v1/labels/read``."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.labels.assembling import read_label
from service.schemas.animal import PinnedQuerySchema
from service.schemas.labels import LARGEST_LABEL_BYTES, LabelAnswerSchema, LabelBodySchema
from service.web import body
from service.web.negotiation import JSON_ONLY, choose
from service.web.products import check_price
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("labels", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = LabelBodySchema()


@blueprint.post("/v1/labels/read")
def read() -> Response:
    """Answer with everything that a label says."""
    choose(JSON_ONLY)
    release = envelope(_query.read()["dataset"])
    values = body.read(_body, LARGEST_LABEL_BYTES)
    check_price(values, "")
    answer = read_label(
        release.reference, values["text"], values.get("locale"), values.get("price"), values.get("currency")
    )
    return respond(release.json(answer, LabelAnswerSchema), "json", Caching.NEVER)
