"""Scales, their ticks and how these are written."""

from __future__ import annotations

from datetime import date, timedelta
from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pages.charts.axes import Scale, linear, logarithmic, plot_box, scaled
from service.pages.charts.chart import DataTable
from service.pages.charts.days import day_scale, long_date
from service.pages.charts.figure import Figure, Heading
from service.pages.charts.plotting import LOCK, prepare
from tests.pages.charts.inventing import NARROW, STAMP
from tests.pages.charts.reading import assert_sound


@pytest.fixture(autouse=True)
def _ready() -> None:
    with LOCK:
        prepare()


def test_linear_scale_begins_at_nothing() -> None:
    scale = linear(0.62, "Cost", 6)
    assert scale.low == 0
    assert scale.high == pytest.approx(0.651)
    # With as many decimals as the tick that needs most.
    assert [text for _, text in scale.ticks] == ["0.0", "0.2", "0.4", "0.6"]


def test_linear_scale_of_nothing() -> None:
    scale = linear(0, "Cost", 6)
    assert (scale.low, scale.high) == (0, 1)
    assert len(scale.ticks) > 1


@given(st.floats(1e-12, 1e12), st.integers(2, 10))
def test_linear_ticks_lie_on_the_scale(most: float, ticks: int) -> None:
    scale = linear(most, "Cost", ticks)
    places = [place for place, _ in scale.ticks]
    assert places == sorted(places)
    assert all(0 <= place <= scale.high for place in places)
    assert 1 <= len(places) <= ticks + 1
    assert len({text for _, text in scale.ticks}) == len(places)


def test_logarithmic_ticks_are_round() -> None:
    scale = logarithmic(1, 80, "Body weight, kg", 12)
    assert scale.is_log
    assert [text for _, text in scale.ticks] == ["1", "2", "5", "10", "20", "50"]
    wide = logarithmic(0.1, 20_000, "mg", 8)
    assert [text for _, text in wide.ticks] == ["0.1", "1", "10", "100", "1000", "10\u202f000"]


@given(st.floats(-9, 9), st.floats(0.01, 9), st.integers(2, 12))
def test_logarithmic_ticks_lie_on_the_scale(least: float, decades: float, ticks: int) -> None:
    scale = logarithmic(10**least, 10 ** (least + decades), "mg", ticks)
    assert 1 <= len(scale.ticks) <= ticks
    assert all(least - 0.001 <= log10(place) <= least + decades + 0.001 for place, _ in scale.ticks)


def test_labels_that_would_touch_are_left_out_their_ticks_stay() -> None:
    days = Scale(0, 30, tuple((float(day), f"{day} Jan 2028") for day in range(31)), "Date")
    with LOCK:
        figure = Figure(NARROW, Heading("An invented scale"), "", STAMP)
        costs = linear(1, "Cost", 3)
        scaled(figure, plot_box(figure, days, costs), days, costs)
        chart = figure.chart("Nothing but scales.", DataTable((), ()))
    reading = assert_sound(chart)
    written = [text for text in reading.texts() if text.endswith("Jan 2028")]
    assert written[0] == "0 Jan 2028"
    assert 2 <= len(written) <= 6
    # A tick is the one mark that hangs below the baseline.
    assert chart.svg.count("<use ") == 31


def test_days_without_a_start() -> None:
    scale = day_scale(365, None, 7)
    assert scale.title == "Days from the start"
    assert [text for _, text in scale.ticks] == ["0", "60", "120", "180", "240", "300", "360"]


def test_days_of_a_short_course_are_dates() -> None:
    scale = day_scale(28, date(2028, 2, 20), 5)
    # 2028 has a 29 February.
    assert [text for _, text in scale.ticks] == ["20 Feb", "27 Feb", "5 Mar", "12 Mar", "19 Mar"]


def test_months_stand_at_their_first_day() -> None:
    scale = day_scale(365, date(2028, 1, 15), 7)
    assert [text for _, text in scale.ticks][:2] == ["Mar 2028", "May 2028"]
    assert scale.ticks[0][0] == (date(2028, 3, 1) - date(2028, 1, 15)).days == 46


@given(st.integers(0, 20_000), st.dates(date(1900, 1, 1), date(2200, 1, 1)) | st.none(), st.integers(3, 8))
def test_ticks_of_a_course_lie_within_it(days: int, start: date | None, ticks: int) -> None:
    scale = day_scale(days, start, ticks)
    assert scale.low == 0
    assert scale.high == max(days, 1)
    assert 1 <= len(scale.ticks) <= ticks + 2
    assert all(0 <= place <= scale.high for place, _ in scale.ticks)


def test_long_date() -> None:
    assert long_date(date(2028, 12, 31) + timedelta(days=1)) == "1 Jan 2029"
