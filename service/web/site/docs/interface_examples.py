"""What the guides on the interface ask: a request for every kind of problem, and the limits that the code holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from service.demo import animal, animal_body, product, scenario
from service.domain.common import WEIGHT_RANGE_KG
from service.pages.docs.caution_words import CAUTION_GROUPS
from service.pages.docs.list_limits import list_limits
from service.pages.docs.words import FLAGS
from service.schemas.batch_limits import LARGEST_BATCH_BYTES, LONGEST_ROW_BYTES, MOST_COLUMNS, MOST_ROWS
from service.web.body import LARGEST_BODY_BYTES
from service.web.envelope import Envelope
from service.web.faults import Fault
from service.web.json_document import DEEPEST
from service.web.problems import KINDS, Kind, problem
from service.web.query import LONGEST_QUERY_BYTES, MOST_PARAMETERS
from service.web.site.docs.asking import Exchange, get, post
from service.web.site.docs.document import openapi_document


@dataclass(frozen=True, slots=True)
class Shown:
    """A kind of problem with an answer of it. ``asked`` is ``None`` where no request brings it about on purpose."""

    kind: Kind
    asked: Exchange | None
    members: dict[str, Any]
    is_short: bool = True


def errors(_: Envelope) -> dict[str, Any]:
    """Bring about every kind of problem."""
    body = {"product": {**product("invented-tablet"), "serving": {"units": 0}, "prize": 14}}
    return {"shown": [_shown(kind) for kind in KINDS.values()], "pointed": post("/v1/normalise", body)}


def limits(_: Envelope) -> dict[str, Any]:
    """Read the limits off the code that holds them."""
    return {
        "body_bytes": LARGEST_BODY_BYTES,
        "query_bytes": LONGEST_QUERY_BYTES,
        "parameters": MOST_PARAMETERS,
        "deepest": DEEPEST,
        "rows": MOST_ROWS,
        "batch_bytes": LARGEST_BATCH_BYTES,
        "row_bytes": LONGEST_ROW_BYTES,
        "columns": MOST_COLUMNS,
        "weights": WEIGHT_RANGE_KG,
        "lists": list_limits(openapi_document()),
    }


def words(_: Envelope) -> dict[str, Any]:
    """List every caution and every flag."""
    return {"cautions": CAUTION_GROUPS, "flags": FLAGS}


def _shown(kind: Kind) -> Shown:
    ask = _PROVOKED.get(kind.slug)
    if ask is None:
        answer = problem(Fault(kind.slug, f"{kind.meaning} {kind.remedy}".replace("`", "")))
        return Shown(kind, None, answer.get_json())
    asked = ask()
    return Shown(kind, asked, asked.members, kind.slug not in _LONG)


def _dose(**changed: object) -> dict[str, Any]:
    return {**animal_body(animal("bramble")), "ingredient": scenario()["ingredient"], **changed}


# Requests that are too long to print; the answer is shown alone.
_LONG = ("body-too-large", "uri-too-long")
_PROVOKED: dict[str, Callable[[], Exchange]] = {
    "invalid-input": lambda: get("/v1/dose", {**_dose(weight="34"), "speces": "dog"}),
    "malformed-body": lambda: post("/v1/normalise", '{"product": '),
    "unsupported-media-type": lambda: post("/v1/normalise", "Glucosamine HCl 500 mg", "text/plain"),
    "not-acceptable": lambda: get("/v1/dose", _dose(), Accept="image/png"),
    "body-too-large": lambda: post("/v1/normalise", " " * (LARGEST_BODY_BYTES + 1)),
    "uri-too-long": lambda: get("/v1/resolve", {"name": "x" * LONGEST_QUERY_BYTES}),
    "not-found": lambda: get("/v1/forms/glucosamine-hydrocloride"),
    "unknown-ingredient": lambda: get("/v1/ingredients/glucosamin"),
    "unknown-dataset-release": lambda: get("/v1/dose", _dose(dataset="0.0.9")),
    "no-guidance": lambda: get("/v1/dose", {**_dose(), **animal_body(animal("fennel"))}),
    "method-not-allowed": lambda: get("/v1/dose", method="DELETE"),
}
