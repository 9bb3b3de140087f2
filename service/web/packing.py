"""Packing of answers by gzip, for callers that take it."""

from __future__ import annotations

import gzip

from flask import Request

# Shorter answers fit into one packet either way.
_LEAST_BYTES = 1_400
_LEVEL = 6
# Pages and pictures are read over slow lines; answers to programs are small and mostly fetched over fast ones.
PACKED_FORMS = frozenset(("html", "svg"))


def pack(body: bytes, form: str, request: Request) -> bytes | None:
    """Pack a body where that is worth it and the caller takes it.

    Parameters
    ----------
    body
        The bytes.
    form
        What they are, as :func:`service.web.responses.respond` names it.
    request
        Whose ``Accept-Encoding`` decides.

    Returns
    -------
    bytes or None
        The same bytes for the same body; ``None`` where it goes out as it is.
    """
    if form not in PACKED_FORMS or len(body) < _LEAST_BYTES:
        return None
    if request.accept_encodings["gzip"] <= 0:
        return None
    # No time inside, so that the same answer is the same bytes.
    return gzip.compress(body, _LEVEL, mtime=0)
