"""The common figure: heading, key, plots, notes and the stamp at the foot.

Lengths are pixels, y downward, as in SVG; matplotlib counts y upward, which only this module has to know.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from service.domain.common import NOTICE
from service.pages.charts.chart import Chart, DataTable, Look
from service.pages.charts.palette import LIGHT, colours_in
from service.pages.charts.placing import Box, Placer, Segment, distance
from service.pages.charts.svg import Inscription, Page, document
from service.pages.charts.text import clean, shorten, width, wrap
from service.reference.release import DatasetStamp

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.lines import Line2D

GAP = (float("nan"), float("nan"))
_PIXELS_PER_INCH = 72
_LINE = 1.32
# How far the letters of a line reach above and below its baseline, in parts of their size.
_ABOVE, _BELOW = 0.8, 0.26
_BEFORE_LABEL = 2.0
_SAMPLE_WIDTH, _SAMPLE_GAP, _ENTRY_GAP = 22.0, 7.0, 18.0


@dataclass(frozen=True, slots=True)
class Layout:
    """Measures of one layout."""

    width: int
    margin: float
    plot_height: float
    title: float
    text: float
    small: float
    is_narrow: bool


LAYOUTS = {
    "wide": Layout(720, 28, 380, 19, 12.5, 11, is_narrow=False),
    # Shown on a telephone at about nine tenths of this size.
    "narrow": Layout(360, 14, 330, 16.5, 12, 10.5, is_narrow=True),
}


@dataclass(frozen=True, slots=True)
class Sample:
    """What a mark looks like: a marker of matplotlib, filled or open, on a line or not, or a patch of colour."""

    colour: str = LIGHT.ink
    marker: str = ""
    filled: bool = True
    line_width: float = 0
    dash: tuple[float, ...] = ()
    patch: bool = False
    size: float = 7.5


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands above the plots. ``key`` explains marks that no label explains beside them."""

    title: str
    subtitle: str = ""
    key: tuple[tuple[Sample, str], ...] = ()


