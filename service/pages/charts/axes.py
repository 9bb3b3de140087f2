"""Scales: where ticks stand, how they are written, hairlines, titles of axes."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor, log10
from typing import TYPE_CHECKING

from service.pages.charts.figure import Figure
from service.pages.charts.palette import LIGHT
from service.pages.charts.placing import Box
from service.pages.charts.text import width, wrap
from service.pages.wording import number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

_TICK_LENGTH = 4
_BESIDE_AXIS = 8
_LINE = 1.25
_LOG_STEPS = ((1, 2, 5), (1, 3), (1,))
# A scale that ends on its last tick loses it to rounding otherwise.
_SLACK = 1.0001


@dataclass(frozen=True, slots=True)
class Scale:
    """One axis: its ends, its ticks with what is written at them, its title."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]
    title: str
    is_log: bool = False


def linear(most: float, title: str, most_ticks: int, *, above: float = 0.05) -> Scale:
    """Make a scale from zero to a little above a value."""
    from matplotlib.ticker import MaxNLocator

    high = most * (1 + above) if most > 0 else 1.0
    found = MaxNLocator(most_ticks, steps=[1, 2, 2.5, 5, 10]).tick_values(0, high)
    return Scale(0, high, _written([float(place) for place in found if 0 <= place <= high]), title)


def logarithmic(least: float, most: float, title: str, most_ticks: int) -> Scale:
    """Make a logarithmic scale whose ticks stand at 1, 2 and 5 of each power of ten, or fewer where these are many."""
    powers = range(floor(log10(least)), ceil(log10(most)) + 1)
    for steps in _LOG_STEPS:
        places = [step * 10.0**power for power in powers for step in steps]
        places = [place for place in places if least <= place * _SLACK and place <= most * _SLACK]
        if len(places) <= most_ticks:
            break
    places = places[:: ceil(len(places) / most_ticks)] if places else [least]
    return Scale(least, most, tuple((place, _plain(place)) for place in places), title, is_log=True)


def plot_box(figure: Figure, across: Scale, up: Scale, *, room_over: float = 0, room_at_right: float = 0) -> Box:
    """Find the area of a plot: what its scales and their titles leave of the figure, and what is asked for beside."""
    text = figure.layout.text
    over = len(wrap(up.title, figure.right - figure.left, text)) * text * _LINE + 8 + room_over
    beside = max(width(label, text) for _, label in up.ticks) + _BESIDE_AXIS
    left, right = figure.left + beside, figure.right - room_at_right
    below = _TICK_LENGTH + text * (1.05 + 1.4 + _LINE * (len(wrap(across.title, figure.right - left, text)) - 1)) + 4
    return Box(left, figure.top + over, right, figure.bottom - below)


def scaled(figure: Figure, box: Box, across: Scale, up: Scale) -> Axes:
    """Make a plot with its two scales: hairlines across, a baseline, labels, and titles in line with the text."""
    axes = figure.axes(box)
    axes.set_xscale("log" if across.is_log else "linear")
    axes.set_yscale("log" if up.is_log else "linear")
    axes.set_xlim(across.low, across.high)
    axes.set_ylim(up.low, up.high)
    _hairlines(figure, axes, box, across, up)
    _baseline(figure, axes, box, across, up)
    return axes


def _hairlines(figure: Figure, axes: Axes, box: Box, across: Scale, up: Scale) -> None:
    text = figure.layout.text
    axes.set_yticks([place for place, _ in up.ticks])
    axes.set_yticks([], minor=True)
    axes.grid(visible=True, axis="y", color=LIGHT.rule, linewidth=0.8)
    for hairline in axes.yaxis.get_gridlines():
        hairline.set_clip_on(False)
    for place, label in up.ticks:
        y = figure.pixels(axes, across.low, place)[1]
        figure.write(box.left - _BESIDE_AXIS, y + text * 0.33, label, text, anchor="end")
    for index, line in enumerate(wrap(up.title, figure.right - figure.left, text)):
        figure.write(figure.left, figure.top + text * (0.75 + index * _LINE), line, text, colour=LIGHT.quiet)


def _baseline(figure: Figure, axes: Axes, box: Box, across: Scale, up: Scale) -> None:
    text = figure.layout.text
    axes.set_xticks([place for place, _ in across.ticks])
    axes.set_xticks([], minor=True)
    axes.tick_params(axis="x", which="major", length=_TICK_LENGTH, width=1, color=LIGHT.ink)
    axes.spines["bottom"].set(visible=True, color=LIGHT.ink, linewidth=1)
    y = box.bottom + _TICK_LENGTH + text * 1.05
    taken = float("-inf")
    for place, label in across.ticks:
        half = width(label, text) / 2
        x = figure.pixels(axes, place, up.low)[0]
        x = min(max(x, figure.left + half), figure.right - half)
        # A label that would touch its neighbour is left out; its tick stays.
        if x - half > taken + 5:
            figure.write(x, y, label, text, anchor="middle")
            taken = x + half
    for index, line in enumerate(wrap(across.title, figure.right - box.left, text)):
        figure.write(box.left, y + text * (1.4 + _LINE * index), line, text, colour=LIGHT.quiet)


def _written(places: Sequence[float]) -> tuple[tuple[float, str], ...]:
    """Write ticks with as many decimals as the one that needs most."""
    exact = [Decimal(f"{place:.6g}").normalize() for place in places]
    decimals = max((-int(place.as_tuple().exponent) for place in exact), default=0)
    if not 0 < decimals <= 4:
        return tuple((place, number(value)) for place, value in zip(places, exact, strict=True))
    return tuple((place, f"{value:.{decimals}f}") for place, value in zip(places, exact, strict=True))


def _plain(value: float) -> str:
    return number(Decimal(f"{value:.6g}"))
