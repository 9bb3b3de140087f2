"""How a table is laid out for people: short cells side by side, sentences under the table."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.web.html_tables import cell, heading

# More rows than anyone reads; a page says so and links to the whole table.
MOST_ROWS_ON_A_PAGE = 500
# A column of such texts holds sentences: as cells they would stretch every row.
_LONGEST_CELL = 110
_LONG_CELL = 44
_USUALLY_LONG = 30
_PROSE = frozenset(("note", "notice", "rule", "summary", "locator"))

Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class PageRow:
    """One row: its cells in the order of the columns, the sentences that belong under the table, and its name."""

    cells: tuple[object, ...]
    texts: tuple[tuple[str, str], ...] = ()
    name: object = None


@dataclass(frozen=True, slots=True)
class TablePage:
    """Headings and rows as they are shown; ``row_count`` is the number of rows there are."""

    columns: tuple[str, ...]
    rows: tuple[PageRow, ...]
    row_count: int

    @property
    def has_notes(self) -> bool:
        """Whether any row has sentences under the table."""
        return any(row.texts for row in self.rows)


@dataclass(frozen=True, slots=True)
class Layout:
    """What a page shows of each row: a heading with what stands under it, and sentences with their labels.

    ``name`` is the heading of the column that names a row; by default the first.
    """

    cells: tuple[tuple[str, Callable[[Row], object]], ...]
    texts: tuple[tuple[str, Callable[[Row], str | None]], ...] = ()
    name: str | None = None

    def page(self, rows: Sequence[Row]) -> TablePage:
        """Lay rows out; a column that is empty in every row is left out."""
        shown = rows[:MOST_ROWS_ON_A_PAGE]
        values = [[give(row) for _, give in self.cells] for row in shown]
        kept = [index for index in range(len(self.cells)) if any(cell(value[index]) != _NOTHING for value in values)]
        named = next((index for index, (head, _) in enumerate(self.cells) if head == self.name), 0)
        texts = [[(label, give(row)) for label, give in self.texts] for row in shown]
        return TablePage(
            tuple(self.cells[index][0] for index in kept),
            tuple(
                PageRow(
                    tuple(value[index] for index in kept),
                    tuple((label, text) for label, text in told if text),
                    value[named],
                )
                for value, told in zip(values, texts, strict=True)
            ),
            len(rows),
        )


_NOTHING = cell(None)


def plain_layout(columns: Sequence[str], rows: Sequence[Row]) -> Layout:
    """Lay a table out as it is, its sentences under it."""
    shown = rows[:MOST_ROWS_ON_A_PAGE]
    # The first column names the row and stays, however long it is.
    prose = [name for name in columns[1:] if name in _PROSE or _holds_sentences([row.get(name) for row in shown])]
    return Layout(
        tuple((heading(name), _value(name)) for name in columns if name not in prose),
        tuple((heading(name), _sentence(name)) for name in prose),
    )


def words(value: str | None) -> str | None:
    """Write a word of the interface for people: ``nothing_found`` becomes ``nothing found``."""
    return value.replace("_", " ") if value else None


def _holds_sentences(values: Sequence[object]) -> bool:
    lengths = [len(cell(value)) for value in values if value]
    longest = max(lengths, default=0)
    return longest > _LONGEST_CELL or (longest > _LONG_CELL and sum(lengths) > _USUALLY_LONG * len(lengths))


def _value(name: str) -> Callable[[Row], object]:
    return lambda row: row.get(name)


def _sentence(name: str) -> Callable[[Row], str | None]:
    return lambda row: cell(row[name]) if row.get(name) else None
