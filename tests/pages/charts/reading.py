"""Reads a chart as a viewer would: its texts with their extents, its marks, its colours."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from xml.etree.ElementTree import Element

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from service.pages.charts import text as our_text
from service.pages.charts.chart import Chart
from service.pages.charts.placing import Box

SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
# Letters may touch the area of a neighbour by a rounded pixel, no more.
_TOLERANCE = 0.3
_ELEMENTS = frozenset(("svg", "title", "desc", "defs", "rect", "path", "g", "use", "text"))
_ATTRIBUTES = frozenset(
    (
        *(
            "viewBox",
            "width",
            "height",
            "role",
            "aria-labelledby",
            "font-family",
            "font-size",
            "font-weight",
            "id",
            "d",
        ),
        *("x", "y", "fill", "fill-opacity", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap"),
        *("stroke-dasharray", "paint-order", "text-anchor", "data-mark", _HREF),
    )
)


@dataclass(frozen=True)
class Line:
    """One line of text and the area of its letters."""

    text: str
    box: Box
    size: float
    colour: str
    is_label: bool


class Reading:
    """A parsed chart."""

    def __init__(self, chart: Chart) -> None:
        self.chart = chart
        self.root = ElementTree.fromstring(chart.svg)  # noqa: S314 - our own document

    def lines(self) -> list[Line]:
        """List every line of text with the extents that matplotlib gives its letters."""
        return [_line(text, group) for group in self.root.iter(f"{SVG}g") for text in group if text.tag == f"{SVG}text"]

    def texts(self) -> list[str]:
        """List what is written."""
        return [line.text for line in self.lines()]

    def marks(self) -> dict[str, Element]:
        """Give the drawn elements that belong to a row of the table, by name; a name stands once."""
        found = [element for element in self.root.iter() if "data-mark" in element.attrib]
        named = {element.attrib["data-mark"]: element for element in found}
        assert len(named) == len(found)
        return named

    def points(self, name: str) -> list[tuple[float, float]]:
        """Give the places of the markers of a mark."""
        element = self.marks()[name]
        uses = [element, *element.iter()] if element.tag == f"{SVG}use" else list(element.iter())
        return list(
            dict.fromkeys((float(use.attrib["x"]), float(use.attrib["y"])) for use in uses if use.tag == f"{SVG}use")
        )

    def coordinates(self) -> Iterator[tuple[float, float]]:
        """Walk every place that anything is drawn at."""
        for element in self.root:
            if element.tag == f"{SVG}defs":
                continue
            for part in element.iter():
                if part.tag == f"{SVG}path":
                    numbers = [float(number) for number in _NUMBER.findall(part.attrib["d"])]
                    yield from zip(numbers[::2], numbers[1::2], strict=True)
                elif part.tag == f"{SVG}use":
                    yield float(part.attrib["x"]), float(part.attrib["y"])

    def colours(self) -> set[str]:
        """List every colour that is used."""
        values = (element.get(name) for element in self.root.iter() for name in ("fill", "stroke"))
        return {value for value in values if value is not None and value.startswith("#")}


@cache
def _extents(text: str, size: float, bold: bool) -> tuple[float, float, float, float]:
    font = FontProperties(family="DejaVu Serif", weight="bold" if bold else "normal", size=size)
    box = TextPath((0, 0), text, prop=font, usetex=False).get_extents()
    return float(box.x0), float(box.y0), float(box.x1), float(box.y1)


def _is_known(text: str) -> bool:
    return all(0x20 < ord(char) < 0x7F or char in " \u2026\u2013\u202f" for char in text)


def _line(element: Element, group: Element) -> Line:
    text, size = element.text or "", float(group.attrib["font-size"])
    bold = "font-weight" in group.attrib
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    if _is_known(text):
        left, low, right, high = _extents(text.replace("$", "S"), size, bold)
    else:
        left, low, right, high = 0.0, -0.2 * size, our_text.width(text, size, bold=bold), 0.75 * size
    shift = {"start": 0.0, "middle": (left + right) / 2, "end": right}[group.get("text-anchor", "start")]
    box = Box(x - shift + left, y - high, x - shift + right, y - low)
    return Line(text, box, size, group.attrib["fill"], "paint-order" in group.attrib)


def assert_sound(chart: Chart) -> Reading:
    """Assert what holds for every chart, and give it parsed.

    It can be read aloud, is not active, stays on its canvas, and no line of text lies on another.
    """
    reading = Reading(chart)
    root = reading.root
    assert root.tag == f"{SVG}svg"
    assert root.attrib["role"] == "img"
    assert root.attrib["viewBox"] == f"0 0 {chart.width} {chart.height}"
    title_id, desc_id = root.attrib["aria-labelledby"].split()
    said = {element.attrib["id"]: element.text for element in root if element.tag in (f"{SVG}title", f"{SVG}desc")}
    assert said == {title_id: chart.title, desc_id: chart.alternative}
    _assert_not_active(root)
    _assert_on_canvas(reading)
    for one, other in combinations(reading.lines(), 2):
        assert not _shrunk(one.box).overlaps(other.box), (one, other)
    assert all(len(row) == len(chart.table.columns) for row in chart.table.rows)
    return reading


def _assert_not_active(root: Element) -> None:
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in _ELEMENTS, element.tag
        assert set(element.attrib) <= _ATTRIBUTES, element.attrib
        # Nothing is fetched: a reference leads to a marker of the same document.
        assert element.get(_HREF, "#").startswith("#")


def _assert_on_canvas(reading: Reading) -> None:
    canvas = Box(0, 0, reading.chart.width, reading.chart.height)
    for line in reading.lines():
        assert _shrunk(line.box).lies_in(canvas), line
    for x, y in reading.coordinates():
        assert -_TOLERANCE <= x <= canvas.right + _TOLERANCE
        assert -_TOLERANCE <= y <= canvas.bottom + _TOLERANCE


def _shrunk(box: Box) -> Box:
    return Box(box.left + _TOLERANCE, box.top + _TOLERANCE, box.right - _TOLERANCE, box.bottom - _TOLERANCE)
