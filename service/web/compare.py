"""``POST /v1/compare``."""

from __future__ import annotations

from decimal import Decimal
from functools import partial
from typing import Any

from flask import Blueprint, Response

from service.domain.comparing import CompareRequest, compare
from service.domain.currencies import minor_digits
from service.domain.rounding import money_total
from service.domain.targets import Target
from service.schemas.animal import PinnedQuerySchema
from service.schemas.compare import CompareAnswerSchema, CompareBodySchema
from service.web import body
from service.web.animals import read_animal
from service.web.csv_output import plain_number
from service.web.negotiation import ANY_ENDING, TABULAR, choose
from service.web.products import read_products
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.table_pages import Layout, Row, TablePage, words
from service.web.tables import Table, respond_with_table, table_of

blueprint = Blueprint("compare", __name__)
_query = QueryReader(PinnedQuerySchema)
_body = CompareBodySchema()


@blueprint.post("/v1/compare")
@blueprint.post(f"/v1/compare.<{ANY_ENDING}:ending>")
def compare_products(ending: str | None = None) -> Response:
    """Answer with several products ranked for one animal."""
    form = choose(TABULAR, ending)
    release = envelope(_query.read()["dataset"])
    values = body.read(_body)
    wanted = CompareRequest(
        animal=read_animal(values["animal"], "animal/"),
        targets=tuple(Target(**target) for target in values["targets"]),
        products=read_products(values["products"], "products", "p"),
        aim=values["aim"],
        rank_by=values["rank_by"],
    )
    answer = compare(release.reference, wanted)
    if form == "json":
        return respond(release.json(answer, CompareAnswerSchema), form, Caching.NEVER, negotiated=ending is None)
    return respond_with_table(_table(release.members(answer)), form, Caching.NEVER)


def _table(members: dict[str, Any]) -> Table:
    after = {
        "caution_codes": [caution["code"] for caution in members["cautions"]],
        "dataset_version": members["dataset"]["version"],
        "notice": members["notice"],
    }
    rows = [{**row, **after} for row in members["rows"]]
    title = f"Products for a {members['species']} of {members['weight_kg']} kg"
    summary = "Best first. A product with an objection is listed last, with the reason."
    return table_of(title, rows, members, summary, _page(members))


def _page(members: dict[str, Any]) -> TablePage:
    targets = [
        (f"{target['ingredient']} (mg per day)", partial(_achieved, index))
        for index, target in enumerate(members["targets"])
    ]
    currency = next((row["currency"] for row in members["rows"] if row["currency"]), "")
    layout = Layout(
        (
            ("rank", lambda row: row["rank"]),
            ("product", lambda row: row["name"] or row["product_id"]),
            ("per day", _units),
            ("meets target", lambda row: row["meets_target"]),
            *targets,
            (f"{currency} per day".strip(), lambda row: row["cost_per_day"]),
            ("cost for 30 days", partial(_total, "cost_per_30_days")),
            ("cost for 365 days", partial(_total, "cost_per_365_days")),
            ("cost per gram", lambda row: row["cost_per_g"]),
            ("lasts (days)", lambda row: row["container_lasts_days"]),
            ("kcal per day", lambda row: row["energy_kcal_per_day"]),
            ("screen", lambda row: words(row["verdict"])),
            ("efficient", lambda row: row["efficient"]),
        ),
        (
            ("why not", lambda row: " ".join(row["why_not"])),
            ("label", lambda row: ", ".join(flag.replace("_", " ") for flag in row["label_flags"])),
        ),
        name="product",
    )
    return layout.page(members["rows"])


def _units(row: Row) -> str | None:
    return f"{plain_number(row['units_per_day'])} {row['unit']}" if row["units_per_day"] is not None else None


def _total(name: str, row: Row) -> Decimal | None:
    """Write a total with all the decimals of its currency: 5.40, not 5.4."""
    if row[name] is None:
        return None
    digits = minor_digits(row["currency"] or "")
    return money_total(Decimal(repr(row[name])), 2 if digits is None else digits)


def _achieved(index: int, row: Row) -> str:
    result = row["targets"][index]
    low, high = (plain_number(result[name]) for name in ("achieved_mg", "achieved_high_mg"))
    return low if low == high else f"{low} to {high}"
