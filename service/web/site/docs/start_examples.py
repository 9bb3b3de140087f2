"""What the quick starts ask: the animals and products of the invented shelter."""

from __future__ import annotations

from html import escape
from typing import Any

from service.demo import animal, animal_body, animals, label, product, scenario
from service.pages.docs.batches import columns_of, written
from service.pages.docs.curl import address
from service.schemas.batch_limits import MOST_ROWS
from service.web.envelope import Envelope
from service.web.problems import root_url
from service.web.site.docs.asking import get, post

_CHART_ALT = "Amount of glucosamine a day over the body weight of a dog"
_DOG, _CAT = "bramble", "fennel"
_NO_UNIT = {"id": "entered-by-hand", "species": "dog", "weight": "34", "age_years": 4}


def app(release: Envelope) -> dict[str, Any]:
    """Ask what an app asks: a name, an amount, an animal for which there is none."""
    case = scenario()
    asked = {**animal_body(animal(_DOG)), "ingredient": case["ingredient"]}
    return {
        "animal": animal(_DOG),
        "asked": asked,
        "resolved": get("/v1/resolve", {"name": "Glucosamine HCl"}),
        "dose": get("/v1/dose", asked),
        "refused": get("/v1/dose", {**animal_body(animal(_CAT)), "ingredient": case["ingredient"]}),
        "pinned": get("/v1/dose", {**asked, "dataset": release.reference.stamp.version}),
        "label": post("/v1/labels/read", {"text": label("invented-chew")}),
    }


def database(release: Envelope) -> dict[str, Any]:
    """Ask what a database asks: every animal at once, amounts and verdicts."""
    pin = {"dataset": release.reference.stamp.version}
    dose_csv = written(("id", "species", "weight", "age_years", "ingredient"), _for_amounts())
    screen_csv = written(("id", "species", "weight", "ingredients_text", "medications", "conditions"), _for_verdicts())
    doses = post("/v1/batch/dose", dose_csv, "text/csv", pin)
    screens = post("/v1/batch/screen", screen_csv, "text/csv", pin)
    shown = ("id", "status", "maintenance_low_mg", "maintenance_high_mg", "evidence_verdict", "error")
    return {
        "dose_csv": dose_csv,
        "dose_url": address(root_url(), "/v1/batch/dose", pin),
        "doses": columns_of(doses.text, shown),
        "screen_csv": screen_csv,
        "screen_url": address(root_url(), "/v1/batch/screen", pin),
        "screens": columns_of(screens.text, ("id", "verdict", "findings", "gravest_action")),
        "most_rows": MOST_ROWS,
        "version": release.reference.stamp.version,
    }


def spreadsheet(release: Envelope) -> dict[str, Any]:
    """Ask for tables by addresses that end in their format."""
    version = release.reference.stamp.version
    asked = {**animal_body(animal(_DOG)), "ingredient": scenario()["ingredient"]}
    table = get("/v1/dose.csv", asked)
    return {
        "table": table,
        "shown": columns_of(table.text, ("phase", "low_mg", "high_mg", "days_low", "days_high", "origin")),
        "page_url": address(root_url(), "/v1/dose.html", asked),
        "list_url": address(root_url(), "/v1/ingredients.csv", {"kind": "active"}),
        "guidance_url": address(root_url(), f"/v1/dataset/{version}/guidance.csv"),
        "numbers_url": address(root_url(), "/charts/amount.csv", {"species": "dog", "ingredient": asked["ingredient"]}),
        "version": version,
    }


def writer(release: Envelope) -> dict[str, Any]:
    """Ask for a chart and its numbers, pinned to the release."""
    pinned = {"species": "dog", "ingredient": scenario()["ingredient"], "dataset": release.reference.stamp.version}
    chart_url = address(root_url(), "/charts/amount.svg", pinned)
    return {
        "snippet": f'<img src="{escape(chart_url)}"\n  alt="{_CHART_ALT}" width="720">',
        "chart_path": address("", "/charts/amount.svg", pinned),
        "numbers_url": address(root_url(), "/charts/amount.csv", pinned),
        "stamp": release.reference.stamp,
    }


def _for_amounts() -> list[dict[str, Any]]:
    ingredient = scenario()["ingredient"]
    rows = [*animals(), _NO_UNIT]
    return [{**row, "ingredient": ingredient} for row in rows]


def _for_verdicts() -> list[dict[str, Any]]:
    given = product("invented-chew")
    printed = ", ".join([*(fact["name"] for fact in given["facts"]), *given["other_ingredients"].split("; ")])
    return [
        {
            **row,
            "ingredients_text": printed,
            "medications": ";".join(row["medications"]),
            "conditions": ";".join(row["conditions"]),
        }
        for row in animals()
    ]
