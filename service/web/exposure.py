"""``GET /v1/exposure``."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response

from service.domain.errors import InvalidInput, Issue
from service.domain.exposure import exposure
from service.domain.exposure_answer import ExposureRequest
from service.schemas.exposure import ExposureAnswerSchema, ExposureQuerySchema
from service.web.animals import read_animal
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope

blueprint = Blueprint("exposure", __name__)
_query = QueryReader(ExposureQuerySchema)
_NO_GROUP = "0000"


@blueprint.get("/v1/exposure")
def get_exposure() -> Response:
    """Answer with what an amount that was eaten once means."""
    choose(JSON_ONLY)
    values = _query.read()
    release = envelope(values["dataset"])
    wanted = ExposureRequest(read_animal(values), values["substance"], _amount(values))
    return respond(
        release.json(exposure(release.reference, wanted), ExposureAnswerSchema), "json", pinned(values["dataset"])
    )


def _amount(values: dict[str, Any]) -> str:
    text, amount_mg = values["amount"], values["amount_mg"]
    if (text is None) == (amount_mg is None):
        detail = "give exactly one of amount and amount_mg, for example amount '4 g' or amount_mg 4000"
        raise InvalidInput(Issue("amount", detail))
    if text is not None:
        return str(text)
    number = f"{amount_mg:f}"
    # Three decimals of a text may part thousands; those of a number never do.
    return f"{number}{_NO_GROUP if '.' in number else ''} mg"
