"""Request bodies that are broken or do not arrive, reported as the caller's mistake instead of a failure of ours."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Protocol

from gunicorn.http.errors import ParseException
from werkzeug.exceptions import BadRequest

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment


class _Readable(Protocol):
    def read(self, size: int = -1, /) -> bytes: ...


class CheckedInput:
    """A request body whose framing errors and delays are bad requests.

    Gunicorn reads a body only when the application asks for it, so its own errors surface inside the application,
    which cannot know them.
    """

    def __init__(self, stream: _Readable) -> None:
        self._stream = stream

    def read(self, size: int = -1) -> bytes:
        """Read as the stream does."""
        try:
            return self._stream.read(size)
        except ParseException as error:
            raise BadRequest("The body is not framed as HTTP asks, or did not arrive in time.") from error


def with_checked_bodies(application: WSGIApplication) -> WSGIApplication:
    """Return the application behind checked bodies; a request without a body needs no check."""

    def checked(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        if "HTTP_TRANSFER_ENCODING" in environ or environ.get("CONTENT_LENGTH", "0") != "0":
            environ["wsgi.input"] = CheckedInput(environ["wsgi.input"])
        return application(environ, start_response)

    return checked
