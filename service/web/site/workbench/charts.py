"""The charts of a workbench, each at an address of its own that an article can embed."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from flask import Blueprint, Response

from service.domain.errors import InvalidInput, Issue
from service.pages.charts.chart import Chart, Look
from service.pages.charts.composition import draw_composition
from service.pages.charts.cost_and_units import draw_cost_and_units
from service.pages.charts.cost_over_course import draw_cost_over_course
from service.pages.workbench.charts import composition_of, cost_and_units_of, cost_over_course_of, subject
from service.pages.workbench.state import BrokenToken, from_token
from service.reference.release import Reference
from service.schemas.charts import WorkbenchChartQuerySchema, WorkbenchNumbersQuerySchema
from service.web.csv_output import write_csv
from service.web.query import QueryReader
from service.web.responses import pinned, respond
from service.web.serving import envelope
from service.web.site.workbench.answering import Bench, answer
from service.web.site.workbench.reading import read_state
from service.web.wire import to_wire

blueprint = Blueprint("workbench_charts", __name__)
_chart_query = QueryReader(WorkbenchChartQuerySchema)
_numbers_query = QueryReader(WorkbenchNumbersQuerySchema)
_Drawing: TypeAlias = Callable[[Reference, Bench, Look], Chart | None]


@blueprint.get("/charts/comparison.svg", defaults={"name": "comparison"})
@blueprint.get("/charts/composition.svg", defaults={"name": "composition"})
@blueprint.get("/charts/course.svg", defaults={"name": "course"})
def draw(name: str) -> Response:
    """Answer with one of the charts."""
    values = _chart_query.read()
    release = envelope(values["dataset"])
    chart = _chart(release.reference, name, values["state"], Look(values["layout"], values["theme"]))
    return respond(chart.svg.encode(), "svg", pinned(values["dataset"]))


@blueprint.get("/charts/comparison.csv", defaults={"name": "comparison"})
@blueprint.get("/charts/composition.csv", defaults={"name": "composition"})
@blueprint.get("/charts/course.csv", defaults={"name": "course"})
def tell(name: str) -> Response:
    """Answer with what one of the charts shows, as a table."""
    values = _numbers_query.read()
    table = _chart(envelope(values["dataset"]).reference, name, values["state"], Look()).table
    rows = ([to_wire(cell) for cell in row] for row in table.rows)
    return respond(write_csv(table.columns, rows), "csv", pinned(values["dataset"]))


def _chart(reference: Reference, name: str, token: str, look: Look) -> Chart:
    try:
        state = from_token(token)
    except BrokenToken:
        raise InvalidInput(Issue("state", "is not the state of a workbench; copy it whole from its address")) from None
    bench = answer(reference, read_state(reference, state))
    chart = _DRAWINGS[name](reference, bench, look)
    if chart is None:
        raise InvalidInput(Issue("state", "holds no comparison that could be drawn: " + _why(bench)))
    return chart


def _comparison(reference: Reference, bench: Bench, look: Look) -> Chart | None:
    if bench.comparison is None:
        return None
    return draw_cost_and_units(cost_and_units_of(reference, bench.comparison), reference.stamp, look)


def _composition(reference: Reference, bench: Bench, look: Look) -> Chart | None:
    if bench.comparison is None:
        return None
    return draw_composition(composition_of(reference, bench.comparison), reference.stamp, look)


def _course(reference: Reference, bench: Bench, look: Look) -> Chart | None:
    if bench.course is None or bench.comparison is None:
        return None
    names = {label.product.id: label.name for label in bench.reading.labels}
    told = subject(reference, bench.comparison)
    return draw_cost_over_course(cost_over_course_of(bench.course, names, told), reference.stamp, look)


def _why(bench: Bench) -> str:
    return bench.no_guidance or next(iter(bench.errors.values()), "there are no products in it")


_DRAWINGS: dict[str, _Drawing] = {"comparison": _comparison, "composition": _composition, "course": _course}
