"""How much of each target a product delivers, on the low and on the high reading of its label."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from math import ceil

from service.domain.rounding import significant
from service.pages.charts.chart import Cell, Chart, DataTable, Look
from service.pages.charts.figure import GAP, Figure, Heading, Sample
from service.pages.charts.numbers import can_be_drawn, counted, short
from service.pages.charts.palette import LIGHT, STYLES
from service.pages.charts.placing import Box
from service.pages.charts.plotting import LOCK, prepare
from service.pages.charts.text import clean, shorten, width
from service.pages.wording import amount_for_people, number, span
from service.reference.release import DatasetStamp

_TITLE = "Composition against targets"
_BAR = STYLES[0].colour
_KEY = (
    (Sample(_BAR, patch=True), "low reading of the label"),
    (Sample(_BAR, patch=True, filled=False), "up to its high reading"),
    (Sample(LIGHT.wash, patch=True), "range of the target"),
)
_MEANING = "100 % is the low end of a target's range."
_AXIS = Sample(LIGHT.ink, line_width=1)
_LOW_END = Sample(LIGHT.ink, line_width=1, dash=(4, 2.5))
_BETWEEN_PANELS = 14.0
_HEAD, _FOOT, _BETWEEN_BLOCKS = 36.0, 24.0, 18.0
_BAR_HEIGHT = 11.0
# A bar that would squeeze all others is cut off here, with an arrow at its end; its value stands beside it as ever.
_LEAST_SCALE, _MOST_SCALE, _BEYOND_RANGE = Decimal(140), Decimal(400), Decimal("1.1")
_STEPS = (50, 100, 200, 500, 1000)
_MOST_TICKS = 5
_LITTLE = Decimal(10)
_COLUMNS = (
    "product",
    "target",
    "low_mg",
    "high_mg",
    "delivered_low_mg",
    "delivered_high_mg",
    "percent_of_low_end",
    "percent_of_low_end_on_high_reading",
    "drawn",
)


@dataclass(frozen=True, slots=True)
class Target:
    """One target: its name and its range in mg per day."""

    name: str
    low_mg: Decimal
    high_mg: Decimal


@dataclass(frozen=True, slots=True)
class Delivered:
    """What a product delivers of one target in mg per day, on both readings; ``None`` where its label does not say."""

    low_mg: Decimal | None
    high_mg: Decimal | None


@dataclass(frozen=True, slots=True)
class ProductContent:
    """One product with what it delivers of each target, in the order of the targets."""

    name: str
    delivered: tuple[Delivered, ...]


@dataclass(frozen=True, slots=True)
class Composition:
    """What the chart shows."""

    subject: str
    targets: tuple[Target, ...]
    products: tuple[ProductContent, ...]


@dataclass(frozen=True, slots=True)
class _Form:
    """Measures of one layout: names stand beside the bars, or, where that leaves no room for either, over them."""

    panels_per_row: int
    row: float
    name_at: float
    bar_at: float
    name_room: float
    value_room: float
    names_beside: bool


_FORMS = {
    "wide": _Form(2, 22, 15, 11, 186, 70, names_beside=True),
    "narrow": _Form(1, 37, 15, 26, 332, 76, names_beside=False),
}


@dataclass(frozen=True, slots=True)
class _Share:
    """Low and high reading in percent of the low end of a target."""

    low: Decimal
    high: Decimal


def draw_composition(data: Composition, stamp: DatasetStamp, look: Look) -> Chart:
    """Draw the chart.

    Parameters
    ----------
    data
        Targets and products; each product has one entry per target.
    stamp
        The release that the answer came from.
    look
        Layout and theme.

    Returns
    -------
    Chart
        One panel per target, one row per product; a label that does not state an amount has no bar but those words.
    """
    with LOCK:
        prepare()
        form = _FORMS[look.layout]
        per_row = min(form.panels_per_row, max(len(data.targets), 1))
        rows = len(data.products) * form.row
        block = _HEAD + rows + _FOOT
        height = ceil(len(data.targets) / per_row) * (block + _BETWEEN_BLOCKS) - _BETWEEN_BLOCKS
        figure = Figure(look, Heading(_TITLE, data.subject, _KEY), _MEANING, stamp, plot_height=height)
        first = figure.left + (form.name_room + _BETWEEN_PANELS if form.names_beside else 0)
        panel = (figure.right - first - _BETWEEN_PANELS * (per_row - 1)) / per_row
        for index in range(len(data.targets)):
            top = figure.top + (index // per_row) * (block + _BETWEEN_BLOCKS) + _HEAD
            left = first + (index % per_row) * (panel + _BETWEEN_PANELS)
            if index % per_row == 0:
                last = left + min(per_row, len(data.targets) - index) * (panel + _BETWEEN_PANELS) - _BETWEEN_PANELS
                _write_names(figure, data.products, form, top, last)
            _draw_panel(figure, data, index, Box(left, top, left + panel, top + rows), form)
        return figure.chart(_alternative(data), _table(data))


def _share(target: Target, delivered: Delivered) -> _Share | None:
    """Give the share of the low end; ``None`` where the label does not say or the target begins at nothing."""
    low, high = delivered.low_mg, delivered.high_mg
    if low is None or high is None or not (can_be_drawn(low) and can_be_drawn(high) and _has_scale(target)):
        return None
    return _Share(low * 100 / target.low_mg, high * 100 / target.low_mg)


def _has_scale(target: Target) -> bool:
    return can_be_drawn(target.low_mg) and can_be_drawn(target.high_mg) and not target.low_mg.is_zero()


def _write_names(figure: Figure, products: Sequence[ProductContent], form: _Form, top: float, right: float) -> None:
    text = figure.layout.text
    edges = [top + row * form.row for row in range(1, len(products))]
    between = [point for y in edges for point in ((figure.left, y), (right, y), GAP)]
    figure.stroke(between, Sample(LIGHT.rule, line_width=0.6))
    for row, product in enumerate(products):
        y = top + row * form.row
        figure.write(figure.left, y + form.name_at, figure.fitted(product.name, form.name_room), text)


def _draw_panel(figure: Figure, data: Composition, index: int, box: Box, form: _Form) -> None:
    target = data.targets[index]
    shares = [_share(target, product.delivered[index]) for product in data.products]
    high_end = target.high_mg * 100 / target.low_mg if _has_scale(target) else Decimal(0)
    most = _scale_end(high_end, shares)
    per_percent = (box.right - box.left - form.value_room) / float(most)

    def _at(percent: Decimal) -> float:
        return box.left + float(min(percent, most)) * per_percent

    strips = _strips(box, len(shares), form) if high_end else []
    figure.patch([strip._replace(left=_at(Decimal(100)), right=_at(high_end)) for strip in strips], LIGHT.wash)
    for row, share in enumerate(shares):
        y = box.top + row * form.row + form.bar_at
        if share is not None:
            _draw_bar(
                figure, f"{row + 1}-{index + 1}", y, box.left, (_at(share.low), _at(share.high)), share.high > most
            )
        words = "not stated" if share is None else f"{_percent(share)} %"
        small = figure.layout.small
        figure.write(box.right, y + small * 0.33, shorten(words, form.value_room, small), small, anchor="end")
    low_end = _at(Decimal(100))
    figure.stroke([at for strip in strips for at in ((low_end, strip.top), (low_end, strip.bottom), GAP)], _LOW_END)
    figure.stroke(((box.left, box.top), (box.left, box.bottom)), _AXIS)
    _write_head(figure, target, box)
    _write_scale(figure, most, _at, box.bottom)


def _strips(box: Box, rows: int, form: _Form) -> list[Box]:
    """Give the parts of a panel that hold bars: all of it, or, where names stand over the bars, what is between."""
    if form.names_beside:
        return [box]
    middles = [box.top + row * form.row + form.bar_at for row in range(rows)]
    return [box._replace(top=middle - _BAR_HEIGHT * 0.75, bottom=middle + _BAR_HEIGHT * 0.75) for middle in middles]


def _scale_end(high_end: Decimal, shares: Sequence[_Share | None]) -> Decimal:
    """Choose the end of a scale in percent: room for the target's range, and for bars up to four times its low end."""
    range_ = high_end * _BEYOND_RANGE
    longest = max((share.high for share in shares if share is not None), default=Decimal(0))
    return max(_LEAST_SCALE, range_, min(longest, _MOST_SCALE))


