"""The charts of a workbench, each at an address of its own that an article can embed."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from flask import Blueprint, Response, request

from service.domain.errors import InvalidInput, Issue
from service.pages.charts.chart import Chart, Look
from service.pages.charts.composition import draw_composition
from service.pages.charts.cost_and_units import draw_cost_and_units
from service.pages.charts.cost_over_course import draw_cost_over_course
from service.pages.workbench.charts import composition_of, cost_and_units_of, cost_over_course_of, subject
from service.pages.workbench.state import BrokenToken, from_token
from service.reference.release import Reference
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.workbench.answering import Bench, answer
from service.web.site.workbench.reading import read_state

blueprint = Blueprint("site_workbench_charts", __name__)
_Drawing: TypeAlias = Callable[[Reference, Bench, Look], Chart | None]


@blueprint.get("/charts/comparison.svg")
def comparison() -> Response:
    """Answer with cost per day against units per day."""
    return _drawn(_comparison)


@blueprint.get("/charts/composition.svg")
def composition() -> Response:
    """Answer with what the daily units deliver."""
    return _drawn(_composition)


@blueprint.get("/charts/course.svg")
def course() -> Response:
    """Answer with what has been paid by each day."""
    return _drawn(_course)


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


def _drawn(draw: _Drawing) -> Response:
    choose(("svg",))
    release = envelope()
    try:
        state = from_token(request.args.get("state", ""))
    except BrokenToken:
        raise InvalidInput(Issue("state", "is not the state of a workbench; copy it whole from its address")) from None
    bench = answer(release.reference, read_state(release.reference, state))
    chart = draw(release.reference, bench, Look())
    if chart is None:
        raise InvalidInput(Issue("state", "holds no comparison that could be drawn: " + _why(bench)))
    return respond(chart.svg.encode(), "svg", Caching.REVALIDATE)


def _why(bench: Bench) -> str:
    return bench.no_guidance or next(iter(bench.errors.values()), "there are no products in it")
