"""``GET /v1/resolve``."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.resolving import resolver_for
from service.schemas.resolve import ResolveAnswerSchema, ResolveQuerySchema
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope

blueprint = Blueprint("resolve", __name__)
_query = QueryReader(ResolveQuerySchema)


@blueprint.get("/v1/resolve")
def resolve_name() -> Response:
    """Answer with what a name on a label means."""
    choose(JSON_ONLY)
    values = _query.read()
    release = envelope(values["dataset"])
    answer = resolver_for(release.reference).resolve(values["name"])
    return respond(release.json(answer, ResolveAnswerSchema), "json", pinned(values["dataset"]))
