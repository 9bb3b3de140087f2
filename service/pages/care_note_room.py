"""How large a care note can be set so that it fits on one sheet, estimated from its lines."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from service.pages.care_note import Sheet

# Characters of a line in one of the two columns of the printed sheet.
_COLUMN = 62
# Lines at the ordinary size, of A4 and Letter alike, up to which a larger size still fits; and from which only a
# smaller one does. A note beyond the last number goes on to a second sheet, at the ordinary size.
_ROOMY, _ORDINARY, _DENSE = 36, 48, 62


def lines_of(sheet: Sheet) -> int:
    """Estimate the lines of the printed sheet above the lines for handwriting.

    Parameters
    ----------
    sheet
        The care note as laid out for people.

    Returns
    -------
    int
        Lines of the tables, and half of those that stand in two columns.
    """
    tables = [table for product in sheet.given for table in product.tables]
    given = sum(2 + sum(1 + len(line.left_open) for line in table.lines) for table in tables) + len(sheet.given)
    told = (*sheet.medications, *sheet.supplements, *sheet.conditions, *sheet.observations)
    columns = _lines(told) + _lines((*sheet.remarks, *sheet.gaps))
    columns += _lines(f"{finding.text} {finding.action}" for finding in sheet.findings)
    columns += _lines(question.text for question in sheet.questions)
    columns += _lines(f"{sign.text} {sign.action}" for sign in sheet.watch_for)
    columns += _lines(f"{day}, {names}" for day, names in sheet.reassess)
    return given + len(sheet.amounts) + 2 + ceil(columns / 2)


def size_of(sheet: Sheet) -> str:
    """Choose how large a sheet is printed.

    Parameters
    ----------
    sheet
        The care note as laid out for people.

    Returns
    -------
    str
        ``roomy``, ``ordinary`` or ``dense``; the page has a class of that name.
    """
    lines = lines_of(sheet)
    if lines <= _ROOMY:
        return "roomy"
    return "dense" if _ORDINARY < lines <= _DENSE else "ordinary"


def _lines(texts: Iterable[str]) -> int:
    return sum(ceil(len(text) / _COLUMN) for text in texts)
