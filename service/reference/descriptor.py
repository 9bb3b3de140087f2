"""The descriptor ``datapackage.json``: reading it, and refreshing the members that follow from the tables' bytes.

Everything else in it is written by hand: descriptions, units, bounds and patterns of every column.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from service.reference.table_columns import resource_name

FILE = "datapackage.json"
_LONGEST_EXAMPLE = 120

Descriptor = dict[str, Any]


def load_descriptor(directory: Path) -> Descriptor:
    """Read the descriptor of a dataset or release.

    Parameters
    ----------
    directory
        Dataset or release that holds the descriptor.

    Returns
    -------
    Descriptor
        Not checked any further.

    Raises
    ------
    OSError, ValueError
        If there is none or it is not a JSON object.
    """
    descriptor = json.loads((directory / FILE).read_text("utf-8"))
    if not isinstance(descriptor, dict):
        raise ValueError(f"{FILE} is not a JSON object")
    return descriptor


def dump_descriptor(descriptor: Descriptor) -> bytes:
    """Bytes of a descriptor, always laid out the same way.

    Parameters
    ----------
    descriptor
        A parsed ``datapackage.json``.

    Returns
    -------
    bytes
        JSON in UTF-8, ending in a line feed.
    """
    return (json.dumps(descriptor, indent=2, ensure_ascii=False) + "\n").encode()


def resource_of(descriptor: Descriptor, table: str) -> dict[str, Any] | None:
    """Find the entry of a table.

    Parameters
    ----------
    descriptor
        A parsed ``datapackage.json``.
    table
        Name of a table, for example ``limits``.

    Returns
    -------
    dict or None
        ``None`` where the descriptor does not list the table.
    """
    name = resource_name(table)
    return next((entry for entry in descriptor.get("resources", ()) if entry.get("name") == name), None)


def fingerprint(data: bytes) -> dict[str, int | str]:
    """Members ``bytes`` and ``hash`` of a file.

    Parameters
    ----------
    data
        All bytes of the file.

    Returns
    -------
    dict
        Number of bytes, and ``sha256:`` with the hash in hexadecimal.
    """
    return {"bytes": len(data), "hash": f"sha256:{hashlib.sha256(data).hexdigest()}"}


def refresh(directory: Path) -> tuple[str, ...]:
    """Write anew what the descriptor says of the tables' bytes, hashes and examples.

    Parameters
    ----------
    directory
        Dataset with ``datapackage.json`` and ``tables``.

    Returns
    -------
    tuple of str
        Names of the resources whose entry changed. A table that does not exist is left for the audit to report.

    Raises
    ------
    OSError, ValueError
        If the descriptor or a table cannot be read.
    """
    descriptor = load_descriptor(directory)
    changed = []
    for resource in descriptor["resources"]:
        path = directory / resource["path"]
        if not path.is_file():
            continue
        before = json.dumps(resource)
        data = path.read_bytes()
        resource.update(fingerprint(data))
        _refresh_examples(resource["schema"]["fields"], data.decode("utf-8"))
        if json.dumps(resource) != before:
            changed.append(resource["name"])
    (directory / FILE).write_bytes(dump_descriptor(descriptor))
    return tuple(changed)


def _refresh_examples(fields: list[dict[str, Any]], text: str) -> None:
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    for field in fields:
        values = [row[field["name"]] for row in rows if row.get(field["name"])]
        if field.get("example") in values:
            continue
        field.pop("example", None)
        if values:
            field["example"] = _example(values)


def _example(values: Sequence[str]) -> str:
    """Pick the first value that is short enough to read, or the shortest."""
    return next((value for value in values if len(value) <= _LONGEST_EXAMPLE), min(values, key=len))
