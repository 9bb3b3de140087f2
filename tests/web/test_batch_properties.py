"""Whatever is sent as a batch: as many rows come back as were sent, with their own cells, and nothing ends in a 500."""

from __future__ import annotations

import csv
import io
import json

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.web.batch_rows import CSV, DOSE_HEAD, NDJSON, cells, objects, send

_SETTINGS = settings(
    max_examples=60, deadline=None, database=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
_text = st.text(st.characters(codec="utf-8"), max_size=12)
_json = st.recursive(st.none() | st.booleans() | st.integers() | _text, lambda below: st.lists(below, max_size=3))
_OPERATIONS = ("dose", "normalise", "screen")


@given(rows=st.lists(st.tuples(_text, _text, _text, _text), max_size=6))
@_SETTINGS
def test_every_row_of_csv_comes_back(app: Flask, rows: list[tuple[str, str, str, str]]) -> None:
    out = io.StringIO(newline="")
    writer = csv.writer(out, quoting=csv.QUOTE_ALL)
    writer.writerow(DOSE_HEAD.split(","))
    writer.writerows(rows)
    answered = cells(send(app.test_client(), "dose", out.getvalue().encode()))
    assert len(answered) == len(rows)
    for sent, row in zip(rows, answered, strict=True):
        came_back = [row[name] for name in DOSE_HEAD.split(",")]
        assert [cell in (text, f"'{text}") for text, cell in zip(sent, came_back, strict=True)] == [True] * 4
        assert row["status"] == "refused"
        assert row["problem"] != "internal"


@given(rows=st.lists(st.dictionaries(_text, _json, max_size=4) | _json, min_size=1, max_size=6))
@pytest.mark.parametrize("operation", _OPERATIONS)
@_SETTINGS
def test_every_line_of_ndjson_comes_back(app: Flask, operation: str, rows: list[object]) -> None:
    body = b"".join(json.dumps(row).encode() + b"\n" for row in rows)
    answered = objects(send(app.test_client(), operation, body, NDJSON))
    assert len(answered) == len(rows)
    for sent, row in zip(rows, answered, strict=True):
        assert row["status"] == "refused"
        assert row["problem"] != "internal"
        kept = json.loads(row["input"]) if "input" in row else {name: row[name] for name in sent}  # type: ignore[attr-defined]
        assert kept == sent


@given(body=st.binary(max_size=200), packed=st.booleans())
@pytest.mark.parametrize("media_type", [CSV, NDJSON])
@pytest.mark.parametrize("operation", _OPERATIONS)
@_SETTINGS
def test_no_bytes_end_in_a_failure_of_ours(
    app: Flask, operation: str, media_type: str, body: bytes, packed: bool
) -> None:
    headers = {"Content_Encoding": "gzip"} if packed else {}
    response = send(app.test_client(), operation, body, media_type, **headers)
    assert response.status_code in (200, 400, 413, 422)
    assert b"internal" not in response.data
