"""Checks on the tables as text: bytes, blanks, numbers, words and keys, before any cell becomes a value.

Validators of Table Schema let some of this pass (``NaN`` and ``1_0`` as numbers, repeated unique keys, words outside
the categories, stray blanks), so it is looked at here on the raw cells.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from service.reference.table_columns import Column, columns_of

Rows = Sequence[tuple[int, Mapping[str, str]]]

_BYTE_ORDER_MARK = b"\xef\xbb\xbf"
_NOT_FINITE = re.compile(r"[+-]?(nan|inf|infinity)", re.IGNORECASE)
_PLAIN: Mapping[str, tuple[re.Pattern[str], str]] = {
    "number": (re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?"), "a plain decimal number"),
    "integer": (re.compile(r"-?(?:0|[1-9][0-9]*)"), "a whole number"),
    "boolean": (re.compile(r"true|false"), "true or false"),
}
# Cc: control, Cf: invisible, Zl and Zp: separators; a blank is U+0020 and nothing else.
_INVISIBLE = ("Cc", "Cf", "Zl", "Zp", "Co", "Cn")
FORBIDDEN = (
    ("brand mark", re.compile("[\u00ae\u2122\u2120]|(?<=[A-Za-z])\\((?:R|TM)\\)")),
    (
        "promise",
        re.compile(
            r"\b(?:(?:completely|perfectly|totally|absolutely|entirely) (?:safe|harmless)|safe to (?:give|use|feed)"
            r"|risk[- ]free|clinically proven)\b",
            re.IGNORECASE,
        ),
    ),
)


def check_bytes(path: str, data: bytes) -> Iterator[str]:
    """Check encoding, line ends and Unicode form of one text file.

    Parameters
    ----------
    path
        Name of the file for the messages.
    data
        The whole file.

    Yields
    ------
    str
        One sentence per defect.
    """
    if data.startswith(_BYTE_ORDER_MARK):
        yield f"{path}: begins with a byte order mark"
    if b"\r" in data:
        yield f"{path}: holds a carriage return; lines end in a line feed alone"
    if not data.endswith(b"\n") or data.endswith(b"\n\n"):
        yield f"{path}: must end with exactly one line feed"
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        yield f"{path}: is not UTF-8 at byte {error.start}"
        return
    for number, line in enumerate(text.split("\n"), start=1):
        if not unicodedata.is_normalized("NFC", line):
            yield f"{path} line {number}: is not in Unicode form NFC"
        for word, pattern in FORBIDDEN:
            for found in pattern.finditer(line):
                yield f"{path} line {number}: {word} {found.group()!r}"


def parse(table: str, text: str) -> tuple[Rows, tuple[str, ...]]:
    """Split a table into rows of raw cells.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.
    text
        The whole file.

    Returns
    -------
    tuple
        Rows with their line numbers, and one sentence per row that does not fit the header.
    """
    expected = [column.name for column in columns_of(table)]
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows: list[tuple[int, Mapping[str, str]]] = []
    defects: list[str] = []
    try:
        header = next(reader, [])
        if header != expected:
            return (), (f"{table}: the header is {header}, expected {expected}",)
        for cells in reader:
            if len(cells) == len(expected):
                rows.append((reader.line_num, dict(zip(expected, cells, strict=True))))
            else:
                defects.append(f"{table} line {reader.line_num}: {len(cells)} cells, expected {len(expected)}")
    except csv.Error as error:
        defects.append(f"{table} line {reader.line_num}: {error}")
    return rows, tuple(defects)


def check_cells(table: str, rows: Rows) -> Iterator[str]:
    """Check every raw cell of a table against its column.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.
    rows
        Rows of raw cells with their line numbers.

    Yields
    ------
    str
        One sentence per defect.
    """
    for column in columns_of(table):
        for number, row in rows:
            for defect in _cell_defects(column, row[column.name]):
                yield f"{table} line {number}, {column.name}: {defect}"


def _cell_defects(column: Column, cell: str) -> Iterator[str]:
    if cell == "":
        if column.required:
            yield "must not be empty"
        return
    yield from _blank_defects(cell)
    if column.type in _PLAIN:
        pattern, wording = _PLAIN[column.type]
        if _NOT_FINITE.fullmatch(cell):
            yield f"{cell!r} is not a finite number"
        elif not pattern.fullmatch(cell):
            yield f"{cell!r} is not {wording}"
        return
    items = cell.split(";") if column.is_list else [cell]
    if column.is_list and any(item == "" or item != item.strip() for item in items):
        yield f"{cell!r} has an empty or padded list item"
    if column.is_list and len(set(items)) < len(items):
        yield f"{cell!r} repeats a list item"


def _blank_defects(cell: str) -> Iterator[str]:
    if cell != cell.strip():
        yield f"{cell!r} begins or ends with a blank"
    if "  " in cell:
        yield f"{cell!r} has a double blank"
    for character in dict.fromkeys(cell):
        category = unicodedata.category(character)
        if category in _INVISIBLE or (category == "Zs" and character != " "):
            yield f"{cell!r} holds the invisible character U+{ord(character):04X}"


def check_declared(table: str, schema: Mapping[str, Any], rows: Rows) -> Iterator[str]:
    """Check what a validator of Table Schema overlooks: unique keys and categories as the descriptor declares them.

    Parameters
    ----------
    table
        Name of a table, for example ``limits``.
    schema
        The table's schema in the descriptor.
    rows
        Rows of raw cells with their line numbers.

    Yields
    ------
    str
        One sentence per repeated key or unknown word.
    """
    for key in schema.get("uniqueKeys", ()):
        # As in SQL, a row with an empty part of a unique key is not compared.
        counts = Counter(tuple(row[name] for name in key) for _, row in rows)
        for value, count in counts.items():
            if count > 1 and all(value):
                yield f"{table}: {' + '.join(value)} stands {count} times as {' + '.join(key)}"
    for field in schema.get("fields", ()):
        categories = field.get("categories")
        for number, row in rows if categories else ():
            if row[field["name"]] and row[field["name"]] not in categories:
                yield f"{table} line {number}, {field['name']}: {row[field['name']]!r} is not one of the categories"
