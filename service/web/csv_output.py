"""CSV as spreadsheets want it: UTF-8, CRLF, header row, dot decimals, and no text cell that runs as a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from decimal import Decimal

from service.web.wire import Json

# Besides the plain signs = + - @ their full-width and small forms, which some East Asian editions of spreadsheets read
# alike.
_FORMULA_SIGNS = "=+\\-@\uff1d\ufe66\uff0b\ufe62\uff0d\ufe63\uff20\ufe6b"
# What a spreadsheet may drop before it looks for a sign: blanks, line breaks, and marks without a width or a look.
_UNSEEN = "\\s\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff"
_STARTS_A_FORMULA = re.compile(f"[\\t\\r\\n]|[{_UNSEEN}]*[{_FORMULA_SIGNS}]")
# An operator of the dataset's own, too short to be a formula: kept, so that the cell stays one of its column's words.
_NO_FORMULA = "="


def write_csv(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """Write a table.

    Parameters
    ----------
    columns
        Header row.
    rows
        Cells in the order of the columns: texts, numbers, booleans, ``None`` (empty), or lists (joined by ``;``).

    Returns
    -------
    bytes
        The file.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([cell_text(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8")


def cell_text(cell: object) -> str:
    """Write one cell; a text that a spreadsheet would run as a formula gets a leading apostrophe."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, int | float | Decimal):
        return plain_number(cell)
    text = ";".join(map(str, cell)) if isinstance(cell, list | tuple) else str(cell)
    return f"'{text}" if text != _NO_FORMULA and _STARTS_A_FORMULA.match(text) else text


def plain_number(value: float | Decimal) -> str:
    """Write a number with a dot and without an exponent."""
    if isinstance(value, int):
        return str(value)
    return f"{Decimal(repr(value)) if isinstance(value, float) else value:f}"


def flatten(row: dict[str, Json], prefix: str = "") -> dict[str, Json]:
    """Lay nested members out as columns: ``band.from_kg`` becomes ``band_from_kg``; listed objects are numbered."""
    flat: dict[str, Json] = {}
    for name, value in row.items():
        if isinstance(value, dict):
            flat |= flatten(value, f"{prefix}{name}_")
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for position, item in enumerate(value, start=1):
                flat |= flatten(item, f"{prefix}{name}_{position}_")
        else:
            flat[prefix + name] = value
    return flat
