"""The files of Swagger UI that the try-it console needs, out of the package that brings them."""

from __future__ import annotations

from functools import lru_cache
from hashlib import blake2b
from importlib.util import find_spec
from pathlib import Path

from flask import Response, request, send_from_directory, url_for

from service.web.faults import Fault
from service.web.responses import Caching

ASSETS = ("swagger-ui.css", "swagger-ui-bundle.js")
# The package is a Flask extension of its own; only the files within it are of use here, so it is not imported.
_PACKAGE = "flask_swagger_ui"
_HASH_BYTES = 5


def asset_url(name: str) -> str:
    """Give the address of a file of the console with the hash of its bytes."""
    return url_for("site_docs.get_asset", name=name, v=_fingerprint(name))


def send_asset(name: str) -> Response:
    """Answer with a file of the console; a browser may keep it for a year where the address has its hash."""
    if name not in ASSETS:
        raise Fault("not-found", f"The console has the files {' and '.join(ASSETS)}, and no other.")
    response = send_from_directory(_folder(), name)
    known = request.args.get("v") == _fingerprint(name)
    response.headers["Cache-Control"] = (Caching.RELEASED if known else Caching.REVALIDATE).value
    return response


@lru_cache(maxsize=1)
def _folder() -> Path:
    found = find_spec(_PACKAGE)
    if found is None or found.origin is None:
        raise RuntimeError(f"{_PACKAGE} is not installed")
    return Path(found.origin).parent / "dist"


@lru_cache(maxsize=len(ASSETS))
def _fingerprint(name: str) -> str:
    return blake2b((_folder() / name).read_bytes(), digest_size=_HASH_BYTES).hexdigest()
