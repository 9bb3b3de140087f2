"""A course as a table: one row per product and phase."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from service.domain.currencies import minor_digits
from service.domain.rounding import money_total
from service.web.csv_output import plain_number
from service.web.table_pages import Layout, Row, words
from service.web.tables import Table, table_of

_OF_PRODUCT = "paid_cost consumed_cost left_over_units left_over_cost discarded_units containers verdict".split()


def table_of_plan(members: dict[str, Any]) -> Table:
    """Lay a plan out: the phases of every product, its totals beside each."""
    courses = members["alternatives"] or [members]
    after = {
        "next_reassessment": members["next_reassessment"],
        "caution_codes": [caution["code"] for caution in members["cautions"]],
        "dataset_version": members["dataset"]["version"],
        "notice": members["notice"],
    }
    rows = [
        {
            "product_id": course["product_id"],
            "name": course["name"],
            "unit": course["unit"],
            "currency": course["currency"],
            **phase,
            **{f"course_{name}": course[name] for name in _OF_PRODUCT},
            "why_not": course["why_not"],
            **after,
        }
        for course in courses
        for phase in course["phases"] or [{"phase": None}]
    ]
    title = f"A course of {members['horizon_days']} days for a {members['species']} of {members['weight_kg']} kg"
    summary = "Cheapest product first; one with an objection comes last, with the reason."
    return table_of(title, rows, members, summary if len(courses) > 1 else "", _LAYOUT.page(rows))


def _units(row: Row) -> str | None:
    units = row.get("units_per_day")
    return f"{plain_number(units)} {row['unit']}" if units is not None else None


def _money(name: str, row: Row) -> Decimal | None:
    """Write a total with all the decimals of its currency."""
    if row.get(name) is None:
        return None
    digits = minor_digits(row["currency"] or "")
    return money_total(Decimal(repr(row[name])), 2 if digits is None else digits)


def _days(row: Row) -> str | None:
    if row.get("from_day") is None:
        return None
    begin, end = row["from_date"] or row["from_day"], row["to_date"] or row["to_day"]
    return f"{begin} to {end}"


_LAYOUT = Layout(
    (
        ("product", lambda row: row["name"] or row["product_id"]),
        ("phase", lambda row: words(row["phase"])),
        ("days", _days),
        ("number of days", lambda row: row.get("days")),
        ("per day", _units),
        ("mg per day", lambda row: row.get("mg_per_day")),
        ("cost per day", lambda row: row.get("cost_per_day")),
        ("cost", lambda row: _money("cost", row)),
        ("used in all", lambda row: _money("course_consumed_cost", row)),
        ("paid in all", lambda row: _money("course_paid_cost", row)),
        ("currency", lambda row: row["currency"]),
        ("units left over", lambda row: row["course_left_over_units"]),
        ("screen", lambda row: words(row["course_verdict"])),
    ),
    (("why not", lambda row: " ".join(row["why_not"])),),
    name="product",
)
