"""``fabella dataset check``: everything that must hold before the working tables may be released."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from service.reference.audit_descriptor import check_descriptor, check_freshness
from service.reference.audit_releases import check_releases
from service.reference.audit_rows import check_rows
from service.reference.audit_text import check_bytes, check_cells, check_declared, parse
from service.reference.checking import check_tables
from service.reference.descriptor import FILE, Descriptor, load_descriptor, refresh, resource_of
from service.reference.loading import TABLES, read_table

__all__ = ("DOCUMENTS", "audit", "refresh", "skipped")

# Released beside the tables; each must be there.
DOCUMENTS = ("README.md", "LICENSE", "CITATION.cff", "CHANGELOG.md")
_CITED_VERSION = re.compile(r"^version: *\"?([0-9.]+)\"?$", re.MULTILINE)
_CITED_DATE = re.compile(r"^date-released: *\"?([0-9-]+)\"?$", re.MULTILINE)


def audit(directory: Path) -> list[str]:
    """Find every defect of a dataset.

    Parameters
    ----------
    directory
        Dataset with ``datapackage.json``, ``tables``, the documents and perhaps ``releases``.

    Returns
    -------
    list of str
        One sentence per defect; empty where there is none. What could not be looked at is in :func:`skipped`.
    """
    files = {table: path.read_bytes() for table in TABLES if (path := _path(directory, table)).is_file()}
    defects = [f"tables/{table}.csv: is missing" for table in TABLES if table not in files]
    try:
        descriptor = load_descriptor(directory)
    except (OSError, ValueError) as error:
        return [*defects, f"{FILE}: cannot be read: {error}"]
    defects += check_descriptor(descriptor)
    defects += check_freshness(descriptor, files)
    defects += _check_documents(directory, descriptor)
    unreadable = [defect for table, data in files.items() for defect in _check_text(table, data, descriptor)]
    defects += unreadable
    if not unreadable and len(files) == len(TABLES):
        defects += _check_values(files)
    defects += check_releases(directory)
    if not defects:
        # A last opinion from outside; with a defect of our own it would only repeat it in other words.
        defects += _frictionless_defects(directory)
    return defects


def skipped() -> tuple[str, ...]:
    """Say which checks cannot be made on this installation."""
    if find_spec("frictionless") is None:
        return ("frictionless is not installed: its validation of the descriptor and tables was skipped",)
    return ()


def _path(directory: Path, table: str) -> Path:
    return directory / "tables" / f"{table}.csv"


def _check_documents(directory: Path, descriptor: Descriptor) -> Iterator[str]:
    for name in (FILE, *DOCUMENTS):
        path = directory / name
        if not path.is_file():
            yield f"{name}: is missing"
        elif name != "LICENSE":
            yield from check_bytes(name, path.read_bytes())
    citation = directory / "CITATION.cff"
    text = citation.read_text("utf-8", errors="replace") if citation.is_file() else ""
    for pattern, member in ((_CITED_VERSION, "version"), (_CITED_DATE, "released")):
        found = pattern.search(text)
        if found is None or found.group(1) != descriptor.get(member):
            yield f"CITATION.cff: {member} is not the {descriptor.get(member)} of the descriptor"


def _check_text(table: str, data: bytes, descriptor: Descriptor) -> Iterator[str]:
    yield from check_bytes(f"tables/{table}.csv", data)
    try:
        rows, defects = parse(table, data.decode("utf-8"))
    except UnicodeDecodeError:
        return
    yield from defects
    yield from check_cells(table, rows)
    schema = (resource_of(descriptor, table) or {}).get("schema", {})
    if not defects:
        yield from check_declared(table, schema, rows)


def _check_values(files: dict[str, bytes]) -> tuple[str, ...]:
    try:
        tables = {table: read_table(table, data.decode("utf-8")) for table, data in files.items()}
    except ValueError as error:
        return (str(error),)
    return (*check_tables(tables), *check_rows(tables))


def _frictionless_defects(directory: Path) -> Iterator[str]:
    if skipped():
        return
    import frictionless

    report: Any = frictionless.validate(str(directory / FILE), type="package")
    for error in report.errors:
        yield f"frictionless: {error.note}"
    for task in report.tasks:
        for error in task.errors:
            place = " ".join(filter(None, (task.name, _place(error))))
            yield f"frictionless {place}: {error.note}"


def _place(error: object) -> str:
    row, field = getattr(error, "row_number", None), getattr(error, "field_name", None)
    return ", ".join(filter(None, (f"line {row}" if row else "", field or "")))
