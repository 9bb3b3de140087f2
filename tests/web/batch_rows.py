"""Invented rows for batches, and how they are sent and read again."""

from __future__ import annotations

import csv
import io
import json
from typing import Any

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

CSV = "text/csv"
NDJSON = "application/x-ndjson"
DOSE_HEAD = "name,species,weight,ingredient"
ADA = "Invented Ada,dog,34 kg,glucosamine"


def dose_csv(*rows: str, head: str = DOSE_HEAD) -> bytes:
    """Write a batch of dose rows."""
    return "\r\n".join((head, *rows, "")).encode()


def ndjson(*rows: object) -> bytes:
    """Write objects, one a line."""
    return b"".join(json.dumps(row).encode() + b"\n" for row in rows)


def send(
    client: FlaskClient, operation: str, body: bytes, media_type: str = CSV, query: str = "", **headers: str
) -> TestResponse:
    """Send a batch as it stands; headers are named with underscores."""
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    address = f"/v1/batch/{operation}{'?' + query if query else ''}"
    return client.post(address, data=body, content_type=media_type, headers=named)


def cells(response: TestResponse, separator: str = ",") -> list[dict[str, str]]:
    """Read an answered CSV."""
    assert response.status_code == 200, response.get_data(as_text=True)[:500]
    text = response.get_data().decode("utf-8")
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=separator, strict=True))


def objects(response: TestResponse) -> list[dict[str, Any]]:
    """Read an answered NDJSON."""
    assert response.status_code == 200, response.get_data(as_text=True)[:500]
    lines = response.get_data().split(b"\n")
    assert lines.pop() == b""
    return [json.loads(line) for line in lines]
