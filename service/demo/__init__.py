"""The invented case that ``fabella demo``, the tests and the documentation share."""

from __future__ import annotations

import json
from importlib import resources
from typing import Any


def scenario() -> dict[str, Any]:
    """Return a fresh copy of the invented case."""
    loaded: dict[str, Any] = json.loads(resources.files(__name__).joinpath("scenario.json").read_text("utf-8"))
    return loaded
