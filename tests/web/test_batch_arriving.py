"""How a batch arrives: packed or not, with its length told or not, and never more than is allowed."""

from __future__ import annotations

import gzip
import io
import zlib

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from service.schemas.batch_limits import LARGEST_BATCH_BYTES
from service.web.batch import arriving
from service.web.faults import Fault
from tests.web.asserting import assert_problem
from tests.web.batch_rows import ADA, CSV, cells, dose_csv, send


def send_packed(client: FlaskClient, body: bytes) -> TestResponse:
    """Send a body that says it is gzip."""
    return send(client, "dose", body, Content_Encoding="gzip")


def send_without_length(client: FlaskClient, body: bytes) -> TestResponse:
    """Send a body in chunks, as a server hands these over."""
    return client.post(
        "/v1/batch/dose",
        input_stream=io.BytesIO(body),
        headers={"Transfer-Encoding": "chunked"},
        content_type=CSV,
        environ_overrides={"wsgi.input_terminated": True},
    )


def test_gzip_is_unpacked(client: FlaskClient) -> None:
    plain = send(client, "dose", dose_csv(ADA)).data
    assert send_packed(client, gzip.compress(dose_csv(ADA))).data == plain


def test_several_members_are_one_body(client: FlaskClient) -> None:
    body = dose_csv(ADA, ADA)
    packed = b"".join(gzip.compress(body[at : at + 10]) for at in range(0, len(body), 10))
    assert len(cells(send_packed(client, packed))) == 2


@pytest.mark.parametrize(
    "body",
    [
        dose_csv(ADA),
        b"\x1f\x8b",
        gzip.compress(dose_csv(ADA))[:-4],
        gzip.compress(dose_csv(ADA))[:-8] + b"\x00" * 8,
        gzip.compress(dose_csv(ADA)) + b"more",
        zlib.compress(dose_csv(ADA)),
    ],
)
def test_broken_gzip(client: FlaskClient, body: bytes) -> None:
    assert_problem(send_packed(client, body), "malformed-body", hint="gzip")


def test_nothing_packed_is_an_empty_body(client: FlaskClient) -> None:
    assert_problem(send_packed(client, b""), "malformed-body", hint="empty")
    assert_problem(send_packed(client, gzip.compress(b"")), "malformed-body", hint="empty")


def test_a_small_body_that_unpacks_to_much(client: FlaskClient) -> None:
    bomb = gzip.compress(b"0" * (LARGEST_BATCH_BYTES + 1), compresslevel=9)
    assert len(bomb) < 65_536
    assert_problem(send_packed(client, bomb), "body-too-large", hint="unpacks to more than 33,554,432 bytes")


def test_a_bomb_is_unpacked_no_further_than_the_limit(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(arriving, "LARGEST_BATCH_BYTES", 1 << 20)
    given: list[int] = []
    whole = arriving.Gunzip.unpack

    def counted(self: arriving.Gunzip, piece: bytes) -> object:
        for data in whole(self, piece):
            given.append(len(data))
            yield data

    monkeypatch.setattr(arriving.Gunzip, "unpack", counted)
    body = gzip.compress(b"0" * (50 << 20))
    with (
        app.test_request_context("/", method="POST", data=body, headers={"Content-Encoding": "gzip"}),
        pytest.raises(Fault, match="unpacks to more"),
    ):
        arriving.receive()
    assert max(given) <= 1 << 16
    assert sum(given) <= (1 << 20) + (1 << 16)


@pytest.mark.parametrize("encoding", ["deflate", "br", "gzip, gzip", "x"])
def test_other_encodings(client: FlaskClient, encoding: str) -> None:
    response = send(client, "dose", dose_csv(ADA), Content_Encoding=encoding)
    assert_problem(response, "unsupported-media-type", hint="gzip or none")


def test_a_body_without_a_length_is_read(client: FlaskClient) -> None:
    assert len(cells(send_without_length(client, dose_csv(ADA, ADA)))) == 2


@pytest.mark.parametrize("told", [True, False])
def test_a_body_of_more_than_is_allowed(client: FlaskClient, monkeypatch: pytest.MonkeyPatch, told: bool) -> None:
    body = dose_csv(ADA)
    monkeypatch.setattr(arriving, "LARGEST_BATCH_BYTES", len(body))
    whole, longer = body, body + b"\n"
    good, refused = (send(client, "dose", one) if told else send_without_length(client, one) for one in (whole, longer))
    assert good.status_code == 200
    assert_problem(refused, "body-too-large", hint="33,554,432")


def test_other_addresses_keep_their_limit(client: FlaskClient) -> None:
    response = client.post("/v1/screen", data=b" " * 65_537, content_type="application/json")
    assert_problem(response, "body-too-large")


def test_a_body_is_let_go_when_it_is_refused(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[io.BytesIO] = []

    def remember(max_size: int) -> io.BytesIO:
        made.append(io.BytesIO())
        return made[-1]

    monkeypatch.setattr(arriving, "SpooledTemporaryFile", remember)
    client = app.test_client()
    assert send(client, "dose", dose_csv(ADA)).status_code == 200
    assert_problem(send(client, "dose", b"a\n"), "invalid-input")
    assert_problem(send_packed(client, b"a"), "malformed-body")
    assert [one.closed for one in made] == [True, True, True]
