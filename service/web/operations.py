"""Health, readiness and the OpenAPI document."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from flask import Blueprint, Response

from service.schemas.operations import NoQuerySchema, ReadinessAnswerSchema
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("operations", __name__)
_query = QueryReader(NoQuerySchema)
_PACKAGE = Path(__file__).resolve().parent.parent


def openapi_directory() -> Path:
    """Directory of the OpenAPI document: inside the package when installed, beside it in a checkout."""
    installed = _PACKAGE / "_openapi"
    return installed if installed.is_dir() else _PACKAGE.parent / "openapi"


@lru_cache(maxsize=1)
def _document() -> bytes:
    return (openapi_directory() / "openapi.json").read_bytes()


@blueprint.get("/healthz")
def get_health() -> Response:
    """Say that the process answers."""
    choose(JSON_ONLY)
    _query.read()
    return respond(b'{"status":"ok"}', "json", Caching.NEVER)


@blueprint.get("/readyz")
def get_readiness() -> Response:
    """Say whether a verified release is loaded."""
    choose(JSON_ONLY)
    _query.read()
    release = envelope()
    members = {"status": "ready", "dataset": release.dataset}
    return respond(release.plain_json(members, ReadinessAnswerSchema), "json", Caching.NEVER)


@blueprint.get("/openapi.json")
def get_openapi() -> Response:
    """Answer with the OpenAPI document."""
    choose(JSON_ONLY)
    _query.read()
    return respond(_document(), "json", Caching.REVALIDATE)
