"""A gunicorn worker that answers broken requests with a problem, as every other error of the service is answered."""

from __future__ import annotations

import errno
import json
import re
import socket

from gunicorn.http.body import Body
from gunicorn.http.errors import InvalidResponseHeader, InvalidResponseHeaderName, LimitRequestLine, ParseException
from gunicorn.http.message import Request
from gunicorn.workers.gthread import TConn, ThreadWorker

from service.cli.patience import SENDING_SECONDS, PatientUnreader, make_patient
from service.schemas.batch_limits import LARGEST_BATCH_BYTES
from service.web.problems import KINDS, MEDIA_TYPE, Kind

_PHRASES = {400: "Bad Request", 414: "URI Too Long", 500: "Internal Server Error"}
_LINGER_SECONDS = 0.05
_LINGER_BYTES = 1 << 20
_PATIENCE_SECONDS = 2.0
_BATCHES = "/v1/batch/"
# What frames the pieces of a body without a length comes on top of it.
_MOST_BATCH_BYTES = 2 * LARGEST_BATCH_BYTES


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


def _swallow(body: Body) -> bool:
    """Read what an answer did not wait for: most callers send all of a batch before they look at what came back."""
    swallowed = 0
    try:
        while swallowed < _MOST_BATCH_BYTES and (piece := body.read(1 << 16)):
            swallowed += len(piece)
    except ParseException:
        return False
    return swallowed < _MOST_BATCH_BYTES


class ProblemWorker(ThreadWorker):  # type: ignore[misc]  # gunicorn publishes no types
    """The threaded worker, with problem answers below the application too, and patience that ends."""

    def enqueue_req(self, conn: TConn) -> None:
        """Hand a connection to a thread; a request that does not arrive in time gives the thread back."""
        make_patient(conn)
        super().enqueue_req(conn)

    def handle_request(self, req: Request, conn: TConn) -> bool:
        """Answer one request; the rows of a batch may take their time, both ways."""
        unreader = conn.parser.unreader
        if not (req.path.startswith(_BATCHES) and isinstance(unreader, PatientUnreader)):
            return bool(super().handle_request(req, conn))
        unreader.expect_many_rows(_MOST_BATCH_BYTES)
        try:
            keep = bool(super().handle_request(req, conn))
        except TimeoutError:
            self.log.warning("A caller took nothing of its answer for %g seconds.", SENDING_SECONDS)
            # Said once, and in the way that gunicorn knows a caller who left.
            raise BrokenPipeError(errno.EPIPE, "the answer is not being taken") from None
        return _swallow(req.body) and keep

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
