"""Which representation a caller gets: by the ending of the path, else by the Accept header."""

from __future__ import annotations

from functools import lru_cache

from flask import request
from werkzeug.datastructures import MIMEAccept
from werkzeug.http import parse_accept_header

from service.web.faults import Fault

MEDIA_TYPES = {
    "json": "application/json",
    "csv": "text/csv",
    "html": "text/html",
    "zip": "application/zip",
    "ics": "text/calendar",
    "text": "text/plain",
    "svg": "image/svg+xml",
    "ndjson": "application/x-ndjson",
    "jsonl": "application/jsonl",
}
ANY_ENDING = "any(json, csv, html)"
TABULAR = ("json", "csv", "html")
JSON_ONLY = ("json",)


def choose(offers: tuple[str, ...], ending: str | None = None) -> str:
    """Pick one of the offered representations.

    Parameters
    ----------
    offers
        Keys of ``MEDIA_TYPES``; the first serves a caller without preference.
    ending
        Ending of the path, which decides where there is one.

    Returns
    -------
    str
        One of ``offers``.

    Raises
    ------
    Fault
        ``not-acceptable`` where the Accept header admits none.
    """
    if ending is not None:
        return ending
    header = request.environ.get("HTTP_ACCEPT")
    if not header or header == "*/*":
        return offers[0]
    chosen = _preferred(header[:1000], offers)
    if chosen is None:
        possible = ", ".join(MEDIA_TYPES[offer] for offer in offers)
        raise Fault("not-acceptable", f"This address answers with {possible}; the Accept header admits none of these.")
    return chosen


@lru_cache(maxsize=256)
def _preferred(header: str, offers: tuple[str, ...]) -> str | None:
    # All parameters but the weight are let go: nothing here is offered in versions, and JSON with one is still JSON.
    accept = MIMEAccept([(kind.partition(";")[0].strip(), weight) for kind, weight in parse_accept_header(header)])
    # MIMEAccept sorts by specificity first, so "quality" obeys "text/*;q=0.5, text/csv;q=0".
    best = max(offers, key=lambda offer: accept.quality(MEDIA_TYPES[offer]))
    return best if accept.quality(MEDIA_TYPES[best]) > 0 else None
