"""Whatever is drawn: it is sound, the same again, and holds a mark for every row that says so."""

from __future__ import annotations

from hypothesis import given, settings

from service.pages.charts.chart import Look
from service.pages.charts.composition import Composition, draw_composition
from service.pages.charts.cost_and_units import CostAndUnits, draw_cost_and_units
from service.pages.charts.cost_over_course import CostOverCourse, draw_cost_over_course
from tests.pages.charts.inventing import STAMP, comparisons, compositions, courses, looks
from tests.pages.charts.reading import assert_sound


@settings(max_examples=60)
@given(data=comparisons(), look=looks)
def test_any_comparison(data: CostAndUnits, look: Look) -> None:
    chart = draw_cost_and_units(data, STAMP, look)
    reading = assert_sound(chart)
    drawn = {str(row[0]) for row in chart.table.rows if row[-1] == "yes"}
    assert set(reading.marks()) - {"efficient-set"} == drawn
    assert draw_cost_and_units(data, STAMP, look) == chart


@settings(max_examples=60)
@given(data=courses(), look=looks)
def test_any_course(data: CostOverCourse, look: Look) -> None:
    chart = draw_cost_over_course(data, STAMP, look)
    reading = assert_sound(chart)
    drawn = {row[0] for row in chart.table.rows if row[-1] == "yes"}
    assert bool(reading.marks()) == bool(drawn)
    assert draw_cost_over_course(data, STAMP, look) == chart


@settings(max_examples=60)
@given(data=compositions(), look=looks)
def test_any_composition(data: Composition, look: Look) -> None:
    chart = draw_composition(data, STAMP, look)
    reading = assert_sound(chart)
    count = len(data.targets)
    drawn = {f"{at // count + 1}-{at % count + 1}" for at, row in enumerate(chart.table.rows) if row[-1] == "yes"}
    bars = {name for name in reading.marks() if not name.endswith(("-high", "-cut"))}
    assert bars == drawn
    assert draw_composition(data, STAMP, look) == chart
