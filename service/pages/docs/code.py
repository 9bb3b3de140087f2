"""Answers and programs as text on a page."""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape
from typing import Any

from markupsafe import Markup

_LEFT_OUT = "..."


def code_text(text: str) -> Markup:
    """Escape what a page must not take for markup, and no more: quotes are plain text between tags."""
    return Markup(escape(text, quote=False))  # noqa: S704 - escaped just here


def json_text(value: object) -> str:
    """Write a value as JSON for people."""
    return json.dumps(value, ensure_ascii=False, indent=1)


def part_of(members: Mapping[str, Any], *names: str) -> dict[str, Any]:
    """Keep some members of an answer, in the order of the answer."""
    return {name: value for name, value in members.items() if name in names}


def first_of(value: object, count: int = 1) -> object:
    """Shorten every list of an answer, at every depth; a row of dots stands for what is left out."""
    if isinstance(value, Mapping):
        return {name: first_of(below, count) for name, below in value.items()}
    if not isinstance(value, list):
        return value
    kept = [first_of(entry, count) for entry in value[:count]]
    return kept if len(value) <= count else [*kept, _LEFT_OUT]
