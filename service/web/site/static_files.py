"""Static files: their addresses carry a short hash of the file, so that a browser may keep them for a year."""

from __future__ import annotations

import mimetypes
from hashlib import blake2b
from pathlib import Path

from flask import Flask, Response, request, url_for

from service.web.responses import Caching

_FOLDER = Path(__file__).resolve().parents[2] / "pages" / "static"
_HASH_BYTES = 5


def _fingerprints(folder: Path) -> dict[str, str]:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {
        path.relative_to(folder).as_posix(): blake2b(path.read_bytes(), digest_size=_HASH_BYTES).hexdigest()
        for path in files
    }


_FINGERPRINT_OF = _fingerprints(_FOLDER)


def static_url(name: str) -> str:
    """Give the address of a static file with the hash of its bytes.

    Parameters
    ----------
    name
        Path below the static folder, for example ``pages.css``.

    Returns
    -------
    str
        For example ``/static/pages.css?v=0123456789``.
    """
    return url_for("static", filename=name, v=_FINGERPRINT_OF[name])


def _keep(response: Response) -> Response:
    if request.endpoint == "static" and response.status_code in (200, 304):
        asked = (request.view_args or {}).get("filename", "")
        known = request.args.get("v") == _FINGERPRINT_OF.get(asked)
        response.headers["Cache-Control"] = (Caching.RELEASED if known else Caching.REVALIDATE).value
    return response


def register(app: Flask) -> None:
    """Give the templates ``static_url``, and static files their caching."""
    # Python's own table of types lacks it, and a small system has no other.
    mimetypes.add_type("font/woff2", ".woff2")
    app.add_template_global(static_url)
    app.after_request(_keep)
