"""Amounts per day over body weight: the guidance of each phase as a band, published regimens as marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log

from service.pages.charts.amount_data import AmountOverWeight, AmountPoint, PublishedMark
from service.pages.charts.amount_words import alternative, notes, table, told_of_asked
from service.pages.charts.axes import Scale, logarithmic, plot_box, scaled
from service.pages.charts.chart import Chart, Look
from service.pages.charts.figure import GAP, Figure, Heading, Sample
from service.pages.charts.palette import LIGHT, STYLES
from service.pages.charts.placing import Box, Placer, distance
from service.pages.charts.plotting import LOCK, prepare
from service.pages.charts.text import clean, width, wrap
from service.pages.wording import words
from service.reference.release import DatasetStamp

_BAND_STYLES = {"maintenance": STYLES[0], "loading": STYLES[1]}
_OTHER_STYLE = STYLES[2]
_BAND_OPACITY = 0.15
_MARK_COLOUR = STYLES[3].colour
# What came of a regimen, as it is marked and as the key says it.
_FINDINGS = {
    "positive": (Sample(_MARK_COLOUR, "o", size=7), "benefit reported"),
    "mixed": (Sample(_MARK_COLOUR, "o", filled=False, size=7), "mixed"),
    "negative": (Sample(_MARK_COLOUR, "x", size=7), "no benefit"),
    "not_told": (Sample(_MARK_COLOUR, "D", filled=False, size=5.5), "benefit not tested or not told"),
}
_REACH = Sample(_MARK_COLOUR, line_width=1)
_LIMIT = Sample(LIGHT.objection, line_width=1.4, dash=(8, 3, 2, 3))
_ASKED = Sample(LIGHT.ink, line_width=1)
_ASKED_END = Sample(LIGHT.ink, "_", size=13)
# Regimens for any weight are marked on a short piece of their line, one after the other, in parts of the plot.
_FIRST_PART, _LAST_PART, _FLOATING_REACH = 0.06, 0.94, 0.045
# Where the name of a line is tried, in parts of the plot.
_FROM_LEFT, _FROM_RIGHT = (0.3, 0.15, 0.45, 0.6, 0.75, 0.9), (0.72, 0.85, 0.55, 0.4, 0.25, 0.1)
_ROOM_BELOW, _ROOM_ABOVE = 0.8, 1.25
_LANE_GAP = {"wide": 26.0, "narrow": 16.0}
_LANE_LABELS = {"wide": 50.0, "narrow": 36.0}
_LANE_TITLE = "weight not recorded"
_LANE_FOOT = 12.0
_INTO_MARGIN = 12.0
_PITCH = 1.3
_MOST_IDS = 4
_RADIUS = 4.5
_SAME_PLACE = 4.0


def draw_amount_over_weight(data: AmountOverWeight, stamp: DatasetStamp, look: Look) -> Chart:
    """Draw the chart.

    Parameters
    ----------
    data
        Guidance, regimens and, where one was asked for, the animal.
    stamp
        The release that the answer came from.
    look
        Layout and theme.

    Returns
    -------
    Chart
        A regimen that cannot be drawn is in the table, with the reason.
    """
    with LOCK:
        prepare()
        plot = _Plot(data, stamp, look)
        plot.draw_bands()
        plot.draw_published()
        plot.draw_asked()
        plot.write_labels()
        return plot.figure.chart(alternative(data), table(data))


@dataclass(frozen=True, slots=True)
class _Label:
    """What is written beside one of some places; the ids of regimens that lie on one another share a label."""

    places: tuple[tuple[float, float], ...]
    text: str
    is_id: bool = False


class _Plot:
    """The chart in the making: all marks are drawn before the labels look for their places."""

    def __init__(self, data: AmountOverWeight, stamp: DatasetStamp, look: Look) -> None:
        self._data, self._layout = data, look.layout
        self._drawn = [mark for mark in data.published if mark.points]
        self._beside = [mark for mark in self._drawn if mark.is_beside]
        heading = Heading(data.title, data.subject, _key(self._drawn))
        self.figure = Figure(look, heading, notes(data), stamp)
        across, up = _scales(data, self._drawn, look)
        self._lane = _LANE_GAP[look.layout] * 2 if self._beside else 0.0
        beside = self._lane + _LANE_LABELS[look.layout] if self._beside else 0.0
        text = self.figure.layout.text
        told = told_of_asked(data)
        # A phase to a line where they have no room side by side.
        self._asked_lines = told if look.layout == "narrow" else tuple(filter(None, [", ".join(told)]))
        over = text * _PITCH * len(self._asked_lines)
        self._box = plot_box(self.figure, across, up, room_over=over, room_at_right=beside)
        self._axes = scaled(self.figure, self._box, across, up)
        # Beside the plot is the lane, or the margin, into which the id of a mark at the edge may reach.
        right = self._box.right + (0 if self._beside else _INTO_MARGIN)
        self._placer = Placer(Box(self._box.left + 2, self._box.top - 2, right, self._box.bottom - 2))
        # Most important first.
        self._labels: list[_Label] = []

    def _at(self, weight_kg: float, amount_mg: float) -> tuple[float, float]:
        return self.figure.pixels(self._axes, weight_kg, amount_mg)

    def _lines(self, name: str, lines: Sequence[Sequence[tuple[float, float]]], sample: Sample) -> None:
        self.figure.mark(self._axes, name, [point for line in lines for point in (*line, GAP)], sample)
        for line in lines:
            self._placer.avoid([self._at(*point) for point in line])

    def draw_bands(self) -> None:
        """Draw guidance and, where one is recorded, the upper limit."""
        for index, band in enumerate(self._data.bands):
            style = _BAND_STYLES.get(band.phase, _OTHER_STYLE)
            low, high = _edges(band.points)
            edge = Sample(style.colour, line_width=1.6, dash=style.dash)
            if low != high:
                self.figure.area(self._axes, f"band-{index + 1}", [*low, *reversed(high)], style.colour, _BAND_OPACITY)
                self._lines(f"band-{index + 1}-high", [high], edge)
            self._lines(f"band-{index + 1}-low", [low], edge)
            is_upper = index == 0 and len(self._data.bands) > 1
            places = self._along(high, _FROM_LEFT) if is_upper else self._along(low, _FROM_RIGHT)
            self._labels.append(_Label(places, words(band.phase)))
        if self._data.limit:
            edge_points = _edges(self._data.limit)[1]
            self._lines("limit", [edge_points], _LIMIT)
            self._labels.append(_Label(self._along(edge_points, _FROM_LEFT), "upper limit"))

    def draw_published(self) -> None:
        """Draw each regimen: its marks, and how far its weights and amounts reach."""
        floating = [mark for mark in self._drawn if mark.is_for_any_weight]
        for mark in self._drawn:
            if mark.is_beside:
                continue
            if mark in floating:
                self._draw_regimen(mark, _part(floating.index(mark), len(floating)), _FLOATING_REACH)
            else:
                self._draw_regimen(mark, 0.5, 0.5)
        if self._beside:
            self._draw_lane()

    def _draw_regimen(self, mark: PublishedMark, part: float, reach: float) -> None:
        """Draw marks at a part of the regimen's weights, how far it reaches to both sides, and from low to high."""
        ends = _ends(mark, part)
        sides = zip(_ends(mark, part - reach), _ends(mark, part + reach), strict=True)
        lines = [line for line in dict.fromkeys((*sides, (ends[0], ends[1]))) if line[0] != line[1]]
        if lines:
            self._lines(f"{mark.regimen_id}-reach", lines, _REACH)
        ends = list(dict.fromkeys(ends))
        self.figure.mark(self._axes, mark.regimen_id, ends, _FINDINGS[mark.finding][0])
        for place in ends:
            self._occupy(self._at(*place))
        self._labels.append(_Label((self._at(*ends[-1]),), mark.regimen_id, is_id=True))

    def _occupy(self, place: tuple[float, float]) -> None:
        x, y = place
        self._placer.occupy(Box(x - _RADIUS, y - _RADIUS, x + _RADIUS, y + _RADIUS))

    def _draw_lane(self) -> None:
        """Draw, beside the plot, the amounts that were given to animals of unrecorded weight."""
        figure, box = self.figure, self._box
        x = box.right + self._lane / 2
        placer = Placer(Box(box.right, box.top - 12, figure.right, box.bottom))
        figure.stroke(((x - _LANE_FOOT, box.bottom), (x + _LANE_FOOT, box.bottom)), Sample(LIGHT.ink, line_width=1))
        room = figure.right - x + _LANE_FOOT
        for index, line in enumerate(wrap(_LANE_TITLE, room, figure.layout.small)):
            y = box.bottom + figure.layout.text * 1.4 + index * figure.layout.small * 1.2
            figure.write(x - _LANE_FOOT, y, line, figure.layout.small, colour=LIGHT.quiet)
        labels: list[_Label] = []
        for mark in self._beside:
            ends = [(x, self._at(1, amount)[1]) for amount in _floats(mark.points[0])[1:]]
            figure.stroke(ends, _REACH, f"{mark.regimen_id}-reach")
            figure.stroke(list(dict.fromkeys(ends)), _FINDINGS[mark.finding][0], mark.regimen_id)
            for _, y in ends:
                placer.occupy(Box(x - _RADIUS, y - _RADIUS, x + _RADIUS, y + _RADIUS))
            labels.append(_Label((ends[-1],), mark.regimen_id, is_id=True))
        self._write(placer, labels)

    def draw_asked(self) -> None:
        """Draw the weight of the animal asked for, and its amounts."""
        asked = self._data.asked
        if asked is None:
            return
        figure, box, text = self.figure, self._box, self.figure.layout.text
        weight_kg = float(asked.weight_kg)
        x = self._at(weight_kg, 1)[0]
        figure.stroke(((x, box.top - 4), (x, box.bottom)), _ASKED)
        self._placer.avoid([(x, box.top - 4), (x, box.bottom)])
        half = max(width(line, text) for line in self._asked_lines) / 2
        centre = min(max(x, figure.left + half), figure.right - half)
        first = box.top - 10 - (len(self._asked_lines) - 1) * text * _PITCH
        for index, line in enumerate(self._asked_lines):
            figure.write(centre, first + index * text * _PITCH, line, text, anchor="middle")
        for index, (_, point) in enumerate(asked.amounts):
            ends = list(dict.fromkeys((weight_kg, amount) for amount in _floats(point)[1:]))
            figure.mark(self._axes, f"asked-{index + 1}", ends, _ASKED_END)
            for end in ends:
                self._occupy(self._at(*end))

    def write_labels(self) -> None:
        """Write all labels of the plot."""
        self._write(self._placer, self._labels)

    def _write(self, placer: Placer, labels: Sequence[_Label]) -> None:
        """Write labels; those of one place together, one beneath the other."""
        groups: list[tuple[_Label, list[str]]] = []
        for label in labels:
            near = (
                texts
                for first, texts in groups
                if first.is_id and distance(first.places[0], label.places[0]) < _SAME_PLACE
            )
            if label.is_id and (texts := next(near, None)) is not None:
                texts.append(label.text)
            else:
                groups.append((label, [label.text]))
        for label, texts in groups:
            lines = texts if len(texts) <= _MOST_IDS else [*texts[: _MOST_IDS - 1], f"and {len(texts) - _MOST_IDS + 1}"]
            size = self.figure.layout.small if label.is_id else self.figure.layout.text
            self.figure.label(placer, label.places, lines, _RADIUS, size)

    def _along(self, points: Sequence[tuple[float, float]], parts: Sequence[float]) -> tuple[tuple[float, float], ...]:
        """Give places on a line at parts of the plot's width."""
        places = []
        for x in (self._box.left + part * (self._box.right - self._box.left) for part in parts):
            for (x0, y0), (x1, y1) in pairwise(self._at(*point) for point in points):
                if x0 <= x <= x1 and x1 > x0:
                    places.append((x, y0 + (x - x0) / (x1 - x0) * (y1 - y0)))
        return tuple(places) or (self._at(*points[-1]),)


