"""Batches over real HTTP: large bodies in pieces, long answers, and refusals that reach a caller who still sends."""

from __future__ import annotations

import http.client
import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from urllib.parse import urlsplit

from service.cli.child import Child
from service.schemas.batch_limits import LARGEST_BATCH_BYTES

HEAD = b"name,species,weight_kg,ingredient\n"
ROW = b"invented,dog,34,glucosamine\n"


@contextmanager
def answer(
    live: Child, body: bytes | Iterable[bytes], path: str = "/v1/batch/dose", media_type: str = "text/csv"
) -> Iterator[http.client.HTTPResponse]:
    """Send a body, in chunks where it is several pieces."""
    address = urlsplit(live.url)
    connection = http.client.HTTPConnection(address.hostname or "", address.port, timeout=30)
    try:
        connection.request("POST", path, body, {"Content-Type": media_type})
        with connection.getresponse() as response:
            yield response
    finally:
        connection.close()


def test_a_body_in_chunks_beyond_the_limit_of_other_addresses(live: Child) -> None:
    pieces = [HEAD, *[ROW * 500] * 8]
    assert sum(map(len, pieces)) > 65_536
    with answer(live, iter(pieces)) as response:
        assert response.status == 200
        assert response.headers["Transfer-Encoding"] == "chunked"
        lines = response.read().split(b"\r\n")
    assert len(lines) == 4002
    assert lines[1].startswith(b"invented,dog,34,glucosamine,ok,")


def test_too_large_a_body_is_told_to_a_caller_that_sends_all_of_it(live: Child) -> None:
    with answer(live, b"x" * (LARGEST_BATCH_BYTES + 1)) as response:
        problem = json.load(response)
    assert (response.status, problem["status"]) == (413, 413)
    assert problem["type"] == f"{live.url}/problems/body-too-large"


def test_a_refusal_leaves_the_connection_usable(live: Child) -> None:
    address = urlsplit(live.url)
    connection = http.client.HTTPConnection(address.hostname or "", address.port, timeout=30)
    statuses = []
    for media_type in ("text/plain", "text/csv"):
        connection.request("POST", "/v1/batch/dose", HEAD + ROW * 10_000, {"Content-Type": media_type})
        with connection.getresponse() as response:
            response.read()
            statuses.append(response.status)
    connection.close()
    assert statuses == [415, 200]


def test_other_addresses_take_no_more_than_before(live: Child) -> None:
    with answer(live, b" " * 65_537, "/v1/screen", "application/json") as response:
        assert response.status == 413
        assert json.load(response)["type"].endswith("/problems/body-too-large")
