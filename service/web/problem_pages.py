"""``/problems/{slug}``: the pages that problem types point to."""

from __future__ import annotations

from dataclasses import asdict

from flask import Blueprint, Response, render_template

from service.domain.suggesting import nearest_ids
from service.schemas.operations import NoQuerySchema
from service.schemas.request_base import shown
from service.web.faults import Fault
from service.web.negotiation import choose
from service.web.problems import KINDS, Kind, root_url
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.wire import dump

blueprint = Blueprint("problem_pages", __name__)
_query = QueryReader(NoQuerySchema)
# A person who follows a problem's type sees a page; a program asks for JSON.
_OFFERS = ("html", "json")


def _members(kind: Kind) -> dict[str, object]:
    return {"type": f"{root_url()}problems/{kind.slug}", **asdict(kind)}


@blueprint.get("/problems")
def list_problems() -> Response:
    """Answer with every kind of problem."""
    form = choose(_OFFERS)
    _query.read()
    members = {"problems": [_members(kind) for kind in KINDS.values()]}
    text = dump(members) if form == "json" else render_template("problems.html", **members)
    return respond(text.encode(), form, Caching.REVALIDATE, negotiated=True)


@blueprint.get("/problems/<slug>")
def get_problem(slug: str) -> Response:
    """Answer with what one kind of problem means."""
    form = choose(_OFFERS)
    _query.read()
    kind = KINDS.get(slug)
    if kind is None:
        near = list(nearest_ids(slug, KINDS))
        raise Fault("not-found", f"No kind of problem has the name {shown(slug)}.", members={"nearest": near})
    members = _members(kind)
    text = dump(members) if form == "json" else render_template("problem.html", problem=members)
    return respond(text.encode(), form, Caching.REVALIDATE, negotiated=True)
