"""The body of a batch, taken in whole before the first row is answered: on disk, so that memory stays flat."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from tempfile import SpooledTemporaryFile

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from service.schemas.batch_limits import LARGEST_BATCH_BYTES
from service.schemas.request_base import shown
from service.web.faults import Fault

_PIECE_BYTES = 1 << 16
_KEPT_IN_MEMORY_BYTES = 1 << 20
_GZIP = 31  # a gzip frame around the largest window, as zlib numbers it


class Gunzip:
    """Unpacks gzip piece by piece, several members in a row included; never more than a piece at a time."""

    def __init__(self) -> None:
        self._engine = zlib.decompressobj(_GZIP)

    def unpack(self, piece: bytes) -> Iterator[bytes]:
        """Unpack the next piece; raises ``malformed-body`` where it is not gzip."""
        while True:
            if self._engine.eof:
                self._engine = zlib.decompressobj(_GZIP)
            try:
                data = self._engine.decompress(piece, _PIECE_BYTES)
            except zlib.error:
                raise Fault("malformed-body", "The body says that it is gzip, but cannot be unpacked.") from None
            yield data
            piece = self._engine.unused_data if self._engine.eof else self._engine.unconsumed_tail
            if not piece and (self._engine.eof or len(data) < _PIECE_BYTES):
                return

    def finish(self) -> None:
        """Raise ``malformed-body`` where the last member is not whole."""
        if not self._engine.eof:
            raise Fault("malformed-body", "The body is gzip that ends too early.")


def receive() -> SpooledTemporaryFile[bytes]:
    """Take the body of the current request in, unpacked.

    Returns
    -------
    SpooledTemporaryFile
        At its beginning; the caller closes it.

    Raises
    ------
    Fault
        ``malformed-body`` for gzip that cannot be unpacked, ``body-too-large`` for what unpacks to too much.
    RequestEntityTooLarge
        Where the body itself is too large, whether or not it announced its length.
    """
    spool: SpooledTemporaryFile[bytes] = SpooledTemporaryFile(max_size=_KEPT_IN_MEMORY_BYTES)
    try:
        unpacked = 0
        for piece in _unpacked() if _is_packed() else _pieces():
            unpacked += len(piece)
            if unpacked > LARGEST_BATCH_BYTES:
                raise Fault(
                    "body-too-large", f"The batch unpacks to more than {LARGEST_BATCH_BYTES:,} bytes: split it."
                )
            spool.write(piece)
        spool.seek(0)
    except BaseException:
        spool.close()
        raise
    return spool


def _is_packed() -> bool:
    encoding = request.headers.get("Content-Encoding", "identity").strip().lower()
    if encoding not in ("identity", "gzip"):
        raise Fault("unsupported-media-type", f"Content-Encoding must be gzip or none; it is {shown(encoding)}.")
    return encoding == "gzip"


def _pieces() -> Iterator[bytes]:
    # Werkzeug cuts a body without Content-Length silently at its limit, so one byte more is let in and looked for.
    request.max_content_length = LARGEST_BATCH_BYTES + 1
    stream = request.stream
    arrived = 0
    while piece := stream.read(_PIECE_BYTES):
        arrived += len(piece)
        if arrived > LARGEST_BATCH_BYTES:
            raise RequestEntityTooLarge
        yield piece


def _unpacked() -> Iterator[bytes]:
    gunzip = Gunzip()
    begun = False
    for piece in _pieces():
        begun = True
        yield from gunzip.unpack(piece)
    if begun:
        gunzip.finish()
