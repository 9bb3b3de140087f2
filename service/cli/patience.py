"""How long one request may take to arrive: a caller that stops sending must not keep a thread for ever."""

from __future__ import annotations

import socket
import time
from collections.abc import Callable
from functools import partial

from gunicorn.http.errors import ParseException
from gunicorn.http.unreader import SocketUnreader
from gunicorn.workers.gthread import TConn

# From its first byte to the last of its body. The largest body accepted then still arrives at 13 kB a second.
REQUEST_SECONDS = 5.0


class RequestTimedOut(ParseException):  # type: ignore[misc]  # gunicorn publishes no types
    """A request that did not arrive in time."""


class PatientUnreader(SocketUnreader):  # type: ignore[misc]  # gunicorn publishes no types
    """Reads from a connection until a point in time, however many pieces the caller sends."""

    def __init__(self, sock: socket.socket, clock: Callable[[], float]) -> None:
        super().__init__(sock)
        self.clock = clock
        self.deadline = clock() + REQUEST_SECONDS

    def chunk(self, size_hint: int | None = None) -> bytes:
        """Read the next piece, or give up at the deadline."""
        self.sock.settimeout(max(self.deadline - self.clock(), 0.001))
        try:
            piece: bytes = super().chunk(size_hint)
        except TimeoutError:
            # Nothing that still comes belongs to a request: the connection reads as ended from here on.
            self.sock.shutdown(socket.SHUT_RD)
            raise RequestTimedOut(f"no whole request within {REQUEST_SECONDS:g} seconds") from None
        finally:
            self.sock.settimeout(None)
        return piece


def _begin_request(connection: TConn, clock: Callable[[], float]) -> None:
    type(connection).init(connection)
    parser = connection.parser
    if connection.is_http2:
        return
    if not isinstance(parser.unreader, PatientUnreader):
        patient = PatientUnreader(connection.sock, clock)
        patient.buf = parser.unreader.buf
        parser.unreader = patient
    parser.unreader.deadline = clock() + REQUEST_SECONDS


def make_patient(connection: TConn, clock: Callable[[], float] = time.monotonic) -> None:
    """Give every request of a connection a deadline of its own; gunicorn calls ``init`` before each of them."""
    connection.init = partial(_begin_request, connection, clock)
