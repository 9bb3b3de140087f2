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
# A batch may take longer, as long as it keeps coming: no pause above the seconds of a request, and this on average.
BATCH_BYTES_PER_SECOND = 65_536
# A caller that takes nothing of a long answer for so long is gone.
SENDING_SECONDS = 30.0


class RequestTimedOut(ParseException):  # type: ignore[misc]  # gunicorn publishes no types
    """A request that did not arrive in time."""


class PatientUnreader(SocketUnreader):  # type: ignore[misc]  # gunicorn publishes no types
    """Reads from a connection until a point in time, however many pieces the caller sends."""

    def __init__(self, sock: socket.socket, clock: Callable[[], float]) -> None:
        super().__init__(sock)
        self.clock = clock
        self.begin()

    def begin(self) -> None:
        """Give the next request its time."""
        self.deadline = self.clock() + REQUEST_SECONDS
        self._sending_seconds: float | None = None
        self._seconds_per_byte = 0.0
        self._most_bytes = 0

    def expect_many_rows(self, most_bytes: int) -> None:
        """Let the body of this request go on for as long as it comes fast enough, and watch the answer go out."""
        self._sending_seconds = SENDING_SECONDS
        self._seconds_per_byte = 1 / BATCH_BYTES_PER_SECOND
        self._most_bytes = most_bytes
        self.sock.settimeout(self._sending_seconds)

    def chunk(self, size_hint: int | None = None) -> bytes:
        """Read the next piece, or give up at the deadline."""
        self.sock.settimeout(min(max(self.deadline - self.clock(), 0.001), REQUEST_SECONDS))
        try:
            piece: bytes = super().chunk(size_hint)
        except TimeoutError:
            # Nothing that still comes belongs to a request: the connection reads as ended from here on.
            self.sock.shutdown(socket.SHUT_RD)
            raise RequestTimedOut(f"no whole request within {REQUEST_SECONDS:g} seconds") from None
        finally:
            self.sock.settimeout(self._sending_seconds)
        earned = min(len(piece), self._most_bytes)
        self._most_bytes -= earned
        self.deadline += earned * self._seconds_per_byte
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
    parser.unreader.begin()


def make_patient(connection: TConn, clock: Callable[[], float] = time.monotonic) -> None:
    """Give every request of a connection a deadline of its own; gunicorn calls ``init`` before each of them."""
    connection.init = partial(_begin_request, connection, clock)
