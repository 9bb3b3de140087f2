"""Callers that stop sending: their threads come back, and the answer is a problem."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from types import SimpleNamespace

import pytest
from gunicorn.config import Config
from gunicorn.workers.gthread import TConn

from service.cli import patience
from service.cli.patience import PatientUnreader, RequestTimedOut, make_patient
from service.cli.worker import kind_of
from tests.cli.test_below_the_application import refused, worker

HEAD = b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 100\r\n\r\n"


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let requests time out within the time of a test."""
    monkeypatch.setattr(patience, "REQUEST_SECONDS", 0.2)


@pytest.fixture
def pair() -> Iterator[tuple[socket.socket, socket.socket]]:
    """Give a caller and the server's end of its connection."""
    caller, server = socket.socketpair()
    with caller, server:
        yield caller, server


def connection(server: socket.socket) -> TConn:
    """Give a connection as the worker makes it."""
    made = TConn(Config(), server, ("127.0.0.1", 1), ("127.0.0.1", 2))
    make_patient(made)
    return made


@pytest.mark.usefixtures("impatient")
@pytest.mark.parametrize("sent", [HEAD, HEAD + b"{"])
def test_a_body_that_does_not_come_gives_up(pair: tuple[socket.socket, socket.socket], sent: bytes) -> None:
    caller, server = pair
    made = connection(server)
    caller.sendall(sent)
    made.init()
    request = next(made.parser)
    began = time.monotonic()
    with pytest.raises(RequestTimedOut):
        request.body.read()
    assert time.monotonic() - began < 2
    # The answer can still be sent, and nothing more is read.
    server.sendall(b"answer")
    assert server.gettimeout() is None
    assert made.parser.unreader.chunk() == b""


@pytest.mark.usefixtures("impatient")
def test_half_a_head_gives_up(pair: tuple[socket.socket, socket.socket]) -> None:
    caller, server = pair
    made = connection(server)
    caller.sendall(HEAD[:20])
    made.init()
    with pytest.raises(RequestTimedOut):
        next(made.parser)


def test_a_trickle_gives_up_too(pair: tuple[socket.socket, socket.socket]) -> None:
    caller, server = pair
    unreader = PatientUnreader(server)
    unreader.deadline = time.monotonic() + 0.05
    caller.sendall(b"a")
    assert unreader.chunk() == b"a"
    time.sleep(0.06)
    with pytest.raises(RequestTimedOut):
        unreader.chunk()


def test_each_request_has_a_deadline_of_its_own(pair: tuple[socket.socket, socket.socket]) -> None:
    made = connection(pair[1])
    made.init()
    unreader = made.parser.unreader
    first = unreader.deadline
    time.sleep(0.01)
    made.init()
    assert made.parser.unreader is unreader
    assert unreader.deadline > first


def test_the_worker_makes_its_connections_patient(
    pair: tuple[socket.socket, socket.socket], monkeypatch: pytest.MonkeyPatch
) -> None:
    idle = worker(None)
    monkeypatch.setattr("gunicorn.workers.gthread.ThreadWorker.enqueue_req", lambda self, conn: conn.init())
    made = TConn(Config(), pair[1], ("127.0.0.1", 1), ("127.0.0.1", 2))
    idle.enqueue_req(made)
    assert isinstance(made.parser.unreader, PatientUnreader)


def test_another_protocol_is_left_alone() -> None:
    began: list[bool] = []

    class Other(SimpleNamespace):
        def init(self) -> None:
            began.append(True)

    other = Other(is_http2=True, parser=None)
    make_patient(other)
    other.init()
    assert began == [True]


def test_it_is_the_callers_mistake() -> None:
    assert kind_of(RequestTimedOut()).slug == "malformed-body"
    head, body = refused(None, RequestTimedOut())
    assert head.startswith(b"HTTP/1.1 400 ")
    assert "timed out" in str(body["detail"])
