"""A gunicorn worker that answers broken requests with a problem, as every other error of the service is answered."""

from __future__ import annotations

import json
import re
import socket

from gunicorn.http.errors import InvalidResponseHeader, InvalidResponseHeaderName, LimitRequestLine, ParseException
from gunicorn.workers.gthread import TConn, ThreadWorker

from service.cli.patience import make_patient
from service.web.problems import KINDS, MEDIA_TYPE, Kind

_PHRASES = {400: "Bad Request", 414: "URI Too Long", 500: "Internal Server Error"}
_LINGER_SECONDS = 0.05
_LINGER_BYTES = 1 << 20
_PATIENCE_SECONDS = 2.0


def kind_of(error: BaseException) -> Kind:
    """Return the kind of problem that an error of the HTTP layer is."""
    if isinstance(error, LimitRequestLine):
        return KINDS["uri-too-long"]
    # A header that the application tried to send is the service's own fault.
    if isinstance(error, ParseException) and not isinstance(error, InvalidResponseHeader | InvalidResponseHeaderName):
        return KINDS["malformed-body"]
    return KINDS["internal"]


def reason_of(error: BaseException) -> str:
    """Return what was wrong, from the name of the error alone: its text repeats what the caller sent."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(error).__name__).lower()


def problem_message(error: BaseException, root_url: str) -> bytes:
    """Return the whole HTTP answer for a request that never became one."""
    kind = kind_of(error)
    refused = f"The HTTP request itself was refused: {reason_of(error)}. "
    detail = (refused if kind.status < 500 else "") + f"{kind.meaning} {kind.remedy}"
    body = json.dumps(
        {
            "type": f"{root_url.rstrip('/')}/problems/{kind.slug}",
            "title": kind.title,
            "status": kind.status,
            "detail": detail,
            "instance": "/",
        }
    ).encode()
    head = (
        f"HTTP/1.1 {kind.status} {_PHRASES[kind.status]}\r\nConnection: close\r\nContent-Type: {MEDIA_TYPE}\r\n"
        f"Cache-Control: no-store\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    return head.encode() + body


def _send_and_linger(client: socket.socket, message: bytes) -> None:
    """Send, then swallow what the caller is still sending: closing on unread bytes would reset away the answer."""
    client.settimeout(_PATIENCE_SECONDS)
    client.sendall(message)
    client.shutdown(socket.SHUT_WR)
    client.settimeout(_LINGER_SECONDS)
    swallowed = 0
    while swallowed < _LINGER_BYTES and (piece := client.recv(1 << 16)):
        swallowed += len(piece)


class ProblemWorker(ThreadWorker):  # type: ignore[misc]  # gunicorn publishes no types
    """The threaded worker, with problem answers below the application too, and patience that ends."""

    def enqueue_req(self, conn: TConn) -> None:
        """Hand a connection to a thread; a request that does not arrive in time gives the thread back."""
        make_patient(conn)
        super().enqueue_req(conn)

    def handle_error(self, req: object, client: socket.socket, addr: object, exc: BaseException) -> None:
        """Answer what gunicorn could not read, or what escaped the application."""
        kind = kind_of(exc)
        if kind.status == 500:
            self.log.error("Error handling request", exc_info=exc)
        else:
            self.log.warning("Request refused: %r", exc)
        try:
            host, port = client.getsockname()[:2]
            root_url = self.wsgi.config.get("PUBLIC_URL") or f"http://{host}:{port}/"
            _send_and_linger(client, problem_message(exc, root_url))
        except OSError:
            self.log.debug("The caller of a refused request is gone.")
