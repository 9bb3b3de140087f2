"""Broken chunks of a request body, reported as the caller's mistake instead of a failure of the service."""

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
    """A request body whose framing errors are bad requests.

    Gunicorn reads chunks only when the application asks for them, so its own errors surface inside the application,
    which cannot know them.
    """

    def __init__(self, stream: _Readable) -> None:
        self._stream = stream

    def read(self, size: int = -1) -> bytes:
        """Read as the stream does."""
        try:
            return self._stream.read(size)
        except ParseException as error:
            raise BadRequest("The chunks of the body are not framed as HTTP asks.") from error


def with_checked_chunks(application: WSGIApplication) -> WSGIApplication:
    """Return the application behind checked bodies; only a chunked body needs the check."""

    def checked(environ: WSGIEnvironment, start_response: StartResponse) -> Iterable[bytes]:
        if "HTTP_TRANSFER_ENCODING" in environ:
            environ["wsgi.input"] = CheckedInput(environ["wsgi.input"])
        return application(environ, start_response)

    return checked
