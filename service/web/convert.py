"""``GET /v1/convert``."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response

from service.domain.converting import convert
from service.domain.errors import InvalidInput, Issue
from service.schemas.convert import ConvertAnswerSchema, ConvertQuerySchema
from service.web.negotiation import JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope

blueprint = Blueprint("convert", __name__)
_query = QueryReader(ConvertQuerySchema)


@blueprint.get("/v1/convert")
def convert_amount() -> Response:
    """Answer with an amount of one form as its moiety or as another form."""
    choose(JSON_ONLY)
    values = _query.read()
    release = envelope(values["dataset"])
    text, locale = _amount(values)
    answer = convert(release.reference, values["form"], text, values["to"], locale)
    return respond(release.json(answer, ConvertAnswerSchema), "json", pinned(values["dataset"]))


def _amount(values: dict[str, Any]) -> tuple[str, str | None]:
    """Give the amount as text, and ``en`` for a number, whose dot can only be the decimal mark."""
    text, amount_mg = values["amount"], values["amount_mg"]
    if (text is None) == (amount_mg is None):
        detail = "give exactly one of amount and amount_mg, for example amount '500 mg' or amount_mg 500"
        raise InvalidInput(Issue("amount", detail))
    return (str(text), None) if text is not None else (f"{amount_mg:f} mg", "en")
