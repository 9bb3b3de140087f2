"""A small HTTP load generator: one loop, many kept-alive connections, no cost worth naming per request."""

from __future__ import annotations

import re
import selectors
import socket
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from urllib.parse import urlsplit

_LENGTH = re.compile(rb"\r\ncontent-length: *([0-9]+)", re.IGNORECASE)
_RECEIVE_BYTES = 1 << 18


class LoadError(RuntimeError):
    """A server answered something else than 200, or closed a connection."""


@dataclass
class Outcome:
    """What one stretch of load found."""

    seconds: float
    latencies_ms: list[float]

    @property
    def per_second(self) -> float:
        """Answers per second."""
        return len(self.latencies_ms) / self.seconds

    @property
    def median_ms(self) -> float:
        """Median time from sending a request to the last byte of its answer."""
        return statistics.median(self.latencies_ms)

    @property
    def p99_ms(self) -> float:
        """The 99th percentile of the same."""
        return statistics.quantiles(self.latencies_ms, n=100)[-1]


@dataclass
class _Connection:
    """One kept-alive connection with at most one request under way."""

    sock: socket.socket
    received: bytearray = field(default_factory=bytearray)
    missing: int | None = None
    sent_at: float = 0.0

    def send(self, request: bytes) -> None:
        self.received.clear()
        self.missing = None
        self.sent_at = time.perf_counter()
        self.sock.sendall(request)

    def receive(self) -> bool:
        """Take in what has come; whether the answer is complete."""
        piece = self.sock.recv(_RECEIVE_BYTES)
        if not piece:
            raise LoadError("the server closed a kept-alive connection")
        self.received += piece
        if self.missing is None:
            self._read_head()
        return self.missing is not None and len(self.received) >= self.missing

    def _read_head(self) -> None:
        end = self.received.find(b"\r\n\r\n")
        if end < 0:
            return
        head = bytes(self.received[:end])
        length = _LENGTH.search(head)
        if b" 200 " not in head.split(b"\r\n", 1)[0] or length is None:
            raise LoadError(bytes(self.received[:600]).decode("latin-1"))
        self.missing = end + 4 + int(length[1])


def get(path: str) -> bytes:
    """Return the bytes of a GET request."""
    return f"GET {path} HTTP/1.1\r\nHost: load\r\nAccept: application/json\r\n\r\n".encode()


def post(path: str, body: bytes) -> bytes:
    """Return the bytes of a POST request with a JSON body."""
    headers = f"Host: load\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n"
    return f"POST {path} HTTP/1.1\r\n{headers}\r\n".encode() + body


def _open(url: str) -> _Connection:
    address = urlsplit(url)
    sock = socket.create_connection((address.hostname, address.port or 80), timeout=30)
    sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    return _Connection(sock)


def drive(url: str, next_request: Callable[[], bytes], *, connections: int, seconds: float) -> Outcome:
    """Keep every connection busy for a while and time each answer."""
    latencies: list[float] = []
    with selectors.DefaultSelector() as selector:
        opened = [_open(url) for _ in range(connections)]
        started = time.perf_counter()
        for connection in opened:
            selector.register(connection.sock, selectors.EVENT_READ, connection)
            connection.send(next_request())
        while time.perf_counter() - started < seconds:
            for key, _ in selector.select(timeout=30):
                connection = key.data
                if connection.receive():
                    latencies.append((time.perf_counter() - connection.sent_at) * 1000)
                    connection.send(next_request())
        elapsed = time.perf_counter() - started
        for connection in opened:
            connection.sock.close()
    return Outcome(elapsed, latencies)


def one_by_one(url: str, requests: Iterator[bytes]) -> Outcome:
    """Send requests over one connection, each after the answer to the last."""
    latencies: list[float] = []
    connection = _open(url)
    started = time.perf_counter()
    with connection.sock:
        for request in requests:
            connection.send(request)
            while not connection.receive():
                pass
            latencies.append((time.perf_counter() - connection.sent_at) * 1000)
    return Outcome(time.perf_counter() - started, latencies)
