"""``/v1/dataset``: what was released stays downloadable, byte for byte."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import zipfile

import pytest
from flask.testing import FlaskClient

from service.reference.loading import TABLES
from service.reference.releases import Releases
from tests.web.asserting import assert_problem


@pytest.fixture
def version(releases: Releases) -> str:
    """Give the newest version."""
    return releases.newest.stamp.version


def test_list(client: FlaskClient, releases: Releases) -> None:
    members = client.get("/v1/dataset").get_json()
    assert [release["version"] for release in members["releases"]] == list(releases.versions)
    newest = members["releases"][0]
    assert {table["name"] for table in newest["tables"]} == set(TABLES)
    for link in (newest["descriptor"], newest["archive"], newest["tables"][0]["released_file"]):
        assert client.get(link).status_code == 200


def test_descriptor_and_its_paths_hold_their_hashes(client: FlaskClient, releases: Releases, version: str) -> None:
    response = client.get(f"/v1/dataset/{version}/datapackage.json")
    assert hashlib.sha256(response.data).hexdigest() == releases.newest.stamp.sha256
    for resource in json.loads(response.data)["resources"]:
        data = client.get(f"/v1/dataset/{version}/{resource['path']}").data
        assert resource["hash"] == f"sha256:{hashlib.sha256(data).hexdigest()}"


@pytest.mark.parametrize("table", TABLES)
def test_table_is_the_same_in_each_representation(client: FlaskClient, version: str, table: str) -> None:
    members = client.get(f"/v1/dataset/{version}/{table}.json").get_json()
    assert members["row_count"] == len(members["rows"])
    assert [list(row) for row in members["rows"]] == [members["columns"]] * members["row_count"]
    text = client.get(f"/v1/dataset/{version}/{table}.csv").get_data(as_text=True)
    rows = list(csv.reader(io.StringIO(text)))
    assert rows[0] == members["columns"]
    assert len(rows) == members["row_count"] + 1
    assert "\n" not in text.replace("\r\n", "")
    page = client.get(f"/v1/dataset/{version}/{table}.html").get_data(as_text=True)
    assert page.count("<tr") == min(members["row_count"], 500) + 1
    assert ("The first 500 of" in page) == (members["row_count"] > 500)


def test_no_cell_of_a_table_runs_as_a_formula(client: FlaskClient, version: str) -> None:
    for table in TABLES:
        members = client.get(f"/v1/dataset/{version}/{table}.json").get_json()
        text = client.get(f"/v1/dataset/{version}/{table}.csv").get_data(as_text=True)
        for typed, cells in zip(members["rows"], list(csv.reader(io.StringIO(text)))[1:], strict=True):
            for value, cell in zip(typed.values(), cells, strict=True):
                # A lone "=" is a word of its column, and no formula.
                plain = isinstance(value, int | float) or cell == "="
                assert plain or not cell.lstrip().startswith(("=", "+", "-", "@")), (table, cell)


def test_operators_stay_words_of_their_column(client: FlaskClient, version: str) -> None:
    rows = csv.DictReader(
        io.StringIO(client.get(f"/v1/dataset/{version}/hazard_thresholds.csv").get_data(as_text=True))
    )
    assert "=" in {cell for row in rows for cell in row.values()}


def test_table_by_the_name_in_the_descriptor(client: FlaskClient, version: str) -> None:
    with_hyphen = client.get(f"/v1/dataset/{version}/hazard-thresholds.json")
    assert with_hyphen.data == client.get(f"/v1/dataset/{version}/hazard_thresholds.json").data


def test_archive_holds_every_file_and_never_changes(client: FlaskClient, releases: Releases, version: str) -> None:
    first = client.get(f"/v1/dataset/{version}/archive.zip")
    assert first.content_type == "application/zip"
    with zipfile.ZipFile(io.BytesIO(first.data)) as archive:
        inside = {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}
    assert inside == dict(releases.files(version))
    assert client.get(f"/v1/dataset/{version}/archive.zip").data == first.data


@pytest.mark.parametrize("path", ["datapackage.json", "archive.zip", "limits.csv", "limits.json", "tables/limits.csv"])
def test_released_files_may_be_kept_for_ever(client: FlaskClient, version: str, path: str) -> None:
    response = client.get(f"/v1/dataset/{version}/{path}")
    assert "immutable" in response.headers["Cache-Control"]
    assert response.headers["ETag"].startswith('"')
    again = client.get(f"/v1/dataset/{version}/{path}", headers={"If-None-Match": response.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


@pytest.mark.parametrize(
    "path", ["9.9.9/limits.csv", "9.9.9/datapackage.json", "9.9.9/archive.zip", "..%2f/limits.csv", "1/limits.html"]
)
def test_unknown_release(client: FlaskClient, path: str) -> None:
    response = client.get(f"/v1/dataset/{path}")
    assert_problem(response, "not-found" if "%2f" in path else "unknown-dataset-release")


@pytest.mark.parametrize(
    "path", ["limit.csv", "limit.json", "tables/limit.csv", "limits.xlsx", "tables/../datapackage.json"]
)
def test_unknown_table(client: FlaskClient, version: str, path: str) -> None:
    members = assert_problem(client.get(f"/v1/dataset/{version}/{path}"), "not-found")
    assert "limit." not in path or "limits" in members["nearest"]
