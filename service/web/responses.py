"""Response objects with their caching and security headers."""

from __future__ import annotations

from enum import Enum
from hashlib import blake2b

from flask import Flask, Response, request

from service.web.packing import PACKED_FORMS, pack

_CONTENT_TYPES = {
    "json": "application/json",
    "csv": "text/csv; charset=utf-8; header=present",
    "html": "text/html; charset=utf-8",
    "zip": "application/zip",
    "svg": "image/svg+xml; charset=utf-8",
    "ics": "text/calendar; charset=utf-8; method=PUBLISH",
    "text": "text/plain; charset=utf-8",
}
_POLICY = "Content-Security-Policy"
_NOTHING = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
_POLICIES = {
    # Everything a page needs comes from this service; it may send its forms here and nowhere else.
    "html": "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    # A chart needs nothing, not even styles; it may be shown inside any page.
    "svg": "default-src 'none'; base-uri 'none'; form-action 'none'",
}
_SECURITY = (("X-Content-Type-Options", "nosniff"), ("Referrer-Policy", "no-referrer"))


class Caching(Enum):
    """How long an answer may be kept. The value is its ``Cache-Control`` header."""

    # Released bytes never change; a pinned answer does not either, unless the service itself is corrected.
    RELEASED = "public, max-age=31536000, immutable"
    PINNED = "public, max-age=86400, immutable"
    REVALIDATE = "public, no-cache"
    UNTAGGED = "no-cache"
    NEVER = "no-store"


_TAGGED = frozenset((Caching.RELEASED, Caching.PINNED, Caching.REVALIDATE))


def pinned(version: str | None, otherwise: Caching = Caching.REVALIDATE) -> Caching:
    """Choose the caching of a computed answer: longer where the caller pinned a release."""
    return otherwise if version is None else Caching.PINNED


def respond(body: bytes, form: str, caching: Caching, *, negotiated: bool = False) -> Response:
    """Make the answer to a request.

    Parameters
    ----------
    body
        The bytes.
    form
        ``json``, ``csv``, ``html``, ``zip``, ``svg``, ``ics`` or ``text``.
    caching
        How long it may be kept; all but ``UNTAGGED`` and ``NEVER`` carry a strong ETag and answer 304.
    negotiated
        Whether the Accept header had a say.

    Returns
    -------
    Response
        With status 200 or 304.
    """
    policy = (_POLICY, _POLICIES.get(form, _NOTHING))
    headers = [*_SECURITY, policy, ("Content-Type", _CONTENT_TYPES[form]), ("Cache-Control", caching.value)]
    varies = ["Accept"] if negotiated else []
    packed = pack(body, form, request)
    if form in PACKED_FORMS:
        varies.append("Accept-Encoding")
    if packed is not None:
        headers.append(("Content-Encoding", "gzip"))
    if varies:
        headers.append(("Vary", ", ".join(varies)))
    response = Response(body if packed is None else packed, headers=headers)
    if caching in _TAGGED:
        # A strong tag names bytes, and packed ones are others.
        response.set_etag(blake2b(body, digest_size=16).hexdigest() + ("" if packed is None else "-gzip"))
        if "HTTP_IF_NONE_MATCH" in request.environ:
            response.make_conditional(request.environ)
    return response


def _add_security_headers(response: Response) -> Response:
    # Answers made by `respond` have them already; problems and Flask's own answers do not.
    if _SECURITY[0][0] not in response.headers:
        response.headers.extend([*_SECURITY, (_POLICY, _NOTHING)])
    return response


def _empty_options(response: Response) -> Response:
    # Flask answers OPTIONS with the methods in ``Allow`` and an empty page; there is no page, so no type either.
    if request.method == "OPTIONS" and response.status_code == 200:
        response.status_code = 204
        del response.headers["Content-Type"]
        response.headers["Allow"] = ", ".join(sorted(response.allow))
    return response


def register(app: Flask) -> None:
    """Give every answer of the application its security headers, and OPTIONS an answer without a body."""
    app.after_request(_add_security_headers)
    app.after_request(_empty_options)
