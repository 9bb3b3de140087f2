"""Cost over a course."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise

import pytest

from service.pages.charts.chart import Look
from service.pages.charts.cost_over_course import BreakEven, CostOverCourse, CostStep, Course, draw_cost_over_course
from service.pages.charts.palette import STYLES
from tests.pages.charts.inventing import EVERY_LOOK, NARROW, STAMP, WIDE
from tests.pages.charts.reading import Reading, assert_sound


def course(name: str, price: int, every: int, days: int = 360) -> Course:
    """Invent a course that buys a container every so many days and uses all of them up evenly."""
    paid = tuple(CostStep(day, Decimal(price * (count + 1))) for count, day in enumerate(range(0, days, every)))
    used = (CostStep(days // 2, Decimal(price) * days / every / 2), CostStep(days, Decimal(price) * days / every))
    return Course(name, paid, used)


SMALL, LARGE = course("Invented small pack", 14, 60), course("Invented large pack", 36, 180)
BOTH = CostOverCourse("Invented tablet for a dog of 34 kg", "USD", 360, (SMALL, LARGE))


@pytest.mark.parametrize("look", EVERY_LOOK)
@pytest.mark.parametrize("start", [None, date(2028, 1, 15)])
@pytest.mark.parametrize("count", [1, 2, 6, 9])
def test_every_count_is_sound(count: int, start: date | None, look: Look) -> None:
    courses = tuple(course(f"Invented product {number}", 10 + number, 20 + 7 * number) for number in range(count))
    even = (BreakEven(60, "Invented product 1", "Invented product 0"), BreakEven(64, "Invented product 2", "another"))
    chart = draw_cost_over_course(replace(BOTH, courses=courses, start=start, break_even=even), STAMP, look)
    reading = assert_sound(chart)
    shown = min(count, len(STYLES))
    assert {name for name in reading.marks() if name.endswith("-paid")} == {f"{at + 1}-paid" for at in range(shown)}
    assert len(chart.svg.encode()) < 25_000


def test_every_purchase_has_its_mark() -> None:
    reading = Reading(draw_cost_over_course(BOTH, STAMP, WIDE))
    # Every 60 of 360 days, and every 180.
    assert len(reading.points("1-purchases")) == 6
    assert len(reading.points("2-purchases")) == 2
    first, second = reading.points("2-purchases")
    last_small = reading.points("1-purchases")[-1]
    # 72 paid for both large packs, 84 for six small ones; the axis begins at nothing.
    assert first[1] - second[1] == pytest.approx(
        (reading.points("1-purchases")[0][1] - last_small[1]) * 36 / 70, abs=0.4
    )


def test_very_many_purchases_are_a_line_without_marks() -> None:
    daily = course("Invented daily pack", 1, 1)
    reading = assert_sound(draw_cost_over_course(replace(BOTH, courses=(daily,)), STAMP, WIDE))
    assert "1-purchases" not in reading.marks()
    assert "1-paid" in reading.marks()


def test_paid_goes_in_steps() -> None:
    numbers = Reading(draw_cost_over_course(BOTH, STAMP, WIDE)).marks()["2-paid"].attrib["d"]
    values = [float(value) for value in numbers.replace("M", " ").replace("L", " ").split()]
    corners = list(zip(values[::2], values[1::2], strict=True))
    # Along until the second purchase, up, along to the end: each piece is level or upright.
    assert len(corners) == 4
    for (x0, y0), (x1, y1) in pairwise(corners):
        assert (x0 == x1) != (y0 == y1)


def test_products_are_named_where_their_lines_end() -> None:
    wide = Reading(draw_cost_over_course(BOTH, STAMP, WIDE)).texts()
    assert {"Invented small pack", "Invented large pack", "84.00 paid, 84.00 used", "72.00 paid, 72.00 used"} <= set(
        wide
    )
    narrow = " ".join(Reading(draw_cost_over_course(BOTH, STAMP, NARROW)).texts())
    assert "Invented small pack: 84.00 USD paid, 84.00 USD used" in narrow


def test_series_differ_without_colour() -> None:
    marks = Reading(draw_cost_over_course(BOTH, STAMP, WIDE)).marks()
    dashes = {name: marks[name].get("stroke-dasharray") for name in ("1-paid", "2-paid", "1-used")}
    assert len(set(dashes.values())) == 3


def test_break_even_is_told_with_its_day() -> None:
    data = replace(
        BOTH, start=date(2028, 1, 15), break_even=(BreakEven(60, "Invented large pack", "Invented small pack"),)
    )
    chart = draw_cost_over_course(data, STAMP, WIDE)
    texts = Reading(chart).texts()
    # Sixty days after 15 January of a leap year: 16 + 29 + 15. The first day is day 1.
    assert "day 61" in texts
    expected = "From day 61 (15 Mar 2028) on Invented large pack has cost less than Invented small pack."
    assert expected in chart.alternative
    assert expected in " ".join(texts)


def test_break_even_beyond_the_course_is_not_drawn() -> None:
    data = replace(BOTH, break_even=(BreakEven(900, "one", "other"),))
    reading = assert_sound(draw_cost_over_course(data, STAMP, WIDE))
    assert "day 901" not in reading.texts()


def test_dates_stand_on_the_axis() -> None:
    texts = Reading(draw_cost_over_course(replace(BOTH, start=date(2028, 1, 15)), STAMP, WIDE)).texts()
    assert "Mar 2028" in texts
    assert "Date" in texts
    assert "Days from the start" in Reading(draw_cost_over_course(BOTH, STAMP, WIDE)).texts()


def test_dates_beyond_the_calendar_are_days() -> None:
    texts = assert_sound(draw_cost_over_course(replace(BOTH, start=date(9999, 12, 1)), STAMP, WIDE)).texts()
    assert "Days from the start" in texts


def test_courses_beyond_the_sixth_are_in_the_table() -> None:
    courses = tuple(course(f"Invented product {number}", 10 + number, 30) for number in range(8))
    chart = draw_cost_over_course(replace(BOTH, courses=courses), STAMP, WIDE)
    drawn = {row[0]: row[-1] for row in chart.table.rows}
    assert list(drawn.values()) == ["yes"] * 6 + ["no"] * 2
    assert "Not drawn: 2 further products" in chart.alternative


def test_course_without_a_price_is_told() -> None:
    free = Course("Invented gift", (), ())
    chart = draw_cost_over_course(replace(BOTH, courses=(free, SMALL)), STAMP, WIDE)
    reading = assert_sound(chart)
    assert "1-paid" in reading.marks()
    assert "2-paid" not in reading.marks()
    assert "Not drawn: 1 further product" in chart.alternative
    nothing = draw_cost_over_course(replace(BOTH, courses=(free,)), STAMP, WIDE)
    assert "No cost is known." in nothing.alternative
    assert assert_sound(nothing).marks() == {}


def test_table_holds_every_step_with_its_date() -> None:
    table = draw_cost_over_course(replace(BOTH, start=date(2028, 1, 15)), STAMP, WIDE).table
    rows = [dict(zip(table.columns, row, strict=True)) for row in table.rows]
    assert len(rows) == sum(len(one.paid) + len(one.used) for one in BOTH.courses)
    assert rows[1]["date"] == "2028-03-15"
    assert rows[1]["total"] == Decimal(28)
    assert {row["what"] for row in rows} == {"paid", "used"}
