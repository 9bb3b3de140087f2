"""``/charts/amount``: amounts over body weight, as a picture to embed and as its numbers."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from flask import Blueprint, Response

from service.domain.dosing import DoseRequest
from service.pages.charts.amount_over_weight import draw_amount_over_weight
from service.pages.charts.amount_words import table
from service.pages.charts.amounts_of_release import amounts_of_release
from service.pages.charts.chart import Look
from service.reference.release import Reference
from service.schemas.charts import AmountChartQuerySchema, AmountNumbersQuerySchema
from service.web.animals import read_animal
from service.web.csv_output import write_csv
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope
from service.web.wire import to_wire

blueprint = Blueprint("charts", __name__)
_chart_query = QueryReader(AmountChartQuerySchema)
_numbers_query = QueryReader(AmountNumbersQuerySchema)
# Some ten kilobytes each; a page asks for the same few again and again.
_MOST_KEPT = 64


@blueprint.get("/charts/amount.svg")
def get_amount_chart() -> Response:
    """Answer with the chart."""
    values = _chart_query.read()
    reference = envelope(values["dataset"]).reference
    body = _drawn(reference, _request(values), Look(values["layout"], values["theme"]))
    return respond(body, "svg", pinned(values["dataset"]))


@blueprint.get("/charts/amount.csv")
def get_amount_chart_csv() -> Response:
    """Answer with what the chart shows, as a table."""
    values = _numbers_query.read()
    numbers = table(amounts_of_release(envelope(values["dataset"]).reference, _request(values)))
    rows = ([to_wire(cell) for cell in row] for row in numbers.rows)
    return respond(write_csv(numbers.columns, rows), "csv", pinned(values["dataset"]))


def _request(values: Mapping[str, Any]) -> DoseRequest:
    animal = read_animal(values, weight_needed=False)
    return DoseRequest(animal=animal, ingredient=values["ingredient"], form=values["form"])


@lru_cache(maxsize=_MOST_KEPT)
def _drawn(reference: Reference, request: DoseRequest, look: Look) -> bytes:
    return draw_amount_over_weight(amounts_of_release(reference, request), reference.stamp, look).svg.encode()
