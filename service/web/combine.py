"""``POST /v1/combine``."""

from __future__ import annotations

import time
from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response

from service.domain.combining.combining import combine
from service.domain.combining.request import CombineRequest
from service.domain.targets import Target
from service.schemas.animal import PinnedQuerySchema
from service.schemas.combine import CombineBodySchema
from service.schemas.combine_answer import CombineAnswerSchema
from service.web import body
from service.web.animals import read_animal
from service.web.negotiation import JSON_ONLY, choose
from service.web.products import read_products
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope

blueprint = Blueprint("combine", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = CombineBodySchema()
_SAME_NAME = ("aim", "most_products", "high_end_on", "count_other_supplements", "time_limit_seconds")


@blueprint.post("/v1/combine")
def combine_products() -> Response:
    """Answer with the cheapest sets of products for one animal."""
    choose(JSON_ONLY)
    release = envelope(_query.read()["dataset"])
    wanted = request_of_body(body.read(_body))
    answer = combine(release.reference, wanted, time.monotonic)
    return respond(release.json(answer, CombineAnswerSchema), "json", Caching.NEVER)


def request_of_body(values: Mapping[str, Any]) -> CombineRequest:
    """Build the question from a validated body."""
    return CombineRequest(
        animal=read_animal(values["animal"], "animal/"),
        targets=tuple(Target(**target) for target in values["targets"]),
        products=read_products(values["products"], "products", "p"),
        other_supplements=read_products(values["other_supplements"], "other_supplements", "s"),
        medications=tuple(values["medications"]),
        conditions=tuple(values["conditions"]),
        traits=tuple(values["animal"]["traits"]),
        **{name: values[name] for name in _SAME_NAME},
    )
