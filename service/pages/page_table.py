"""Tables of a page, whose cells may be numbers that can be asked where they come from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from service.pages.asked import Cell

Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class PageTable:
    """Headings, and rows with a cell for each."""

    columns: tuple[str, ...]
    rows: tuple[Row, ...]

    def __bool__(self) -> bool:
        """Whether there is anything to show."""
        return bool(self.rows)


def page_table(columns: tuple[str, ...], rows: Iterable[Row]) -> PageTable:
    """Make a table; a column that is empty in every row is left out."""
    every = tuple(rows)
    kept = [at for at in range(len(columns)) if any(row[at] for row in every)]
    return PageTable(tuple(columns[at] for at in kept), tuple(tuple(row[at] for at in kept) for row in every))
