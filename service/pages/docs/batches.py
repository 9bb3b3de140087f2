"""Answered CSV as a page shows it: a few of its many columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from service.pages.page_table import PageTable, page_table


def written(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """Write rows as CSV, with LF as a file on a screen has it."""
    out = io.StringIO()
    writer = csv.DictWriter(out, columns, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def columns_of(text: str, columns: Sequence[str]) -> PageTable:
    """Show some columns of a CSV text."""
    rows = csv.DictReader(io.StringIO(text))
    return page_table(tuple(columns), (tuple(row[column] for column in columns) for row in rows))