def _draw_bar(figure: Figure, name: str, y: float, start: float, ends: tuple[float, float], is_cut: bool) -> None:
    """Draw the bar of a row; one of nothing is drawn too, without any width."""
    top, bottom = y - _BAR_HEIGHT / 2, y + _BAR_HEIGHT / 2
    low, high = ends
    if high > low:
        figure.patch([Box(low, top, high, bottom)], _BAR, f"{name}-high", hollow=True)
    figure.patch([Box(start, top, low, bottom)], _BAR, name)
    if is_cut:
        figure.stroke([(high + 3, y)], Sample(_BAR, ">", size=6), f"{name}-cut")


def _write_head(figure: Figure, target: Target, box: Box) -> None:
    text, room = figure.layout.text, box.right - box.left
    figure.write(box.left, box.top - 20, shorten(clean(target.name), room / 1.12, text), text, bold=True)
    words = f"{span(*amount_for_people(target.low_mg, target.high_mg))} mg a day"
    figure.write(
        box.left, box.top - 6, shorten(words, room, figure.layout.small), figure.layout.small, colour=LIGHT.quiet
    )


def _write_scale(figure: Figure, most: Decimal, at: Callable[[Decimal], float], bottom: float) -> None:
    small = figure.layout.small
    step = next((step for step in _STEPS if most / step <= _MOST_TICKS), int(most))
    taken = float("-inf")
    for place in range(0, int(most) + 1, step):
        x = at(Decimal(place))
        label = f"{place} %" if place == 100 else str(place)
        half = width(label, small) / 2
        if x - half > taken + 4:
            figure.stroke(((x, bottom), (x, bottom + 4)), _AXIS)
            figure.write(x, bottom + 5 + small, label, small, anchor="middle")
            taken = x + half


