"""Whether the descriptor says what the record classes, the vocabulary and the tables' bytes say."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any

from service.reference.descriptor import Descriptor, fingerprint, resource_of
from service.reference.loading import TABLES
from service.reference.table_columns import (
    Column,
    columns_of,
    foreign_keys,
    primary_key,
    resource_name,
    row_key,
)

PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
_PACKAGE_MEMBERS = ("name", "title", "description", "version", "created", "released", "licenses", "contributors")
_RESOURCE_MEMBERS = {"format": "csv", "mediatype": "text/csv", "encoding": "utf-8", "type": "table"}


def check_descriptor(descriptor: Descriptor) -> Iterator[str]:
    """Compare the descriptor with the code.

    Parameters
    ----------
    descriptor
        A parsed ``datapackage.json``.

    Yields
    ------
    str
        One sentence per difference.
    """
    if descriptor.get("$schema") != PROFILE:
        yield f"descriptor: $schema is not {PROFILE}"
    for member in _PACKAGE_MEMBERS:
        if not descriptor.get(member):
            yield f"descriptor: {member} is missing"
    names = [entry.get("name") for entry in descriptor.get("resources", ())]
    for name in sorted(str(name) for name in set(names) - {resource_name(table) for table in TABLES}):
        yield f"descriptor: {name} is not a table"
    for table in TABLES:
        if names.count(resource_name(table)) != 1:
            yield f"descriptor: {resource_name(table)} stands {names.count(resource_name(table))} times"
            continue
        yield from _check_resource(table, resource_of(descriptor, table) or {})


def _check_resource(table: str, resource: Mapping[str, Any]) -> Iterator[str]:
    for member, expected in {"path": f"tables/{table}.csv", **_RESOURCE_MEMBERS}.items():
        if resource.get(member) != expected:
            yield f"descriptor {resource['name']}: {member} is {resource.get(member)!r}, expected {expected!r}"
    for member in ("title", "description"):
        if not resource.get(member):
            yield f"descriptor {resource['name']}: {member} is missing"
    schema = resource.get("schema", {})
    names = [field.get("name") for field in schema.get("fields", ())]
    expected_names = [column.name for column in columns_of(table)]
    if names != expected_names:
        yield f"descriptor {resource['name']}: the columns are {names}, the records have {expected_names}"
        return
    for column, field in zip(columns_of(table), schema["fields"], strict=True):
        for defect in _field_defects(column, field):
            yield f"descriptor {resource['name']}, {column.name}: {defect}"
    for defect in _key_defects(table, schema):
        yield f"descriptor {resource['name']}: {defect}"


def _field_defects(column: Column, field: Mapping[str, Any]) -> Iterator[str]:
    constraints = field.get("constraints", {})
    if field.get("type") != column.type:
        yield f"type {field.get('type')}, the records have {column.type}"
    if bool(constraints.get("required")) != column.required:
        yield f"required is {bool(constraints.get('required'))}, the records have {column.required}"
    if not field.get("description"):
        yield "description is missing"
    if column.type == "boolean" and (field.get("trueValues"), field.get("falseValues")) != (["true"], ["false"]):
        yield "only true and false are booleans"
    if column.is_list and column.words:
        word = "(" + "|".join(column.words) + ")"
        if constraints.get("pattern") != f"{word}(;{word})*":
            yield "the pattern differs from the vocabulary"
    elif column.words and field.get("categories") != list(column.words):
        yield "the categories differ from the vocabulary"
    if field.get("categories") != constraints.get("enum"):
        yield "categories and enum differ"


def _key_defects(table: str, schema: Mapping[str, Any]) -> Iterator[str]:
    if schema.get("missingValues") != [""]:
        yield "only an empty cell is a missing value"
    if tuple(schema.get("primaryKey", ())) != primary_key(table):
        yield f"primaryKey is {schema.get('primaryKey')}, expected {list(primary_key(table))}"
    if not primary_key(table) and list(row_key(table)) not in schema.get("uniqueKeys", ()):
        yield f"uniqueKeys lacks {list(row_key(table))}"
    declared = {
        (
            tuple(key["fields"]),
            key["reference"].get("resource", resource_name(table)),
            tuple(key["reference"]["fields"]),
        )
        for key in schema.get("foreignKeys", ())
    }
    expected = {
        ((column,), resource_name(target), primary_key(target)) for column, target in foreign_keys(table).items()
    }
    for columns, target, _ in sorted(expected ^ declared):
        word = "lacks" if (columns, target, _) in expected else "has an unknown"
        yield f"{word} foreign key {', '.join(columns)} to {target}"


def check_freshness(descriptor: Descriptor, files: Mapping[str, bytes]) -> Iterator[str]:
    """Compare bytes, hashes and examples with the tables.

    Parameters
    ----------
    descriptor
        The descriptor.
    files
        Bytes of each table by its name.

    Yields
    ------
    str
        One sentence per stale member.
    """
    for table, data in files.items():
        resource = resource_of(descriptor, table) or {}
        for member, value in fingerprint(data).items():
            if resource.get(member) != value:
                yield f"tables/{table}.csv: {member} {value} is not the {resource.get(member)} of the descriptor"
        yield from _stale_examples(table, resource, data)


def _stale_examples(table: str, resource: Mapping[str, Any], data: bytes) -> Iterator[str]:
    try:
        rows = list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))
    except UnicodeDecodeError:
        return
    for field in resource.get("schema", {}).get("fields", ()):
        values = {row.get(field["name"]) for row in rows} - {"", None}
        if field.get("example") not in (values or {None}):
            yield f"descriptor {resource['name']}, {field['name']}: the example is not a value of the column"
