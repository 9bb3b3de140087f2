"""What every chart takes and gives."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

LAYOUTS = ("wide", "narrow")
THEMES = ("light", "dark")

Cell: TypeAlias = str | int | Decimal | None


@dataclass(frozen=True, slots=True)
class Look:
    """How a chart is set: ``wide`` for a column of text or print, ``narrow`` for a telephone; ``light`` or ``dark``."""

    layout: str = "wide"
    theme: str = "light"


@dataclass(frozen=True, slots=True)
class DataTable:
    """The numbers of a chart; column names are spelt as on the wire."""

    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """One finished chart: ``svg`` is a whole document, ``alternative`` says in words what it shows."""

    svg: str
    width: int
    height: int
    title: str
    alternative: str
    table: DataTable
