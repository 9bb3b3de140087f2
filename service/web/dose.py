"""``GET /v1/dose``."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response

from service.domain.dose_answer import DoseAnswer
from service.domain.dosing import DoseRequest, dose
from service.schemas.dose import DoseAnswerSchema, DoseQuerySchema
from service.web.animals import read_animal
from service.web.csv_output import plain_number
from service.web.envelope import Fixed
from service.web.negotiation import ANY_ENDING, TABULAR, choose
from service.web.query import QueryReader
from service.web.responses import Caching, pinned, respond
from service.web.serving import envelope
from service.web.table_pages import Layout, TablePage, words
from service.web.tables import Table, respond_with_table, table_of

blueprint = Blueprint("dose", __name__)
_query = QueryReader(DoseQuerySchema)


@blueprint.get("/v1/dose")
@blueprint.get(f"/v1/dose.<{ANY_ENDING}:ending>")
def get_dose(ending: str | None = None) -> Response:
    """Answer with the amounts for one animal and one ingredient."""
    form = choose(TABULAR, ending)
    values = _query.read()
    release = envelope(values["dataset"])
    answer = dose(release.reference, read_request(values))
    caching = pinned(values["dataset"], otherwise=Caching.UNTAGGED)
    if form == "json":
        written = release.json(answer, DoseAnswerSchema, fixed_members(answer))
        return respond(written, form, caching, negotiated=ending is None)
    return respond_with_table(_table(release.members(answer)), form, caching)


def read_request(values: Mapping[str, Any]) -> DoseRequest:
    """Build the question from validated values; what was not given may be absent or ``None``."""
    return DoseRequest(
        animal=read_animal(values),
        ingredient=values["ingredient"],
        form=values.get("form"),
        body_condition_score=values.get("body_condition_score"),
        trait=values.get("trait"),
    )


def fixed_members(answer: DoseAnswer) -> Fixed:
    """Name the members that are the same for every animal of a species."""
    return Fixed(("published_amounts", "evidence"), (answer.ingredient, answer.species))


def _table(members: dict[str, Any]) -> Table:
    animal = {name: members[name] for name in ("species", "weight_kg", "ingredient", "form", "moiety")}
    after = {
        "evidence_verdict": members["evidence"]["verdict"],
        "caution_codes": [caution["code"] for caution in members["cautions"]],
        "dataset_version": members["dataset"]["version"],
        "notice": members["notice"],
    }
    rows = [{**animal, **phase, **after} for phase in members["phases"]]
    title = f"{members['ingredient']} for a {members['species']} of {members['weight_kg']} kg"
    told = {caution["text"] for caution in members["cautions"]}
    summary = members["evidence"]["summary"]
    return table_of(title, rows, members, "" if summary in told else summary, _page(members, told))


def _page(members: dict[str, Any], told: set[str]) -> TablePage:
    """Show the amounts; the cautions above them have said the notes of the rows already."""
    layout = Layout(
        (
            ("phase", lambda row: row["phase"]),
            (f"{members['form']} (mg)", lambda row: _span(row["low_mg"], row["high_mg"])),
            (f"that is {members['moiety']} (mg)", lambda row: _span(row["moiety_low_mg"], row["moiety_high_mg"])),
            ("per", lambda row: row["per"]),
            ("divided doses", lambda row: row["divided_doses"]),
            ("days", lambda row: _span(row["days_low"], row["days_high"])),
            ("for weights (kg)", lambda row: _span(row["band"]["from_kg"], row["band"]["to_kg"], "and more")),
            ("known by", lambda row: words(row["origin"])),
        ),
        (
            ("rule", lambda row: row["rule"]),
            ("note", lambda row: None if row["note"] in told else row["note"]),
            ("guidance", lambda row: row["guidance_id"]),
            ("regimens", lambda row: ", ".join(row["regimen_ids"])),
        ),
    )
    return layout.page(members["phases"])


def _span(low: float | None, high: float | None, open_end: str = "or more") -> str | None:
    if low is None:
        return None
    return f"{plain_number(low)} {open_end}" if high is None else f"{plain_number(low)} to {plain_number(high)}"
