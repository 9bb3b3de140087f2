"""``/v1/dataset``: releases, descriptor, tables, archive."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import Any

from flask import Blueprint, Response

from service.domain.common import NOTICE
from service.domain.suggesting import nearest_ids
from service.reference.loading import TABLES, columns
from service.reference.release import Reference
from service.schemas.dataset import ReleasesAnswerSchema, TableAnswerSchema
from service.schemas.operations import NoQuerySchema
from service.schemas.request_base import shown
from service.web.envelope import Envelope
from service.web.faults import Fault
from service.web.negotiation import ANY_ENDING, JSON_ONLY, choose
from service.web.query import QueryReader
from service.web.responses import Caching, respond
from service.web.serving import current, envelope
from service.web.tables import Table, written
from service.web.wire import to_wire

blueprint = Blueprint("dataset", __name__)
_query = QueryReader(NoQuerySchema)
_LICENCE = "CC-BY-4.0"
# A fixed time makes the archive of a release the same bytes on every machine.
_ARCHIVE_TIME = (1980, 1, 1, 0, 0, 0)


@blueprint.get("/v1/dataset")
def list_releases() -> Response:
    """Answer with all releases, newest first."""
    choose(JSON_ONLY)
    _query.read()
    versions = current().all().versions
    members = {"releases": [_release(envelope(version).reference) for version in versions], "licence": _LICENCE}
    return respond(envelope().plain_json(members, ReleasesAnswerSchema), "json", Caching.REVALIDATE)


def _release(reference: Reference) -> dict[str, Any]:
    version = reference.stamp.version
    base = f"/v1/dataset/{version}"
    tables = [
        {
            "name": name,
            "rows": len(reference.tables[name]),
            **{form: f"{base}/{name}.{form}" for form in ("json", "csv", "html")},
            "released_file": f"{base}/tables/{name}.csv",
        }
        for name in TABLES
    ]
    links = {"descriptor": f"{base}/datapackage.json", "archive": f"{base}/archive.zip", "tables": tables}
    return {**to_wire(reference.stamp), **links}


@blueprint.get("/v1/dataset/<version>/datapackage.json")
def get_descriptor(version: str) -> Response:
    """Answer with the descriptor of a release, as released."""
    return _released(version, "datapackage.json", "json")


@blueprint.get("/v1/dataset/<version>/tables/<table>.csv")
def get_released_table(version: str, table: str) -> Response:
    """Answer with a table of a release, byte for byte."""
    return _released(version, f"tables/{_table_name(table)}.csv", "csv")


@blueprint.get("/v1/dataset/<version>/archive.zip")
def get_archive(version: str) -> Response:
    """Answer with everything of a release in one file."""
    _query.read()
    envelope(version)  # refuses an unknown release
    body = current().kept((version, "archive.zip"), lambda: _zipped(_files(version), f"dataset-{version}"))
    return respond(body, "zip", Caching.RELEASED)


@blueprint.get(f"/v1/dataset/<version>/<table>.<{ANY_ENDING}:ending>")
def get_table(version: str, table: str, ending: str) -> Response:
    """Answer with one table of a release."""
    _query.read()
    release = envelope(version)
    name = _table_name(table)
    body = current().kept((version, name, ending), lambda: _written_table(release, name, ending))
    return respond(body, ending, Caching.RELEASED)


def _written_table(release: Envelope, name: str, ending: str) -> bytes:
    names = columns(TABLES[name])
    records = release.reference.tables[name]
    rows = [{column: to_wire(getattr(record, column)) for column in names} for record in records]
    if ending != "json":
        return written(Table(f"Table {name}", names, rows, {"dataset": release.dataset, "notice": NOTICE}), ending)
    members = {
        "dataset": release.dataset,
        "table": name,
        "columns": list(names),
        "row_count": len(rows),
        "rows": rows,
        "notice": NOTICE,
    }
    return release.plain_json(members, TableAnswerSchema)


def _table_name(text: str) -> str:
    # The descriptor names its resources with hyphens, the tables have underscores: both are understood.
    name = text.replace("-", "_")
    if name not in TABLES:
        near = list(nearest_ids(text, TABLES))
        raise Fault("not-found", f"No table of the dataset has the name {shown(text)}.", members={"nearest": near})
    return name


def _files(version: str) -> Mapping[str, bytes]:
    envelope(version)  # raises for an unknown release before any file is touched
    return current().all().files(version)


def _released(version: str, path: str, form: str) -> Response:
    _query.read()
    files = _files(version)
    if path not in files:
        raise Fault("not-found", f"Release {version} has no file {path}.")
    return respond(files[path], form, Caching.RELEASED)


def _zipped(files: Mapping[str, bytes], folder: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(files):
            archive.writestr(zipfile.ZipInfo(f"{folder}/{path}", _ARCHIVE_TIME), files[path], zipfile.ZIP_DEFLATED)
    return out.getvalue()
