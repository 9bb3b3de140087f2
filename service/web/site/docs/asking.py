"""Asking this very service, so that the documentation shows what it answers and not what somebody typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask import current_app

from service.pages.docs.curl import address, curl
from service.web.problems import root_url
from service.web.wire import Json


@dataclass(frozen=True, slots=True)
class Exchange:
    """A request and its answer. ``curl`` asks for the same from a shell."""

    curl: str
    url: str
    status: int
    text: str
    members: Json


def get(path: str, query: Mapping[str, Any] | None = None, method: str = "GET", **headers: str) -> Exchange:
    """Ask by an address."""
    url = address(root_url(), path, query)
    response = current_app.test_client().open(url, method=method, headers=_named(headers))
    return Exchange(curl(url), url, response.status_code, response.get_data(as_text=True), response.get_json(silent=True))


def post(path: str, body: object, media_type: str = "application/json") -> Exchange:
    """Ask with a body, a JSON value or a text."""
    url = address(root_url(), path)
    sent: dict[str, Any] = {"data": body} if isinstance(body, str | bytes) else {"json": body}
    response = current_app.test_client().post(url, content_type=media_type, **sent)
    shown = body.decode() if isinstance(body, bytes) else body
    return Exchange(
        curl(url, shown, media_type),
        url,
        response.status_code,
        response.get_data(as_text=True),
        response.get_json(silent=True),
    )


def _named(headers: Mapping[str, str]) -> dict[str, str]:
    return {name.replace("_", "-"): value for name, value in headers.items()}
