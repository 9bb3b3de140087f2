"""``POST`` and ``GET /v1/screen``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response

from service.domain.errors import InvalidInput, Issue
from service.domain.screening import screen
from service.domain.screening_answers import ScreenRequest
from service.schemas.animal import PinnedQuerySchema
from service.schemas.screen import ScreenAnswerSchema, ScreenBodySchema, ScreenQuerySchema
from service.web import body
from service.web.animals import read_animal
from service.web.envelope import Envelope
from service.web.negotiation import JSON_ONLY, choose
from service.web.products import read_products
from service.web.query import QueryReader
from service.web.responses import Caching, pinned, respond
from service.web.serving import envelope

blueprint = Blueprint("screen", __name__)
_query = QueryReader(ScreenQuerySchema)
_pin = QueryReader(PinnedQuerySchema)
_body = ScreenBodySchema()


@blueprint.get("/v1/screen")
def screen_by_query() -> Response:
    """Screen a text given in the query."""
    choose(JSON_ONLY)
    values = _query.read()
    release = envelope(values["dataset"])
    return _answer(request_of_query(values), release, pinned(values["dataset"]))


@blueprint.post("/v1/screen")
def screen_by_body() -> Response:
    """Screen everything that the body names."""
    choose(JSON_ONLY)
    release = envelope(_pin.read()["dataset"])
    return _answer(request_of_body(body.read(_body)), release, Caching.NEVER)


def request_of_query(values: Mapping[str, Any]) -> ScreenRequest:
    """Build the question from the validated values of a query."""
    return ScreenRequest(
        animal=read_animal(values, weight_needed=False),
        ingredients_text=values["ingredients_text"],
        medications=values["medications"] or (),
        conditions=values["conditions"] or (),
        traits=values["traits"] or (),
    )


def request_of_body(values: Mapping[str, Any]) -> ScreenRequest:
    """Build the question from a validated body."""
    return ScreenRequest(
        animal=read_animal(values["animal"], "animal/", weight_needed=False),
        ingredients_text=values.get("ingredients_text"),
        products=read_products(values["products"], "products", "p"),
        other_supplements=read_products(values["other_supplements"], "other_supplements", "s"),
        medications=tuple(values["medications"]),
        conditions=tuple(values["conditions"]),
        traits=tuple(values["animal"]["traits"]),
    )


def _answer(wanted: ScreenRequest, release: Envelope, caching: Caching) -> Response:
    if not (wanted.ingredients_text or wanted.products or wanted.other_supplements):
        raise InvalidInput(
            Issue("ingredients_text", "is required where no product is given: there is nothing to screen")
        )
    answer = screen(release.reference, wanted)
    return respond(release.json(answer, ScreenAnswerSchema), "json", caching)
