"""How cells and column names read on a page."""

from __future__ import annotations

import re
from decimal import Decimal

from flask import Flask
from markupsafe import Markup, escape

from service.web.csv_output import plain_number

_LONGEST_LINE = 36
_CODE = re.compile("`([^`]+)`")
# A unit at the end of a name; "per 30 days" and "per g" are no unit of what stands before them.
_UNIT_ENDING = re.compile(r"(.*?)_((?:mg|g|kg|kcal|days)(?:_per_(?:kg|day))?)")


def heading(column: str) -> str:
    """Write a column name for people: ``moiety_low_mg`` becomes ``moiety low (mg)``."""
    match = _UNIT_ENDING.fullmatch(column)
    if match is None or match[1] == "per" or re.search(r"_per(?:_[0-9]+)?$", match[1]):
        return column.replace("_", " ")
    return f"{match[1]} ({match[2]})".replace("_", " ")


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


def is_long(value: object) -> bool:
    """Say whether a cell may be broken over lines."""
    return len(cell(value)) > _LONGEST_LINE


def marked(text: str) -> Markup:
    """Set what stands between backticks as code; everything is escaped first."""
    return Markup(_CODE.sub(r"<code>\1</code>", str(escape(text))))  # noqa: S704 - escaped just before


def register(app: Flask) -> None:
    """Give the templates these functions as filters and tests."""
    app.add_template_filter(heading)
    app.add_template_filter(cell)
    app.add_template_filter(marked)
    app.add_template_test(is_number, "numeric")
    app.add_template_test(is_long, "long")
