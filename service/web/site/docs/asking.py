"""Asking this very service, so that the documentation shows what it answers and not what somebody typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flask import current_app

from service.pages.docs.curl import address, curl
from service.web.problems import root_url
from service.web.wire import Json, dump


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
    shown = curl(url, method=None if method == "GET" else method, headers=headers)
    return _exchange(shown, url, method=method, headers=headers)


def post(
    path: str, body: object, media_type: str = "application/json", query: Mapping[str, Any] | None = None
) -> Exchange:
    """Ask with a body, a JSON value or a text."""
    url = address(root_url(), path, query)
    sent = body if isinstance(body, str) else dump(body)
    return _exchange(curl(url, body, media_type), url, method="POST", data=sent, content_type=media_type)


def _exchange(shown: str, url: str, **sent: Any) -> Exchange:  # noqa: ANN401 - as the client takes it
    response = current_app.test_client().open(url, **sent)
    return Exchange(shown, url, response.status_code, response.get_data(as_text=True), response.get_json(silent=True))
