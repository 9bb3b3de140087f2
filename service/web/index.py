"""``GET /v1``: where everything is."""

from __future__ import annotations

from flask import Blueprint, Response

from service.domain.common import NOTICE
from service.schemas.operations import IndexAnswerSchema, NoQuerySchema
from service.version import VERSION
from service.web.catalogue import OPERATIONS
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("index", __name__)
_query = QueryReader(NoQuerySchema)
_LINKS = [
    {
        "name": operation.id,
        "method": operation.method.upper(),
        "href": operation.path,
        "templated": "{" in operation.path,
        "summary": operation.summary,
    }
    for operation in OPERATIONS
    if operation.linked
]
_LINKS.append(
    {
        "name": "docs",
        "method": "GET",
        "href": "/docs",
        "templated": False,
        "summary": "Guides, reference and a console to try requests in, for people",
    }
)


@blueprint.get("/v1")
def get_index() -> Response:
    """Answer with links to everything, and versions."""
    choose(JSON_ONLY)
    _query.read()
    release = envelope()
    members = {
        "api_version": VERSION,
        "dataset_version": release.dataset["version"],
        "dataset": release.dataset,
        "links": _LINKS,
        "notice": NOTICE,
    }
    return respond(release.plain_json(members, IndexAnswerSchema), "json", Caching.REVALIDATE)