def _percent(share: _Share) -> str:
    low, high = _rounded_down(share.low), _rounded_down(share.high)
    return low if low == high else f"{low}\u2013{high}"


def _rounded_down(percent: Decimal) -> str:
    """Write whole percent, or two digits of little; 99.9 is not yet 100."""
    if percent < _LITTLE:
        return number(significant(percent, 2, ROUND_FLOOR))
    return number(percent.to_integral_value(ROUND_FLOOR))


def _alternative(data: Composition) -> str:
    said = [f"{_TITLE} of {counted(len(data.products), 'product', 'products')}. {clean(data.subject)}."]
    for index, target in enumerate(data.targets):
        shares = [_share(target, product.delivered[index]) for product in data.products]
        known = [share for share in shares if share is not None]
        reaching = sum(share.low >= 100 for share in known)
        told = f"{clean(target.name)}: {reaching} of {len(shares)} reach the low end of {short(target.low_mg)} mg a day"
        if known:
            least, most = min(share.low for share in known), max(share.high for share in known)
            told += f", from {_rounded_down(least)} to {_rounded_down(most)} % of it"
        if unknown := len(shares) - len(known):
            told += f", {unknown} not stated"
        said.append(f"{told}.")
    return " ".join(said)


def _table(data: Composition) -> DataTable:
    rows: list[tuple[Cell, ...]] = []
    for product in data.products:
        for target, delivered in zip(data.targets, product.delivered, strict=True):
            share = _share(target, delivered)
            rows.append(
                (
                    clean(product.name),
                    clean(target.name),
                    target.low_mg,
                    target.high_mg,
                    delivered.low_mg,
                    delivered.high_mg,
                    significant(share.low, 6) if share else None,
                    significant(share.high, 6) if share else None,
                    "yes" if share else "no",
                )
            )
    return DataTable(_COLUMNS, tuple(rows))
