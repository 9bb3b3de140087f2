"""How cells and column names read on a page."""

from __future__ import annotations

import re
from decimal import Decimal

from flask import Flask
from markupsafe import Markup, escape

from service.web.csv_output import plain_number

_CODE = re.compile("`([^`]+)`")
_UNIT_ENDINGS = {"mg": "mg", "g": "g", "kg": "kg", "kcal": "kcal", "days": "days"}


def heading(column: str) -> str:
    """Write a column name for people: ``moiety_low_mg`` becomes ``moiety low (mg)``."""
    words = column.split("_")
    unit = _UNIT_ENDINGS.get(words[-1]) if len(words) > 1 else None
    return f"{' '.join(words[:-1])} ({unit})" if unit else " ".join(words)


def cell(value: object) -> str:
    """Write a value for people; what is not known is a dash."""
    if value is None or value in ((), [], ""):
        return "\u2013"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float | Decimal):
        return plain_number(value)
    return ", ".join(map(str, value)) if isinstance(value, list | tuple) else str(value)


def is_number(value: object) -> bool:
    """Say whether a cell is set flush right."""
    return isinstance(value, int | float | Decimal) and not isinstance(value, bool)


def marked(text: str) -> Markup:
    """Set what stands between backticks as code; everything is escaped first."""
    return Markup(_CODE.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped just before


def register(app: Flask) -> None:
    """Give the templates these functions as filters and tests."""
    app.add_template_filter(heading)
    app.add_template_filter(cell)
    app.add_template_filter(marked)
    app.add_template_test(is_number, "numeric")
