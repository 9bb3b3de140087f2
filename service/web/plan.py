"""``POST /v1/plan``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response

from service.domain.course.answer import PlanAnswer
from service.domain.course.planning import plan
from service.domain.course.request import Change, Pack, PhaseWanted, PlanRequest, PriceBreak, WeightOn
from service.domain.errors import InvalidInput, Issue
from service.schemas.animal import PinnedQuerySchema
from service.schemas.plan import PlanBodySchema
from service.schemas.plan_answer import PlanAnswerSchema
from service.web import body
from service.web.animals import read_animal, read_weight_kg
from service.web.negotiation import choose
from service.web.plan_calendar import calendar_of
from service.web.plan_table import table_of_plan
from service.web.products import read_product, read_products
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.tables import respond_with_table

blueprint = Blueprint("plan", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = PlanBodySchema()
_OFFERS = ("json", "csv", "html", "ics")
_SAME_NAME = (
    "course_id birth_date start_date ingredient form aim loading loading_days horizon_days horizon_years "
    "until_age_years whole_containers containers_per_purchase remainder price_change_per_year show_days"
).split()


@blueprint.post("/v1/plan")
@blueprint.post("/v1/plan.<any(json, csv, html, ics):ending>")
def plan_course(ending: str | None = None) -> Response:
    """Answer with a course: what is given, bought and paid."""
    form = choose(_OFFERS, ending)
    release = envelope(_query.read()["dataset"])
    wanted = request_of_body(body.read(_body))
    answer: PlanAnswer = plan(release.reference, wanted)
    if form == "json":
        return respond(release.json(answer, PlanAnswerSchema), form, Caching.NEVER, negotiated=ending is None)
    if form == "ics":
        written = calendar_of(answer, release.reference.stamp)
        response = respond(written, form, Caching.NEVER, negotiated=ending is None)
        response.headers["Content-Disposition"] = 'attachment; filename="course.ics"'
        return response
    return respond_with_table(table_of_plan(release.members(answer)), form, Caching.NEVER)


def request_of_body(values: Mapping[str, Any]) -> PlanRequest:
    """Build the question from a validated body.

    Parameters
    ----------
    values
        What the body schema loaded.

    Returns
    -------
    PlanRequest
        With everything not given left at the domain's own defaults.

    Raises
    ------
    InvalidInput
        If not exactly one of ``product`` and ``products`` is given, or a weight or price is told wrongly.
    """
    changes = values.get("what_if")
    return PlanRequest(
        animal=read_animal(values["animal"], "animal/"),
        packs=_packs(values),
        phases=tuple(PhaseWanted(**phase) for phase in values.get("phases", ())),
        weights=tuple(_weight(weight, index) for index, weight in enumerate(values["weights"])),
        what_if=None if changes is None else tuple(Change(**change) for change in changes),
        medications=tuple(values["medications"]),
        conditions=tuple(values["conditions"]),
        other_supplements=read_products(values["other_supplements"], "other_supplements", "s"),
        **{name: values[name] for name in _SAME_NAME if name in values},
    )


def _packs(values: Mapping[str, Any]) -> tuple[Pack, ...]:
    if ("product" in values) == ("products" in values):
        raise InvalidInput(Issue("product", "give exactly one of product and products"))
    several = "products" in values
    told = values["products"] if several else [values["product"]]
    products = read_products(told, "products", "p") if several else (read_product(told[0], "product"),)
    return tuple(
        Pack(
            product=product,
            where=f"products/{index}" if several else "product",
            price_breaks=tuple(PriceBreak(**step) for step in pack["price_breaks"]),
            opened_shelf_life_days=pack.get("opened_shelf_life_days"),
        )
        for index, (product, pack) in enumerate(zip(products, told, strict=True))
    )


def _weight(values: Mapping[str, Any], index: int) -> WeightOn:
    weight_kg = read_weight_kg(values, f"weights/{index}/")
    return WeightOn(weight_kg, values.get("day"), values.get("date"))
