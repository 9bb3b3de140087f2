"""Cost per day against units per day."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from service.pages.charts.chart import Look
from service.pages.charts.cost_and_units import ComparedProduct, CostAndUnits, draw_cost_and_units
from service.pages.charts.palette import LIGHT
from tests.pages.charts.inventing import EVERY_LOOK, HOSTILE, NARROW, STAMP, WIDE, plain_comparison
from tests.pages.charts.reading import SVG, Reading, assert_sound

# By hand: cheap needs four tablets, quick costs most, and middle lies between; dear is beaten by middle in both.
CHEAP = ComparedProduct("Invented cheap tablet", "tablet", Decimal(4), Decimal("0.10"), efficient=True)
MIDDLE = ComparedProduct("Invented middle tablet", "tablet", Decimal(2), Decimal("0.20"), efficient=True)
QUICK = ComparedProduct("Invented quick tablet", "tablet", Decimal(1), Decimal("0.50"), efficient=True)
DEAR = ComparedProduct("Invented dear tablet", "tablet", Decimal(3), Decimal("0.60"))
SWEET = ComparedProduct("Invented sweet chew", "tablet", Decimal(1), Decimal("0.30"), False, ("holds xylitol",))
UNPRICED = ComparedProduct("Invented gift", "tablet", Decimal(1), None)
FIVE = CostAndUnits("Invented amount for a dog of 34 kg", "USD", (CHEAP, MIDDLE, QUICK, DEAR, SWEET))


def shape(reading: Reading, name: str) -> tuple[str, str | None]:
    """Give the marker of a mark, and its filling."""
    element = reading.marks()[name]
    use = element if element.tag == f"{SVG}use" else next(element.iter(f"{SVG}use"))
    wanted = use.attrib["{http://www.w3.org/1999/xlink}href"][1:]
    path = next(one for one in reading.root.iter(f"{SVG}path") if one.get("id") == wanted)
    return path.attrib["d"], use.get("fill")


@pytest.mark.parametrize("look", EVERY_LOOK)
@pytest.mark.parametrize("count", [1, 2, 6, 12, 13, 50])
def test_every_count_is_sound(count: int, look: Look) -> None:
    data = plain_comparison(count)
    chart = draw_cost_and_units(data, STAMP, look)
    reading = assert_sound(chart)
    assert set(reading.marks()) - {"efficient-set"} == {str(number) for number in range(1, count + 1)}
    assert len(chart.svg.encode()) < 25_000


def test_marks_stand_where_their_numbers_say() -> None:
    reading = Reading(draw_cost_and_units(FIVE, STAMP, WIDE))
    (cheap,), (middle,), (quick,), (dear,) = (reading.points(name) for name in "1234")
    # Four units lie twice as far beyond two as two beyond one; costs rise by 0.10, 0.30 and 0.10.
    assert cheap[0] - middle[0] == pytest.approx(2 * (middle[0] - quick[0]), abs=0.3)
    assert cheap[1] - middle[1] == pytest.approx(quick[1] - dear[1], abs=0.3)
    assert middle[1] - quick[1] == pytest.approx(3 * (quick[1] - dear[1]), abs=0.4)


def test_efficient_set_is_joined_by_steps() -> None:
    reading = Reading(draw_cost_and_units(FIVE, STAMP, WIDE))
    places = {name: reading.points(name)[0] for name in "123"}
    numbers = reading.marks()["efficient-set"].attrib["d"].replace("M", " ").replace("L", " ").split()
    corners = list(zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True))
    (quick_x, quick_y), (middle_x, middle_y), (cheap_x, cheap_y) = places["3"], places["2"], places["1"]
    expected = [
        (quick_x, quick_y),
        (middle_x, quick_y),
        (middle_x, middle_y),
        (cheap_x, middle_y),
        (cheap_x, cheap_y),
    ]
    assert [pytest.approx(corner, abs=0.2) for corner in expected] == corners


def test_three_kinds_of_product_have_three_shapes() -> None:
    reading = Reading(draw_cost_and_units(FIVE, STAMP, WIDE))
    efficient, other, against = shape(reading, "1"), shape(reading, "4"), shape(reading, "5")
    assert efficient[1] not in (LIGHT.paper, "none")
    assert other[1] == LIGHT.paper
    assert against[0] != efficient[0]
    assert "something speaks against it" in reading.texts()


def test_objection_outweighs_efficiency() -> None:
    data = replace(FIVE, products=(replace(CHEAP, objections=("an invented reason",)), MIDDLE))
    reading = Reading(draw_cost_and_units(data, STAMP, WIDE))
    assert "efficient-set" not in reading.marks()
    assert shape(reading, "1")[0] != shape(reading, "2")[0]


def test_few_products_are_named_many_numbered() -> None:
    few = Reading(draw_cost_and_units(FIVE, STAMP, WIDE)).texts()
    assert {product.name for product in FIVE.products} <= set(few)
    many = Reading(draw_cost_and_units(plain_comparison(50), STAMP, WIDE)).texts()
    assert "Numbers are those of the products in the table." in " ".join(many)
    names = [text for text in many if re.match("[0-9]+ Invented product", text)]
    assert 1 <= len(names) <= 8
    assert {"4", "13"} <= set(", ".join(many).split(", "))


def test_products_of_one_place_share_a_label() -> None:
    twins = tuple(replace(DEAR, name=f"Invented twin {number}") for number in range(1, 6))
    chart = draw_cost_and_units(replace(FIVE, products=twins), STAMP, WIDE)
    reading = assert_sound(chart)
    assert len(reading.marks()) == 5
    assert "1, 2, 3, 4, \u2026" in reading.texts()
    two = Reading(draw_cost_and_units(replace(FIVE, products=twins[:2]), STAMP, WIDE))
    assert {"Invented twin 1", "Invented twin 2"} <= set(two.texts())


def test_unknown_cost_is_told_and_not_drawn_as_nothing() -> None:
    chart = draw_cost_and_units(replace(FIVE, products=(CHEAP, UNPRICED)), STAMP, WIDE)
    reading = assert_sound(chart)
    assert set(reading.marks()) == {"1"}
    assert "1 product is not drawn" in chart.alternative
    assert "Not drawn: 1 product" in " ".join(reading.texts())
    row = dict(zip(chart.table.columns, chart.table.rows[1], strict=True))
    assert (row["cost_per_day"], row["drawn"]) == (None, "no")


def test_nothing_known_still_makes_a_chart() -> None:
    chart = draw_cost_and_units(replace(FIVE, products=(UNPRICED,)), STAMP, NARROW)
    assert assert_sound(chart).marks() == {}
    assert "None is efficient." in chart.alternative


def test_alternative_names_the_ends_of_the_efficient_set() -> None:
    said = draw_cost_and_units(FIVE, STAMP, WIDE).alternative
    assert "of 5 products" in said
    assert "Efficient are 3, from Invented cheap tablet (0.10 USD at 4 a day) to Invented quick tablet" in said
    assert "(0.50 USD at 1 a day)" in said
    assert "Something speaks against 1 product." in said


def test_table_is_what_was_given() -> None:
    table = draw_cost_and_units(FIVE, STAMP, WIDE).table
    rows = [dict(zip(table.columns, row, strict=True)) for row in table.rows]
    assert [row["number"] for row in rows] == [1, 2, 3, 4, 5]
    assert [row["cost_per_day"] for row in rows] == [product.cost_per_day for product in FIVE.products]
    assert rows[4]["objections"] == "holds xylitol"


def test_stamp_names_the_release() -> None:
    texts = " ".join(Reading(draw_cost_and_units(FIVE, STAMP, WIDE)).texts())
    assert "Fabella dataset 9.9.9, released 2031-02-03." in texts
    assert "not a prescription" in texts


@pytest.mark.parametrize("look", EVERY_LOOK)
def test_hostile_names_are_only_text(look: Look) -> None:
    products = (replace(CHEAP, name=HOSTILE, unit=HOSTILE), replace(MIDDLE, name='x="#123456" ="#22252b"'))
    chart = draw_cost_and_units(CostAndUnits(HOSTILE, HOSTILE[:3], products), STAMP, look)
    reading = assert_sound(chart)
    assert "<script" not in chart.svg
    assert "&lt;script&gt;" in chart.svg
    assert any('x="#123456"' in text for text in reading.texts())


def test_long_names_are_shortened_and_whole_in_the_table() -> None:
    name = "Invented tablet with a name that nobody would ever print upon a small label"
    chart = draw_cost_and_units(replace(FIVE, products=(replace(CHEAP, name=name), MIDDLE)), STAMP, WIDE)
    texts = Reading(chart).texts()
    assert name not in texts
    assert any(text.startswith("Invented tablet with") and text.endswith("\u2026") for text in texts)
    assert chart.table.rows[0][1] == name
