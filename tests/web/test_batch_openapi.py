"""What the OpenAPI document says of batches is what they do."""

from __future__ import annotations

import csv
import io
import json

import pytest
from flask.testing import FlaskClient

from service.schemas.batch import OPERATIONS
from service.schemas.batch_columns import DOSE, SCREEN, normalise_columns
from service.schemas.batch_limits import LARGEST_BATCH_BYTES, LONGEST_ROW_BYTES, MOST_ROWS
from service.schemas.operation import Operation
from service.web.openapi import batch_example_path
from service.web.problems import KINDS
from tests.web.batch_rows import CSV, NDJSON, cells, objects, send


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.id)
class TestEveryBatch:
    """Limits and examples of each operation."""

    def test_limits_are_stated(self, operation: Operation) -> None:
        for limit in (MOST_ROWS, LARGEST_BATCH_BYTES, LONGEST_ROW_BYTES):
            assert f"{limit:,}" in operation.description

    def test_every_column_of_the_answer_is_described(self, operation: Operation) -> None:
        facts = {name.replace("fact_1_", "fact_N_"): meaning for name, meaning in normalise_columns((1,)).items()}
        columns = {"batch_dose": DOSE, "batch_normalise": facts, "batch_screen": SCREEN}[operation.id]
        for name, meaning in columns.items():
            assert f"- `{name}`: {meaning}" in operation.description

    @pytest.mark.parametrize("media_type", [CSV, NDJSON])
    def test_examples_are_invented_and_true(self, client: FlaskClient, operation: Operation, media_type: str) -> None:
        request = batch_example_path(operation, media_type, "request").read_bytes()
        shown = batch_example_path(operation, media_type, "response").read_text("utf-8")
        assert b"Invented" in request
        name = operation.path.rpartition("/")[2]
        if media_type == CSV:
            answered = cells(send(client, name, request))
            example = list(csv.DictReader(io.StringIO(shown)))
            assert [list(row) for row in answered] == [list(row) for row in example]
        else:
            answered = objects(send(client, name, request, media_type, "detail=ids"))
            example = [json.loads(line) for line in shown.splitlines()]
            assert [set(row) for row in answered] == [set(row) for row in example]
        assert [row["status"] for row in answered] == [row["status"] for row in example]


def test_the_pages_of_the_problems_state_the_limits() -> None:
    assert f"{LARGEST_BATCH_BYTES:,} bytes and {MOST_ROWS:,} rows" in KINDS["body-too-large"].meaning
    assert "CSV and NDJSON" in KINDS["unsupported-media-type"].meaning
