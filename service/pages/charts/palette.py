"""Colours, marker shapes and dashes.

A colour never says anything alone: each series has a shape and a dash of its own as well. The colours of a palette
keep apart for readers with protanopia, deuteranopia and tritanopia; a test simulates these, and holds every contrast
against the paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours by what they are for. ``quiet`` and ``ink`` write, ``series`` draw, ``rule`` and ``wash`` lie behind."""

    paper: str
    ink: str
    quiet: str
    rule: str
    wash: str
    objection: str
    series: tuple[str, ...]

    def colours(self) -> tuple[str, ...]:
        """List every colour, in one order for all palettes."""
        return (self.paper, self.ink, self.quiet, self.rule, self.wash, self.objection, *self.series)


LIGHT = Palette(
    paper="#fbfaf6",
    ink="#22252b",
    quiet="#5b6068",
    rule="#d8d3c7",
    wash="#e9e3d4",
    objection="#a5341c",
    series=("#1d3f73", "#bd7a14", "#3a9076", "#6d1f3f", "#8e86c9", "#4a4a1c"),
)
DARK = Palette(
    paper="#191b1e",
    ink="#e8e5dd",
    quiet="#aaa9a2",
    rule="#41454b",
    wash="#33363b",
    objection="#f0836b",
    series=("#adabfe", "#d0b362", "#409365", "#fd93bc", "#8a62a2", "#eff1c4"),
)


@dataclass(frozen=True, slots=True)
class Style:
    """How one series is drawn: a colour, a marker of matplotlib, and a dash in points (empty: solid)."""

    colour: str
    marker: str
    dash: tuple[float, ...]


_MARKERS = ("o", "s", "^", "D", "v", "P")
_DASHES: tuple[tuple[float, ...], ...] = ((), (7, 2.5), (2, 2), (9, 2.5, 2, 2.5), (4, 1.5), (9, 2, 2, 2, 2, 2))
STYLES = tuple(
    Style(colour, marker, dash) for colour, marker, dash in zip(LIGHT.series, _MARKERS, _DASHES, strict=True)
)

_COLOURS_IN = {
    "light": {colour: colour for colour in LIGHT.colours()},
    "dark": dict(zip(LIGHT.colours(), DARK.colours(), strict=True)),
}


def colours_in(theme: str) -> Mapping[str, str]:
    """Give, for each colour of the light palette, in which all charts are drawn, the one that a theme has for it."""
    return _COLOURS_IN[theme]
