"""One table in three representations: what the tabular endpoints share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from flask import Response, render_template, request

from service.web.csv_output import flatten, write_csv
from service.web.responses import Caching, respond
from service.web.table_pages import TablePage, plain_layout


@dataclass(frozen=True)
class Table:
    """Rows of one answer, flat, with what a page shows around them.

    ``page`` is how a page lays the rows out; by default every column, sentences under the table.
    """

    title: str
    columns: Sequence[str]
    rows: Sequence[dict[str, Any]]
    around: dict[str, Any] = field(default_factory=dict)
    summary: str = ""
    page: TablePage | None = None


def table_of(
    title: str, rows: Sequence[dict[str, Any]], around: dict[str, Any], summary: str = "", page: TablePage | None = None
) -> Table:
    """Lay rows of an answer out flat; the columns are those of all rows, in order of first appearance."""
    flat = [flatten(row) for row in rows]
    columns = tuple(dict.fromkeys(name for row in flat for name in row))
    return Table(title, columns, flat, around, summary, page)


def respond_with_table(table: Table, form: str, caching: Caching) -> Response:
    """Answer with a table as ``csv`` or ``html``."""
    return respond(written(table, form), form, caching, negotiated=True)


def written(table: Table, form: str) -> bytes:
    """Write a table as ``csv`` or ``html``."""
    if form == "csv":
        return write_csv(table.columns, ([row.get(name) for name in table.columns] for row in table.rows))
    return _page(table).encode()


def _page(table: Table) -> str:
    base, _, ending = request.path.rpartition(".")
    address = base if ending in ("csv", "html", "json") else request.path
    query = request.environ.get("QUERY_STRING", "")
    links = {form: f"{address}.{form}{'?' + query if query else ''}" for form in ("json", "csv")}
    # A page that answers a POST cannot link to its other representations.
    links = links if request.method in ("GET", "HEAD") else {}
    page = table.page or plain_layout(table.columns, table.rows).page(table.rows)
    return render_template("table.html", table=table, page=page, links=links)
