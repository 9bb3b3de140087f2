"""What each guide asks of this service while it is made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.web.envelope import Envelope

EXAMPLES: dict[str, Callable[[Envelope], dict[str, Any]]] = {}