class Figure:
    """One chart in the making. Only to be used while :data:`service.pages.charts.plotting.LOCK` is held."""

    def __init__(
        self, look: Look, heading: Heading, notes: str, stamp: DatasetStamp, plot_height: float | None = None
    ) -> None:
        from matplotlib.backends.backend_svg import FigureCanvasSVG
        from matplotlib.figure import Figure as Drawing

        self.layout = LAYOUTS[look.layout]
        self._theme = look.theme
        self._texts: list[Inscription] = []
        self._samples: list[tuple[float, float, Sample]] = []
        self.title = clean(heading.title)
        self.left, self.right = self.layout.margin, self.layout.width - self.layout.margin
        self.top = self._write_heading(heading) + 14
        self.bottom = self.top + (plot_height if plot_height is not None else self.layout.plot_height)
        self.height = round(self._write_foot(notes, stamp, self.bottom + 16) + 8)
        size = (self.layout.width / _PIXELS_PER_INCH, self.height / _PIXELS_PER_INCH)
        self._drawing = Drawing(figsize=size, dpi=_PIXELS_PER_INCH)
        self._drawing.patch.set_visible(False)
        self._canvas = FigureCanvasSVG(self._drawing)
        for x, y, sample in self._samples:
            self._draw_sample(x, y, sample)

    def _write_heading(self, heading: Heading) -> float:
        layout, room = self.layout, self.right - self.left
        y = layout.margin * 0.7
        for line in wrap(self.title, room, layout.title, bold=True):
            y += layout.title * _LINE
            self.write(self.left, y, line, layout.title, bold=True)
        if heading.subtitle:
            y += 3
            for line in wrap(clean(heading.subtitle), room, layout.text):
                y += layout.text * _LINE
                self.write(self.left, y, line, layout.text, colour=LIGHT.quiet)
        return self._write_key(heading.key, y)

    def _write_key(self, key: Sequence[tuple[Sample, str]], y: float) -> float:
        layout = self.layout
        x, y = self.left, y + (layout.text * _LINE + 7 if key else 0)
        for sample, text in key:
            lines = wrap(text, self.right - self.left - _SAMPLE_WIDTH - _SAMPLE_GAP, layout.text)
            needed = _SAMPLE_WIDTH + _SAMPLE_GAP + max(width(line, layout.text) for line in lines)
            if x > self.left and x + needed > self.right:
                x, y = self.left, y + layout.text * _LINE + 2
            self._samples.append((x, y - layout.text * 0.32, sample))
            for index, line in enumerate(lines):
                y += layout.text * _LINE if index else 0
                self.write(x + _SAMPLE_WIDTH + _SAMPLE_GAP, y, line, layout.text)
            x += needed + _ENTRY_GAP
        return y

    def _write_foot(self, notes: str, stamp: DatasetStamp, y: float) -> float:
        layout = self.layout
        release = f"Fabella dataset {stamp.version}, released {stamp.released}. {NOTICE}"
        for text in (notes, release) if notes else (release,):
            for line in wrap(text, self.right - self.left, layout.small):
                y += layout.small * _LINE
                self.write(self.left, y, line, layout.small, colour=LIGHT.quiet)
            y += 3
        return y

    def write(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        anchor: str = "start",
        colour: str = LIGHT.ink,
        bold: bool = False,
        halo: bool = False,
    ) -> Box:
        """Write one line at a baseline; give the area that it takes up."""
        self._texts.append(Inscription(x, y, text, size, colour, anchor, bold, LIGHT.paper if halo else None))
        long = width(text, size, bold=bold)
        left = x - {"start": 0, "middle": long / 2, "end": long}[anchor]
        return Box(left, y - size * _ABOVE, left + long, y + size * _BELOW)

    def label(
        self,
        placer: Placer,
        points: Sequence[tuple[float, float]],
        lines: Sequence[str],
        reach: float = 6,
        size: float | None = None,
    ) -> bool:
        """Write a label where it has room beside one of some points; say whether there was any."""
        size = size or self.layout.text
        pitch = size * 1.18
        long = max(width(line, size) for line in lines)
        high = pitch * (len(lines) - 1) + size * (_ABOVE + _BELOW)
        tries = ((x, y, placer.place(x, y, long, high, reach, near=near)) for near in (True, False) for x, y in points)
        x, _, placed = next((found for found in tries if found[2] is not None), (0.0, 0.0, None))
        if placed is None:
            return False
        if placed.leader is not None:
            self.leader(placed.leader)
        # Lines stand at the side that faces the point.
        is_left = placed.box.right <= x
        edge = placed.box.right if is_left else placed.box.left
        for index, line in enumerate(lines):
            baseline = placed.box.top + size * _ABOVE + index * pitch
            self.write(edge, baseline, line, size, anchor="end" if is_left else "start", halo=True)
        return True

    def fitted(self, text: str, room: float) -> str:
        """Clean a caller's text and cut it to its room."""
        return shorten(clean(text), room, self.layout.text)

    def axes(self, box: Box) -> Axes:
        """Make a plot in an area; it has no frame and no labels of its own."""
        whole = (self.layout.width, self.height)
        axes = self._drawing.add_axes(
            (
                box.left / whole[0],
                1 - box.bottom / whole[1],
                (box.right - box.left) / whole[0],
                (box.bottom - box.top) / whole[1],
            )
        )
        axes.patch.set_visible(False)
        for spine in axes.spines.values():
            spine.set_visible(False)
        axes.tick_params(which="both", length=0, labelleft=False, labelbottom=False)
        axes.set_axisbelow(True)
        axes.margins(0)
        return axes

    def pixels(self, axes: Axes, x: float, y: float) -> tuple[float, float]:
        """Say where a value of a plot stands."""
        across, up = axes.transData.transform((x, y))
        return float(across), self.height - float(up)

    def mark(self, axes: Axes, name: str, points: Sequence[tuple[float, float]], sample: Sample) -> None:
        """Draw markers, a line, or both, through values of a plot; ``name`` ties it to its row of the table."""
        line = _line(points, sample)
        line.set(transform=axes.transData, clip_on=False, gid=f"mark-{name}")
        axes.add_line(line)

    def stroke(self, points: Sequence[tuple[float, float]], sample: Sample, name: str | None = None) -> None:
        """Draw markers, a line, or both, anywhere on the figure; :data:`GAP` between two points breaks the line."""
        line = _line([(x, self.height - y) for x, y in points], sample)
        if name is not None:
            line.set_gid(f"mark-{name}")
        self._drawing.add_artist(line)

    def area(self, axes: Axes, name: str, corners: Sequence[tuple[float, float]], colour: str, opacity: float) -> None:
        """Fill the area within values of a plot."""
        from matplotlib.patches import Polygon

        shape = Polygon(list(corners), transform=axes.transData)
        shape.set(facecolor=(colour, opacity), edgecolor="none", clip_on=False, gid=f"mark-{name}")
        axes.add_patch(shape)

    def leader(self, way: Segment) -> None:
        """Draw the thin line from a mark to its label; it ends a little before the label."""
        long = distance((way.x0, way.y0), (way.x1, way.y1))
        part = max(0.0, 1 - _BEFORE_LABEL / long) if long else 0
        end = (way.x0 + part * (way.x1 - way.x0), way.y0 + part * (way.y1 - way.y0))
        self.stroke(((way.x0, way.y0), end), Sample(LIGHT.quiet, line_width=0.7))

    def patch(self, boxes: Sequence[Box], colour: str, name: str | None = None, *, hollow: bool = False) -> None:
        """Fill rectangles anywhere on the figure, or draw their outlines."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        if not boxes:
            return
        corners = [
            (x, self.height - y)
            for box in boxes
            for x, y in (
                (box.left, box.top),
                (box.right, box.top),
                (box.right, box.bottom),
                (box.left, box.bottom),
                (box.left, box.top),
            )
        ]
        codes = [Path.MOVETO, Path.LINETO, Path.LINETO, Path.LINETO, Path.CLOSEPOLY] * len(boxes)
        shape = PathPatch(Path(corners, codes), transform=None)
        shape.set(facecolor=LIGHT.paper if hollow else colour, edgecolor=colour if hollow else "none", linewidth=1.2)
        if name is not None:
            shape.set_gid(f"mark-{name}")
        self._drawing.add_artist(shape)

    def _draw_sample(self, x: float, y: float, sample: Sample) -> None:
        if sample.patch:
            box = Box(x, y - 5, x + _SAMPLE_WIDTH, y + 5)
            self.patch([box], sample.colour, hollow=not sample.filled)
            return
        line = _line([(x + part * _SAMPLE_WIDTH, self.height - y) for part in (0, 0.5, 1)], sample)
        line.set_markevery([1])
        self._drawing.add_artist(line)

    def chart(self, alternative: str, table: DataTable) -> Chart:
        """Finish the chart."""
        out = io.StringIO()
        unsaid = dict.fromkeys(("Date", "Creator", "Format", "Type"))
        self._canvas.print_svg(out, metadata=unsaid)  # type: ignore[no-untyped-call]
        page = Page(self.layout.width, self.height, LIGHT.paper, self.title, alternative)
        svg = document(out.getvalue(), self._texts, page, colours_in(self._theme))
        return Chart(svg, page.width, page.height, self.title, alternative, table)


def _line(points: Sequence[tuple[float, float]], sample: Sample) -> Line2D:
    from matplotlib.lines import Line2D

    line = Line2D([x for x, _ in points], [y for _, y in points], transform=None)
    line.set(
        color=sample.colour,
        linewidth=sample.line_width,
        linestyle=(0, sample.dash) if sample.dash else ("-" if sample.line_width else "none"),
        marker=sample.marker or "none",
        markersize=sample.size,
        markeredgecolor=sample.colour,
        markeredgewidth=1.6,
        markerfacecolor=sample.colour if sample.filled else LIGHT.paper,
        dash_capstyle="butt",
        solid_capstyle="butt",
    )
    return line
