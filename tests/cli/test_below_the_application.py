"""What the server answers without the application, without a server around it."""

from __future__ import annotations

import io
import json
import socket

import pytest
from flask import Flask, request
from gunicorn.config import Config
from gunicorn.glogging import Logger
from gunicorn.http.errors import InvalidChunkSize, LimitRequestLine

from service.cli.checked_bodies import with_checked_bodies
from service.cli.worker import ProblemWorker, problem_message


class BrokenStream(io.BytesIO):
    """A body whose chunks are broken."""

    def read(self, size: int | None = -1) -> bytes:
        raise InvalidChunkSize(b"ZZ")


def worker(public_url: str | None) -> ProblemWorker:
    """Return a worker that never starts."""
    idle = ProblemWorker.__new__(ProblemWorker)
    idle.log = Logger(Config())
    idle.wsgi = Flask(__name__)
    idle.wsgi.config["PUBLIC_URL"] = public_url
    return idle


def refused(public_url: str | None, error: Exception) -> tuple[bytes, dict[str, object]]:
    """Let a worker refuse a request that is still being sent; return head and body of its answer."""
    with socket.create_server(("127.0.0.1", 0)) as listener, socket.create_connection(listener.getsockname()) as caller:
        server, _ = listener.accept()
        with server:
            caller.sendall(b"x" * 100_000)
            worker(public_url).handle_error(None, server, ("127.0.0.1", 1), error)
        received = b""
        while piece := caller.recv(1 << 16):
            received += piece
    head, _, body = received.partition(b"\r\n\r\n")
    return head, json.loads(body)


def test_the_answer_survives_a_caller_that_still_sends() -> None:
    head, body = refused(None, LimitRequestLine(9000, 8190))
    assert head.startswith(b"HTTP/1.1 414 URI Too Long")
    assert str(body["type"]).startswith("http://127.0.0.1:")


def test_a_configured_address_begins_the_problem_type() -> None:
    _, body = refused("https://fabella.example", LimitRequestLine(9000, 8190))
    assert body["type"] == "https://fabella.example/problems/uri-too-long"


def test_a_failure_of_our_own_shows_nothing_of_itself() -> None:
    head, body = refused(None, RuntimeError("secret"))
    assert head.startswith(b"HTTP/1.1 500 ")
    assert "secret" not in json.dumps(body)
    assert "refused" not in str(body["detail"])


def test_a_caller_that_is_gone_is_no_failure() -> None:
    with socket.create_server(("127.0.0.1", 0)) as listener:
        caller = socket.create_connection(listener.getsockname())
        server, _ = listener.accept()
        caller.close()
        server.close()
        worker(None).handle_error(None, server, None, LimitRequestLine(9000, 8190))
    assert server.fileno() == -1


def test_length_of_the_message_is_that_of_its_body() -> None:
    head, _, body = problem_message(LimitRequestLine(9000, 8190), "http://a/").partition(b"\r\n\r\n")
    assert f"Content-Length: {len(body)}".encode() in head


@pytest.mark.parametrize(("stream", "status"), [(BrokenStream(), 400), (io.BytesIO(b"{}"), 200)])
def test_broken_chunks_are_a_bad_request(stream: io.BytesIO, status: int) -> None:
    app = Flask(__name__)

    @app.post("/")
    def length() -> str:
        return str(len(request.get_data()))

    app.wsgi_app = with_checked_bodies(app.wsgi_app)  # type: ignore[assignment]
    answer = app.test_client().post(
        "/",
        input_stream=stream,
        headers={"Transfer-Encoding": "chunked"},
        environ_overrides={"wsgi.input_terminated": True},
    )
    assert answer.status_code == status
