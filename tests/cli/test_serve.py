"""``fabella serve``: settings, ports, and what is answered below the application."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
from urllib.parse import urlsplit

import pytest
from gunicorn.http.errors import InvalidResponseHeader, LimitRequestHeaders, LimitRequestLine

from service.cli import main
from service.cli.child import Child, ChildError, own_environment, serving
from service.cli.patience import REQUEST_SECONDS
from service.cli.ports import free_port, port_is_taken
from service.cli.serve import ServeOptions, Server, settings
from service.cli.worker import kind_of, reason_of


def test_gunicorn_accepts_every_setting() -> None:
    server = Server(ServeOptions(port=8099, workers=3, threads=5))
    assert server.cfg.address == [("127.0.0.1", 8099)]
    assert server.cfg.workers == 3
    assert server.cfg.threads == 5
    assert server.cfg.control_socket_disable is True
    assert server.cfg.limit_request_line == 8190
    assert server.cfg.accesslog is None


def test_ipv6_address_is_bracketed() -> None:
    assert settings(ServeOptions(host="::1", port=80))["bind"] == "[::1]:80"


def test_access_log_only_when_asked() -> None:
    assert settings(ServeOptions(access_log=True))["accesslog"] == "-"


def test_a_port_in_use_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as occupied:
        port = occupied.getsockname()[1]
        assert port_is_taken("127.0.0.1", port)
        assert main(["serve", "--port", str(port)]) == 1
        assert main(["demo", "--port", str(port)]) == 1
    assert "in use" in capsys.readouterr().err


def test_a_second_server_on_the_same_port_is_refused(live: Child) -> None:
    port = urlsplit(live.url).port
    command = [sys.executable, "-P", "-m", "service.cli", "serve", "--port", str(port)]
    second = subprocess.run(command, env=own_environment(), capture_output=True, text=True, timeout=30)
    assert second.returncode == 1
    assert "in use" in second.stderr


def test_free_port_is_free() -> None:
    assert not port_is_taken("127.0.0.1", free_port())


def test_a_child_that_cannot_start_is_reported(capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(ChildError, match="ended with status 2"), serving(arguments=["--workers", "none"]):
        pass
    assert "usage" in capfd.readouterr().err


def exchange(url: str, message: bytes) -> tuple[int, dict[str, str], dict[str, object]]:
    """Send raw bytes; return status, headers and JSON body of the one answer."""
    address = urlsplit(url)
    with socket.create_connection((address.hostname, address.port), timeout=5) as connection:
        connection.sendall(message)
        received = b""
        while piece := connection.recv(1 << 16):
            received += piece
    head, _, body = received.partition(b"\r\n\r\n")
    status_line, *lines = head.decode().split("\r\n")
    headers = dict(line.lower().split(": ", 1) for line in lines)
    return int(status_line.split()[1]), headers, json.loads(body)


@pytest.mark.parametrize(
    ("message", "status", "slug", "reason"),
    [
        (b"GET /" + b"x" * 9_000 + b" HTTP/1.1\r\nHost: a\r\n\r\n", 414, "uri-too-long", "limit request line"),
        (b"GET /" + b"x" * 900_000 + b" HTTP/1.1\r\nHost: a\r\n\r\n", 414, "uri-too-long", "limit request line"),
        (b"\x00\x01 not http\r\n\r\n", 400, "malformed-body", "invalid request"),
        (b"GET / HTTP/1.1\r\nHost: a\r\nbad\x00: b\r\n\r\n", 400, "malformed-body", "invalid header"),
        (b"GET / HTTP/1.1\r\n" + b"a: b\r\n" * 70 + b"\r\n", 400, "malformed-body", "limit request headers"),
    ],
)
def test_what_is_not_http_gets_a_problem(live: Child, message: bytes, status: int, slug: str, reason: str) -> None:
    found, headers, body = exchange(live.url, message)
    assert (found, headers["content-type"]) == (status, "application/problem+json")
    assert body["type"] == f"{live.url}/problems/{slug}"
    assert body["status"] == status
    assert reason in str(body["detail"])


CHUNKED = b"POST /v1/screen HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n"


@pytest.mark.parametrize("chunks", [b"ZZ\r\n{}\r\n0\r\n\r\n", b"-1\r\n\r\n", b"2\r\n{}XX0\r\n\r\n", b"\r\n\r\n"])
def test_broken_chunks_are_the_callers_mistake(live: Child, chunks: bytes) -> None:
    status, headers, body = exchange(live.url, CHUNKED + b"Connection: close\r\n\r\n" + chunks)
    assert (status, headers["content-type"]) == (400, "application/problem+json")
    assert str(body["type"]).endswith("/problems/malformed-body")


def test_whole_chunks_are_read(live: Child) -> None:
    body = b'{"animal": {"species": "dog"}, "ingredients_text": "birch sugar"}'
    chunks = b"%x\r\n%b\r\n0\r\n\r\n" % (len(body), body)
    status, _, answer = exchange(live.url, CHUNKED + b"Connection: close\r\n\r\n" + chunks)
    assert (status, answer["verdict"]) == (200, "stop")


def test_a_body_that_never_ends_gives_its_thread_back(live: Child) -> None:
    stalled = b"POST /v1/screen HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 99\r\n\r\n{"
    address = urlsplit(live.url)
    with socket.create_connection((address.hostname, address.port), timeout=2 * REQUEST_SECONDS) as connection:
        connection.sendall(stalled)
        received = b""
        while piece := connection.recv(1 << 16):
            received += piece
    assert received.startswith(b"HTTP/1.1 400 ")
    assert b"/problems/malformed-body" in received


def test_kinds_of_errors_below_the_application() -> None:
    assert kind_of(LimitRequestLine(9000, 8190)).status == 414
    assert kind_of(LimitRequestHeaders("many")).status == 400
    assert kind_of(InvalidResponseHeader("ours")).status == 500
    assert kind_of(RuntimeError("ours")).status == 500


def test_reason_never_repeats_what_the_caller_sent() -> None:
    assert reason_of(LimitRequestHeaders("<script>")) == "limit request headers"
