"""What products deliver against targets."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from service.pages.charts.chart import Look
from service.pages.charts.composition import Composition, Delivered, ProductContent, Target, draw_composition
from tests.pages.charts.inventing import EVERY_LOOK, STAMP, WIDE
from tests.pages.charts.reading import Reading, assert_sound

RANGE = Target("Glucosamine", Decimal(500), Decimal(1000))
OTHER = Target("Chondroitin sulfate", Decimal(400), Decimal(800))


def content(name: str, *readings: tuple[int, int] | None) -> ProductContent:
    """Invent a product."""
    pairs = [pair or (None, None) for pair in readings]
    return ProductContent(
        name, tuple(Delivered(*(None if mg is None else Decimal(mg) for mg in pair)) for pair in pairs)
    )


FOUR = Composition(
    "For an invented dog of 34 kg",
    (RANGE, OTHER),
    (
        content("Invented tablet", (500, 500), (0, 0)),
        content("Invented open form", (415, 620), (480, 480)),
        content("Invented blend", None, None),
        content("Invented granules", (2900, 3300), (200, 200)),
    ),
)


def ends(reading: Reading, name: str) -> tuple[float, float]:
    """Give the left and the right end of a bar."""
    numbers = [float(value) for value in re.findall(r"[0-9.]+", reading.marks()[name].attrib["d"])]
    return min(numbers[::2]), max(numbers[::2])


@pytest.mark.parametrize("look", EVERY_LOOK)
@pytest.mark.parametrize("targets", [1, 2, 3, 4])
@pytest.mark.parametrize("count", [1, 5, 50])
def test_every_size_is_sound(count: int, targets: int, look: Look) -> None:
    wanted = tuple(
        Target(f"Invented target {number}", Decimal(100), Decimal(200 + number)) for number in range(targets)
    )
    products = tuple(
        content(f"Invented product {number}", *((number * 9, number * 9 + 5) for _ in range(targets)))
        for number in range(1, count + 1)
    )
    chart = draw_composition(Composition("For an invented dog", wanted, products), STAMP, look)
    reading = assert_sound(chart)
    bars = {name for name in reading.marks() if re.fullmatch("[0-9]+-[0-9]+", name)}
    assert len(bars) == count * targets == len(chart.table.rows)


def test_size_of_an_ordinary_chart() -> None:
    assert len(draw_composition(FOUR, STAMP, WIDE).svg.encode()) < 10_000


def test_bars_are_as_long_as_their_shares() -> None:
    reading = Reading(draw_composition(FOUR, STAMP, WIDE))
    start, full = ends(reading, "1-1")
    # 500 of 500 mg is 100 %; 415 is 83 %; the high reading of 620 goes on to 124 %.
    assert ends(reading, "2-1") == pytest.approx((start, start + (full - start) * 0.83), abs=0.2)
    assert ends(reading, "2-1-high") == pytest.approx(
        (start + (full - start) * 0.83, start + (full - start) * 1.24), abs=0.2
    )


def test_bar_beyond_the_scale_is_cut_and_says_its_value() -> None:
    reading = Reading(draw_composition(FOUR, STAMP, WIDE))
    start, full = ends(reading, "1-1")
    # 580 to 660 %: drawn to 400 %, with an arrow.
    assert ends(reading, "4-1")[1] == pytest.approx(start + (full - start) * 4, abs=0.3)
    assert "4-1-cut" in reading.marks()
    assert "4-1-high" not in reading.marks()
    assert "580\u2013660 %" in reading.texts()


def test_values_stand_beside_the_bars() -> None:
    texts = Reading(draw_composition(FOUR, STAMP, WIDE)).texts()
    assert {"100 %", "83\u2013124 %", "0 %", "120 %", "50 %"} <= set(texts)
    assert {"500 to 1000 mg a day", "400 to 800 mg a day"} <= set(texts)


def test_percent_is_never_rounded_up_to_the_aim() -> None:
    data = Composition("For an invented dog", (RANGE,), (content("Invented tablet", (499, 499)),))
    assert "99 %" in Reading(draw_composition(data, STAMP, WIDE)).texts()


def test_label_that_does_not_say_has_words_and_no_bar() -> None:
    chart = draw_composition(FOUR, STAMP, WIDE)
    reading = Reading(chart)
    assert "3-1" not in reading.marks()
    assert reading.texts().count("not stated") == 2
    # Nothing at all is a statement: a bar without length, and its value.
    assert ends(reading, "1-2")[0] == ends(reading, "1-2")[1]
    row = dict(zip(chart.table.columns, chart.table.rows[4], strict=True))
    assert (row["delivered_low_mg"], row["percent_of_low_end"], row["drawn"]) == (None, None, "no")


def test_alternative_counts_who_reaches() -> None:
    said = draw_composition(FOUR, STAMP, WIDE).alternative
    assert "Glucosamine: 2 of 4 reach the low end of 500 mg a day, from 83 to 660 % of it, 1 not stated." in said
    assert "Chondroitin sulfate: 1 of 4 reach the low end of 400 mg a day, from 0 to 120 % of it, 1 not stated." in said


def test_target_that_begins_at_nothing_has_no_shares() -> None:
    data = Composition("x", (Target("Invented", Decimal(0), Decimal(10)),), (content("Invented tablet", (5, 5)),))
    chart = draw_composition(data, STAMP, WIDE)
    assert assert_sound(chart).marks() == {}
    assert chart.table.rows[0][-1] == "no"
