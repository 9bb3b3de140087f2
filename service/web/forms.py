"""``GET /v1/forms/{id}``."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.describing import describe_form
from service.schemas.animal import PinnedQuerySchema
from service.schemas.forms import FormAnswerSchema
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope

blueprint = Blueprint("forms", __name__)
_query = QueryReader(PinnedQuerySchema)


@blueprint.get("/v1/forms/<id_>")
def get_form(id_: str) -> Response:
    """Answer with one chemical form."""
    choose(JSON_ONLY)
    version = _query.read()["dataset"]
    release = envelope(version)
    answer = describe_form(release.reference, id_)
    return respond(release.json(answer, FormAnswerSchema), "json", pinned(version))