def _part(index: int, count: int) -> float:
    return _FIRST_PART + (_LAST_PART - _FIRST_PART) * (index + 0.5) / count


def _between(start: float, end: float, part: float) -> float:
    """Give the place between two values on a logarithmic scale."""
    return exp(log(start) + part * (log(end) - log(start)))


def _ends(mark: PublishedMark, part: float) -> list[tuple[float, float]]:
    """Give a regimen's low and high end at a part of its weights, with the weight."""
    (x0, *from_amounts), (x1, *to_amounts) = _floats(mark.points[0]), _floats(mark.points[-1])
    pairs = zip(from_amounts, to_amounts, strict=True)
    return [(_between(x0, x1, part), _between(*pair, part)) for pair in pairs]


def _floats(point: AmountPoint) -> tuple[float, float, float]:
    return float(point.weight_kg), float(point.low_mg), float(point.high_mg)


def _edges(points: Sequence[AmountPoint]) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Give the low and the high edge of a band."""
    rows = [_floats(point) for point in points]
    return [(x, low) for x, low, _ in rows], [(x, high) for x, _, high in rows]


def _key(drawn: Sequence[PublishedMark]) -> tuple[tuple[Sample, str], ...]:
    found = {mark.finding for mark in drawn}
    return tuple(_FINDINGS[finding] for finding in _FINDINGS if finding in found)


def _scales(data: AmountOverWeight, drawn: Sequence[PublishedMark], look: Look) -> tuple[Scale, Scale]:
    is_narrow = look.layout == "narrow"
    across = logarithmic(float(data.from_kg), float(data.to_kg), "Body weight, kg", 8 if is_narrow else 12)
    points = [point for band in data.bands for point in band.points]
    points += [point for mark in drawn if not mark.is_for_any_weight for point in mark.points]
    points += data.limit
    amounts = [amount for point in points for amount in _floats(point)[1:]]
    # Of a line through all weights only a piece is drawn.
    floating = [mark for mark in drawn if mark.is_for_any_weight]
    for index, mark in enumerate(floating):
        part = _part(index, len(floating))
        amounts += [amount for at in (part - _FLOATING_REACH, part + _FLOATING_REACH) for _, amount in _ends(mark, at)]
    least, most = min(amounts) * _ROOM_BELOW, max(amounts) * _ROOM_ABOVE
    return across, logarithmic(least, most, f"{clean(data.substance)}, mg per day", 12)
