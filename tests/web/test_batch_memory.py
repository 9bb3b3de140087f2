"""Memory of a batch does not grow with its rows."""

from __future__ import annotations

import tracemalloc
from itertools import chain, repeat

import pytest
from flask.testing import FlaskClient

from service import create_app
from service.reference.releases import Releases
from service.web.batch import arriving
from tests.web.batch_rows import CSV, NDJSON

_KIB = 1024


class Endless:
    """A body that is made while it is read, so that it is never in memory itself."""

    def __init__(self, head: bytes, row: bytes, count: int) -> None:
        self._rows = chain((head,) if head else (), repeat(row, count))
        self._rest = b""

    def read(self, size: int) -> bytes:
        """Make the next bytes."""
        while len(self._rest) < size and (row := next(self._rows, b"")):
            self._rest += row
        piece, self._rest = self._rest[:size], self._rest[size:]
        return piece


def peak_bytes(client: FlaskClient, media_type: str, head: bytes, row: bytes, count: int) -> int:
    """Answer so many rows, throwing the answer away as it comes; gives the highest memory in use meanwhile."""
    tracemalloc.start()
    try:
        response = client.post(
            "/v1/batch/dose",
            headers={"Transfer-Encoding": "chunked"},
            content_type=media_type,
            environ_overrides={"wsgi.input": Endless(head, row, count), "wsgi.input_terminated": True},
        )
        lines = sum(piece.count(b"\n") for piece in response.iter_encoded())
        assert lines == count + (1 if head else 0)
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(
    ("media_type", "head", "row", "counts"),
    [
        (CSV, b"species,weight_kg,ingredient\n", b"dog,34,glucosamine\n", (300, 6_000)),
        (NDJSON, b"", b'{"species": "dog", "weight_kg": 34, "ingredient": "glucosamine"}\n', (100, 1_000)),
    ],
)
def test_twenty_times_the_rows_take_no_more_memory(
    releases: Releases,
    monkeypatch: pytest.MonkeyPatch,
    media_type: str,
    head: bytes,
    row: bytes,
    counts: tuple[int, int],
) -> None:
    client = create_app(releases).test_client()
    # Rows wait on disk from the first on, as those of a large batch do.
    monkeypatch.setattr(arriving, "_KEPT_IN_MEMORY_BYTES", 1)
    peak_bytes(client, media_type, head, row, 10)
    few, many = (peak_bytes(client, media_type, head, row, count) for count in counts)
    # The many answers have some 3 MiB (CSV) and 12 MiB (NDJSON).
    assert many < few + 200 * _KIB
