"""The OpenAPI document as the reference reads it."""

from __future__ import annotations

import json
from functools import lru_cache

from service.pages.docs.reference import Document
from service.web.operations import openapi_directory


@lru_cache(maxsize=1)
def openapi_document() -> Document:
    """Give the document that this service serves; read once."""
    found: Document = json.loads((openapi_directory() / "openapi.json").read_bytes())
    return found
