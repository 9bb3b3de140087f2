"""What each guide asks of this service while it is made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.web.envelope import Envelope
from service.web.site.docs import interface_examples, method_examples, start_examples

EXAMPLES: dict[str, Callable[[Envelope], dict[str, Any]]] = {
    "start-app": start_examples.app,
    "start-database": start_examples.database,
    "start-spreadsheet": start_examples.spreadsheet,
    "start-writer": start_examples.writer,
    "amounts": method_examples.amounts,
    "origin-and-evidence": method_examples.origin_and_evidence,
    "verdicts": method_examples.verdicts,
    "plans": method_examples.plans,
    "combinations": method_examples.combinations,
    "care-note": method_examples.care_note,
    "words": interface_examples.words,
    "errors": interface_examples.errors,
    "limits": interface_examples.limits,
}
