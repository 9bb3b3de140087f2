"""The line that asks for one operation from a shell."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from urllib.parse import quote, urlencode

_CONTINUED = " \\\n  "


def address(root: str, path: str, query: Mapping[str, Any] | None = None) -> str:
    """Give an address with its query.

    Parameters
    ----------
    root
        Absolute address of the service, ending in a slash.
    path
        Beginning with a slash, nothing left to fill in.
    query
        Values by name; a list is joined with commas.

    Returns
    -------
    str
        Percent-encoded where needed.
    """
    given = {name: ",".join(value) if isinstance(value, list) else value for name, value in (query or {}).items()}
    asked = urlencode(given, quote_via=quote, safe=",;")
    return root.rstrip("/") + quote(path) + (f"?{asked}" if asked else "")


def curl(
    url: str,
    body: object = None,
    media_type: str = "application/json",
    method: str | None = None,
    headers: Mapping[str, str] | None = None,
) -> str:
    """Write the command.

    Parameters
    ----------
    url
        The whole address.
    body
        What is sent: a JSON value, or a text that goes as it is.
    media_type
        Of the body.
    method
        Where it is not GET, and not POST with a body.
    headers
        Further headers by name.

    Returns
    -------
    str
        One command, over several lines where it has a body.
    """
    parts = [f"curl {f'-X {method} ' if method else ''}{_quoted(url)}"]
    parts += [f"-H {_quoted(f'{name}: {value}')}" for name, value in (headers or {}).items()]
    if body is not None:
        text = body if isinstance(body, str) else json.dumps(body, ensure_ascii=False, indent=1)
        parts += [f"-H {_quoted(f'Content-Type: {media_type}')}", f"--data-binary {_quoted(text)}"]
    return _CONTINUED.join(parts)


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"
