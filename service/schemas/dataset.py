"""``/v1/dataset``: releases, descriptor, tables, archive."""

from __future__ import annotations

from marshmallow import fields

from service.schemas import answer_fields as member
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import DatasetStampSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation


class TableLinkSchema(AnswerSchema):
    """One table of a release."""

    name = member.text("Name of the table.", example="ingredients")
    rows = member.integer("Rows.", example=120)
    json = member.text("Path of the table as JSON.")
    csv = member.text("Path of the table as CSV.")
    html = member.text("Path of the table as a page.")
    released_file = member.text("Path of the bytes as they were released and hashed.")


class ReleaseSchema(AnswerSchema):
    """One release."""

    version = member.text("Version.", example="1.0.0")
    released = member.text("Day of release.", example="2024-05-01")
    sha256 = member.text("SHA-256 of the descriptor, hexadecimal.")
    descriptor = member.text("Path of the data package descriptor.")
    archive = member.text("Path of everything in one ZIP file.")
    tables = member.many(TableLinkSchema, "The tables.")


class ReleasesAnswerSchema(AnswerSchema):
    """All releases."""

    releases = member.many(ReleaseSchema, "Every release, newest first.")
    licence = member.text("Licence of the data.", example="CC-BY-4.0")


class TableAnswerSchema(AnswerSchema):
    """One table of a release."""

    dataset = member.one(DatasetStampSchema, "The release.")
    table = member.text("Name of the table.", example="ingredients")
    columns = member.texts("Column names in order.")
    row_count = member.integer("Rows.", example=120)
    rows = fields.List(
        fields.Dict(keys=fields.String()),
        required=True,
        metadata={"description": "The rows; the descriptor says what each column means. An empty cell is null."},
    )
    notice = member.text("Information, not a prescription.")


_RELEASE = ("unknown-dataset-release", *INPUT_PROBLEMS, "not-ready", "internal")
_FILE = (*_RELEASE, "not-found")


def _file(id_: str, path: str, media_type: str, summary: str) -> Operation:
    return Operation(
        id=id_,
        path=path,
        tag="dataset",
        summary=summary,
        description="Released bytes never change; the answer may be kept for ever.",
        media_types=(media_type,),
        problems=_FILE,
    )


OPERATIONS = (
    Operation(
        id="list_releases",
        path="/v1/dataset",
        tag="dataset",
        summary="Dataset releases, newest first",
        description="Pin an answer to one of them with the query parameter `dataset`.",
        answer=ReleasesAnswerSchema,
        problems=(*INPUT_PROBLEMS, *COMPUTED[1:]),
        example="releases",
    ),
    _file(
        "get_descriptor",
        "/v1/dataset/{version}/datapackage.json",
        "application/json",
        "The data package descriptor of a release",
    ),
    Operation(
        id="get_table",
        path="/v1/dataset/{version}/{table}.json",
        tag="dataset",
        summary="One table of a release as JSON",
        description="Numbers are JSON numbers, lists are lists, an empty cell is null.",
        answer=TableAnswerSchema,
        problems=_FILE,
        example="table",
    ),
    _file(
        "get_table_csv",
        "/v1/dataset/{version}/{table}.csv",
        "text/csv",
        "One table of a release as CSV for spreadsheets",
    ),
    _file("get_table_html", "/v1/dataset/{version}/{table}.html", "text/html", "One table of a release as a page"),
    _file(
        "get_released_table",
        "/v1/dataset/{version}/tables/{table}.csv",
        "text/csv",
        "One table of a release, byte for byte as hashed in the descriptor",
    ),
    _file(
        "get_archive", "/v1/dataset/{version}/archive.zip", "application/zip", "Everything of a release in one ZIP file"
    ),
)
