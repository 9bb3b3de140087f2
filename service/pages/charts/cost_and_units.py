"""Cost per day against units per day of compared products, with those that no other beats in both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from service.pages.charts.axes import Scale, linear, plot_box, scaled
from service.pages.charts.chart import Chart, DataTable, Look
from service.pages.charts.figure import Figure, Heading, Sample
from service.pages.charts.numbers import can_be_drawn, counted, money, short
from service.pages.charts.palette import LIGHT, STYLES
from service.pages.charts.placing import Box, Placer, distance
from service.pages.charts.plotting import LOCK, prepare
from service.pages.charts.text import clean
from service.reference.release import DatasetStamp

_TITLE = "Cost per day against units per day"
_EFFICIENT = Sample(STYLES[0].colour, "o", size=9)
_OTHER = Sample(LIGHT.quiet, "o", filled=False, size=8)
_AGAINST = Sample(LIGHT.objection, "x", size=8)
_KEY = ((_EFFICIENT, "efficient"), (_OTHER, "not efficient"), (_AGAINST, "something speaks against it"))
_EFFICIENT_MEANS = "Efficient: no other product is both cheaper and fewer units a day."
_STEPS = Sample(STYLES[0].colour, line_width=1.4)
# Up to so many products every one is named beside its mark; of more, only the efficient ones are, and of many of
# these the cheapest.
_MOST_NAMED = {"wide": 12, "narrow": 6}
_MOST_EFFICIENT_NAMED = {"wide": 8, "narrow": 4}
_NAME_ROOM = {"wide": 250.0, "narrow": 150.0}
# Marks nearer than this share one label.
_SAME_PLACE = 4.0
_MOST_LINES = 3
_RADIUS = 5.0
_COLUMNS = (
    "number",
    "product",
    "units_per_day",
    "unit",
    "cost_per_day",
    "currency",
    "efficient",
    "objections",
    "drawn",
)


@dataclass(frozen=True, slots=True)
class ComparedProduct:
    """One product of a comparison. ``objections`` are the reasons against it, in words."""

    name: str
    unit: str
    units_per_day: Decimal | None
    cost_per_day: Decimal | None
    efficient: bool = False
    objections: tuple[str, ...] = ()

    @property
    def is_drawn(self) -> bool:
        """Whether both numbers are known and fit on a scale."""
        return can_be_drawn(self.units_per_day) and can_be_drawn(self.cost_per_day)


@dataclass(frozen=True, slots=True)
class CostAndUnits:
    """What the chart shows. ``subject`` says for what and whom, for example ``Glucosamine for a dog of 34 kg``."""

    subject: str
    currency: str | None
    products: tuple[ComparedProduct, ...]


@dataclass(frozen=True, slots=True)
class _Point:
    """One drawn product: its number in the table and where it stands on the figure."""

    number: int
    product: ComparedProduct
    units: float
    cost: float

    @property
    def is_efficient(self) -> bool:
        """Whether it belongs to the efficient set; what something speaks against does not."""
        return self.product.efficient and not self.product.objections

    @property
    def sample(self) -> Sample:
        """How it is marked."""
        if self.product.objections:
            return _AGAINST
        return _EFFICIENT if self.is_efficient else _OTHER


def draw_cost_and_units(data: CostAndUnits, stamp: DatasetStamp, look: Look) -> Chart:
    """Draw the chart.

    Parameters
    ----------
    data
        The compared products, in the order in which they are to be numbered.
    stamp
        The release that the answer came from.
    look
        Layout and theme.

    Returns
    -------
    Chart
        A product with an unknown cost or number of units is in the table and not in the picture, which says so.
    """
    points = [
        _Point(position, product, float(product.units_per_day or 0), float(product.cost_per_day or 0))
        for position, product in enumerate(data.products, start=1)
        if product.is_drawn
    ]
    with LOCK:
        prepare()
        are_few = len(points) <= _MOST_NAMED[look.layout]
        plot = _Plot(data, points, stamp, look, are_named=are_few)
        if not plot.write_labels() and are_few:
            plot = _Plot(data, points, stamp, look, are_named=False)
            plot.write_labels()
        return plot.figure.chart(_alternative(data, points), _table(data))


class _Plot:
    """The marks of a chart, and the labels once they are asked for; every product is named, or only some are."""

    def __init__(
        self, data: CostAndUnits, points: Sequence[_Point], stamp: DatasetStamp, look: Look, *, are_named: bool
    ) -> None:
        self.figure = Figure(look, Heading(_TITLE, data.subject, _KEY), _notes(data, points, are_named), stamp)
        self._points, self._layout, self._are_named = points, look.layout, are_named
        across, up = _scales(data, points, look)
        box = plot_box(self.figure, across, up)
        self._axes = scaled(self.figure, box, across, up)
        self._placer = Placer(Box(box.left + 2, box.top - 6, self.figure.right, box.bottom - 2))
        self._places = {point.number: self.figure.pixels(self._axes, point.units, point.cost) for point in points}
        self._draw_steps()
        self._draw_marks()

    def _draw_steps(self) -> None:
        """Join the efficient set: along a step, paying less only by giving more units."""
        chosen = sorted((point for point in self._points if point.is_efficient), key=lambda one: (one.units, -one.cost))
        if len(chosen) < 2:
            return
        corners = [(chosen[0].units, chosen[0].cost)]
        for point in chosen[1:]:
            corners += [(point.units, corners[-1][1]), (point.units, point.cost)]
        self.figure.mark(self._axes, "efficient-set", corners, _STEPS)
        self._placer.avoid([self.figure.pixels(self._axes, *corner) for corner in corners])

    def _draw_marks(self) -> None:
        # Efficient ones last, so that they lie on top where marks meet.
        for point in sorted(self._points, key=lambda one: one.is_efficient):
            self.figure.mark(self._axes, str(point.number), [(point.units, point.cost)], point.sample)
            x, y = self._places[point.number]
            self._placer.occupy(Box(x - _RADIUS, y - _RADIUS, x + _RADIUS, y + _RADIUS))

    def write_labels(self) -> bool:
        """Write the labels, those of the efficient set first; say whether each found its place."""
        efficient = sorted((point for point in self._points if point.is_efficient), key=lambda point: point.cost)
        named = frozenset(point.number for point in efficient[: _MOST_EFFICIENT_NAMED[self._layout]])
        groups = self._together()
        groups.sort(key=lambda group: min((not point.is_efficient, point.number) for point in group))
        return all([self._label(group, named) for group in groups])

    def _together(self) -> list[list[_Point]]:
        """Gather the points that lie on one another: they share a label."""
        groups: list[list[_Point]] = []
        for point in self._points:
            place = self._places[point.number]
            near = (group for group in groups if distance(self._places[group[0].number], place) < _SAME_PLACE)
            if (group := next(near, None)) is not None:
                group.append(point)
            else:
                groups.append([point])
        return groups

    def _label(self, group: Sequence[_Point], named: frozenset[int]) -> bool:
        x, y = self._places[group[0].number]
        if self._are_named:
            return len(group) <= _MOST_LINES and self._write(x, y, [point.product.name for point in group])
        names = [f"{point.number} {point.product.name}" for point in group if point.number in named]
        numbers = _numbers([point.number for point in group if point.number not in named])
        lines = [*names[:_MOST_LINES], *([numbers] if numbers else [])]
        # Where names have no room, numbers may; where these have none either, the table has both.
        return self._write(x, y, lines) or self._write(x, y, [_numbers([point.number for point in group])])

    def _write(self, x: float, y: float, lines: Sequence[str]) -> bool:
        fitted = [self.figure.fitted(line, _NAME_ROOM[self._layout]) for line in lines]
        return self.figure.label(self._placer, [(x, y)], fitted, _RADIUS)


def _scales(data: CostAndUnits, points: Sequence[_Point], look: Look) -> tuple[Scale, Scale]:
    ticks = 5 if look.layout == "narrow" else 8
    units = dict.fromkeys(clean(point.product.unit) for point in points)
    of_what = f" ({next(iter(units))})" if len(units) == 1 else ""
    across = linear(max((point.units for point in points), default=1), f"Units per day{of_what}", ticks, above=0.08)
    currency = f", {data.currency}" if data.currency else ""
    return across, linear(max((point.cost for point in points), default=1), f"Cost per day{currency}", 6, above=0.08)


def _numbers(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers[:4])) + (", \u2026" if len(numbers) > 4 else "")


def _notes(data: CostAndUnits, points: Sequence[_Point], are_named: bool) -> str:
    notes = [_EFFICIENT_MEANS]
    if not are_named:
        notes.append("Numbers are those of the products in the table.")
    if missing := len(data.products) - len(points):
        notes.append(f"Not drawn: {counted(missing, 'product', 'products')} of unknown cost or number of units.")
    return " ".join(notes)


def _alternative(data: CostAndUnits, points: Sequence[_Point]) -> str:
    efficient = sorted((point for point in points if point.is_efficient), key=lambda point: point.cost)
    against = sum(bool(point.product.objections) for point in points)
    said = [f"{_TITLE} of {counted(len(points), 'product', 'products')}. {clean(data.subject)}."]
    if efficient:
        ends = [efficient[0]] if len(efficient) == 1 else [efficient[0], efficient[-1]]
        told = " to ".join(_told(point, data.currency) for point in ends)
        said.append(f"Efficient {'is' if len(efficient) == 1 else f'are {len(efficient)}, from'} {told}.")
    else:
        said.append("None is efficient.")
    if against:
        said.append(f"Something speaks against {counted(against, 'product', 'products')}.")
    if missing := len(data.products) - len(points):
        said.append(f"{counted(missing, 'product is', 'products are')} not drawn, cost or number of units unknown.")
    return " ".join(said)


def _told(point: _Point, currency: str | None) -> str:
    units, cost = point.product.units_per_day or Decimal(0), point.product.cost_per_day or Decimal(0)
    return f"{clean(point.product.name)} ({money(cost, currency)} at {short(units)} a day)"


def _table(data: CostAndUnits) -> DataTable:
    rows = tuple(
        (
            position,
            clean(product.name),
            product.units_per_day,
            clean(product.unit),
            product.cost_per_day,
            data.currency,
            "yes" if product.efficient else "no",
            "; ".join(product.objections),
            "yes" if product.is_drawn else "no",
        )
        for position, product in enumerate(data.products, start=1)
    )
    return DataTable(_COLUMNS, rows)
