"""Small text tables that stay within a terminal's width."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Sequence

WIDTH = 100
_GAP = "  "
_NARROWEST = 8
_LIKE_A_NUMBER = re.compile(r"-?[0-9][0-9,.]*( to [0-9][0-9,.]*)?( ?%)?|-")


def number(value: float | None) -> str:
    """Write a number for reading: four significant digits, thousands marked, ``-`` for none."""
    if value is None:
        return "-"
    if value == 0:
        return "0"
    decimals = max(0, 3 - math.floor(math.log10(abs(value))))
    text = f"{value:,.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def span(low: float | None, high: float | None) -> str:
    """Write a range, or one number where both ends agree."""
    return number(low) if low == high else f"{number(low)} to {number(high)}"


def _widths(columns: Sequence[Sequence[str]], available: int) -> list[int]:
    """Natural widths, then the widest column gives way until the table fits."""
    widths = [max(len(cell) for cell in column) for column in columns]
    while sum(widths) > available and max(widths) > _NARROWEST:
        widths[widths.index(max(widths))] -= 1
    return widths


def table(headers: Sequence[str], rows: Sequence[Sequence[str]], *, width: int = WIDTH, indent: str = "   ") -> str:
    """Lay rows out in columns; long cells wrap, columns of numbers align right."""
    if not rows:
        return f"{indent}(nothing)"
    columns = [[header, *(row[index] for row in rows)] for index, header in enumerate(headers)]
    widths = _widths(columns, width - len(indent) - len(_GAP) * (len(headers) - 1))
    right = [all(_LIKE_A_NUMBER.fullmatch(cell) for cell in column[1:]) for column in columns]
    lines = []
    for row in (headers, ["-" * size for size in widths], *rows):
        cells = [textwrap.wrap(cell, size) or [""] for cell, size in zip(row, widths, strict=True)]
        for line_index in range(max(map(len, cells))):
            pieces = [cell[line_index] if line_index < len(cell) else "" for cell in cells]
            aligned = [
                piece.rjust(size) if flush else piece.ljust(size)
                for piece, size, flush in zip(pieces, widths, right, strict=True)
            ]
            lines.append((indent + _GAP.join(aligned)).rstrip())
    return "\n".join(lines)


def paragraph(text: str, *, bullet: str = "", width: int = WIDTH, indent: str = "   ") -> str:
    """Wrap a sentence or two; a bullet hangs in the margin of its lines."""
    return textwrap.fill(text, width, initial_indent=indent + bullet, subsequent_indent=indent + " " * len(bullet))
