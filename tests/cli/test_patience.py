"""Callers that stop sending: their threads come back, and the answer is a problem."""

from __future__ import annotations

import io
import socket
from collections.abc import Iterator
from types import SimpleNamespace

import pytest
from gunicorn.config import Config
from gunicorn.workers.gthread import TConn

from service.cli.patience import (
    BATCH_BYTES_PER_SECOND,
    REQUEST_SECONDS,
    SENDING_SECONDS,
    PatientUnreader,
    RequestTimedOut,
    make_patient,
)
from service.cli.worker import kind_of
from tests.cli.test_below_the_application import BrokenStream, refused, worker

HEAD = b"POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 100\r\n\r\n"


class Clock:
    """Time that passes only when a test says so."""

    now = 0.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    """Give a clock that stands still."""
    return Clock()


@pytest.fixture
def pair() -> Iterator[tuple[socket.socket, socket.socket]]:
    """Give a caller and the server's end of its connection."""
    caller, server = socket.socketpair()
    with caller, server:
        yield caller, server


def connection(server: socket.socket, clock: Clock) -> TConn:
    """Give a connection as the worker makes it."""
    made = TConn(Config(), server, ("127.0.0.1", 1), ("127.0.0.1", 2))
    make_patient(made, clock)
    return made


@pytest.mark.parametrize("sent", [HEAD, HEAD + b"{"])
def test_a_body_that_does_not_come_gives_up(
    pair: tuple[socket.socket, socket.socket], clock: Clock, sent: bytes
) -> None:
    caller, server = pair
    made = connection(server, clock)
    caller.sendall(sent)
    made.init()
    request = next(made.parser)
    clock.now += REQUEST_SECONDS
    with pytest.raises(RequestTimedOut, match="no whole request within 5 seconds"):
        request.body.read()
    # The answer can still be sent, and nothing more is read.
    server.sendall(b"answer")
    assert server.gettimeout() is None
    assert made.parser.unreader.chunk() == b""


def test_half_a_head_gives_up(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    made = connection(server, clock)
    caller.sendall(HEAD[:20])
    made.init()
    clock.now += REQUEST_SECONDS
    with pytest.raises(RequestTimedOut, match="no whole request"):
        next(made.parser)


def test_a_trickle_gives_up_too(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    unreader = PatientUnreader(server, clock)
    caller.sendall(b"a")
    clock.now += REQUEST_SECONDS - 1
    assert unreader.chunk() == b"a"
    clock.now += 1
    with pytest.raises(RequestTimedOut, match="no whole request"):
        unreader.chunk()


def test_each_request_has_a_deadline_of_its_own(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    made = connection(pair[1], clock)
    made.init()
    unreader = made.parser.unreader
    assert unreader.deadline == REQUEST_SECONDS
    clock.now = 100
    made.init()
    assert made.parser.unreader is unreader
    assert unreader.deadline == 100 + REQUEST_SECONDS


def test_a_batch_may_take_longer_while_it_comes(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    unreader = PatientUnreader(server, clock)
    unreader.expect_many_rows(1 << 20)
    for _ in range(10):
        caller.sendall(b"a" * 8192)
        clock.now += 8192 / BATCH_BYTES_PER_SECOND
        assert unreader.chunk() == b"a" * 8192
    # As fast as is asked for, so that the time of a request is still wholly left.
    assert unreader.deadline == pytest.approx(clock.now + REQUEST_SECONDS)


def test_a_batch_that_trickles_gives_up(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    unreader = PatientUnreader(server, clock)
    unreader.expect_many_rows(1 << 20)
    for _ in range(5):
        caller.sendall(b"a" * 100)
        assert unreader.chunk() == b"a" * 100
        clock.now += 1
    clock.now += 1
    with pytest.raises(RequestTimedOut, match="no whole request"):
        unreader.chunk()


def test_what_came_fast_buys_no_long_pause(
    pair: tuple[socket.socket, socket.socket], clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    caller, server = pair
    monkeypatch.setattr("service.cli.patience.REQUEST_SECONDS", 0.01)
    unreader = PatientUnreader(server, clock)
    unreader.expect_many_rows(1 << 20)
    for _ in range(64):
        caller.sendall(b"a" * 8192)
        assert len(unreader.chunk()) == 8192
    assert unreader.deadline > clock.now + 7
    with pytest.raises(RequestTimedOut, match="no whole request"):
        unreader.chunk()


def test_more_than_a_batch_may_have_buys_no_time(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    unreader = PatientUnreader(server, clock)
    unreader.expect_many_rows(BATCH_BYTES_PER_SECOND // 16)
    for _ in range(4):
        caller.sendall(b"a" * 8192)
        unreader.chunk()
    assert unreader.deadline == pytest.approx(REQUEST_SECONDS + 1 / 16)


def test_the_next_request_is_an_ordinary_one(pair: tuple[socket.socket, socket.socket], clock: Clock) -> None:
    caller, server = pair
    unreader = PatientUnreader(server, clock)
    unreader.expect_many_rows(1 << 20)
    assert server.gettimeout() == SENDING_SECONDS
    unreader.begin()
    caller.sendall(b"a" * 8192)
    unreader.chunk()
    assert server.gettimeout() is None
    assert unreader.deadline == REQUEST_SECONDS


@pytest.mark.parametrize(("path", "patient"), [("/v1/batch/dose", True), ("/v1/screen", False)])
def test_the_worker_knows_a_batch_by_its_path(
    pair: tuple[socket.socket, socket.socket],
    clock: Clock,
    monkeypatch: pytest.MonkeyPatch,
    path: str,
    patient: bool,
) -> None:
    made = connection(pair[1], clock)
    made.init()
    seen: list[float | None] = []

    def answer(self: object, req: object, conn: TConn) -> bool:
        seen.append(conn.sock.gettimeout())
        return True

    monkeypatch.setattr("gunicorn.workers.gthread.ThreadWorker.handle_request", answer)
    request = SimpleNamespace(path=path, body=io.BytesIO(b"rest"))
    assert worker(None).handle_request(request, made) is True
    assert seen == [SENDING_SECONDS if patient else None]
    assert request.body.read() == (b"" if patient else b"rest")


def test_a_caller_that_takes_no_answer_is_let_go(
    pair: tuple[socket.socket, socket.socket], clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = connection(pair[1], clock)
    made.init()

    def answer(self: object, req: object, conn: TConn) -> bool:
        conn.sock.settimeout(0.01)
        conn.sock.sendall(b"x" * 10_000_000)
        return True

    monkeypatch.setattr("gunicorn.workers.gthread.ThreadWorker.handle_request", answer)
    with pytest.raises(BrokenPipeError, match="not being taken"):
        worker(None).handle_request(SimpleNamespace(path="/v1/batch/dose", body=io.BytesIO()), made)


def test_a_body_that_cannot_be_swallowed_ends_the_connection(
    pair: tuple[socket.socket, socket.socket], clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = connection(pair[1], clock)
    made.init()
    monkeypatch.setattr("gunicorn.workers.gthread.ThreadWorker.handle_request", lambda self, req, conn: True)
    request = SimpleNamespace(path="/v1/batch/dose", body=BrokenStream())
    assert worker(None).handle_request(request, made) is False


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
