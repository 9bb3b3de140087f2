"""Amounts over body weight."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from math import log

import pytest

from service.pages.charts.amount_data import AmountOverWeight, AmountPoint, AskedAnimal, PhaseBand, PublishedMark
from service.pages.charts.amount_over_weight import draw_amount_over_weight
from service.pages.charts.chart import Look
from tests.pages.charts.inventing import EVERY_LOOK, HOSTILE, NARROW, STAMP, WIDE
from tests.pages.charts.reading import SVG, Reading, assert_sound


def point(weight_kg: str, low_mg: str, high_mg: str | None = None) -> AmountPoint:
    """Make a point; without a high end it is one amount."""
    return AmountPoint(Decimal(weight_kg), Decimal(low_mg), Decimal(high_mg or low_mg))


def mark(regimen_id: str, *points: AmountPoint, finding: str = "positive", **more: bool | str) -> PublishedMark:
    """Invent a regimen; by default one fixed amount for animals of recorded weights."""
    given = {"has_weights": True, "follows_weight": False, "why_not_drawn": None, **more}
    return PublishedMark(regimen_id, "trial_fixed", "invented", "an invented outcome", finding, points, **given)  # type: ignore[arg-type]


# 10 to 20 mg/kg, and twice that while loading.
MAINTENANCE = PhaseBand("maintenance", (point("1", "10", "20"), point("80", "800", "1600")))
LOADING = PhaseBand("loading", (point("1", "20", "40"), point("80", "1600", "3200")))
FIXED = mark("d901", point("5", "100"), point("20", "100"))
SPOT = mark("d902", point("12", "300"), finding="not_told")
RANGE = mark("d903", point("34", "500", "1000"), finding="mixed")
PER_KG = mark("d904", point("1", "15"), point("80", "1200"), finding="negative", has_weights=False, follows_weight=True)
BESIDE = mark("d905", point("1", "250", "400"), point("80", "250", "400"), has_weights=False)
LOST = mark("d906", why_not_drawn="stated in spoons")
DATA = AmountOverWeight(
    title="Invented substance: daily amount by body weight",
    subject="Dogs. Evidence is mixed",
    substance="Invented salt",
    from_kg=Decimal(1),
    to_kg=Decimal(80),
    bands=(LOADING, MAINTENANCE),
    published=(FIXED, SPOT, RANGE, PER_KG, BESIDE, LOST),
    asked=AskedAnimal(
        Decimal(20), (("loading", point("20", "400", "800")), ("maintenance", point("20", "200", "400")))
    ),
    notes="An invented note.",
)


def corners(reading: Reading, name: str) -> list[tuple[float, float]]:
    """Give the corners of a drawn line."""
    numbers = [float(value) for value in re.findall(r"-?[0-9.]+", reading.marks()[name].attrib["d"])]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize("look", EVERY_LOOK)
def test_whole_chart_is_sound(look: Look) -> None:
    chart = draw_amount_over_weight(DATA, STAMP, look)
    reading = assert_sound(chart)
    drawn = {"d901", "d902", "d903", "d904", "d905"}
    assert drawn <= set(reading.marks())
    assert "d906" not in reading.marks()
    assert drawn <= set(reading.texts())
    assert {"band-1", "band-2", "asked-1", "asked-2"} <= set(reading.marks())
    assert len(chart.svg.encode()) < 15_000
    assert draw_amount_over_weight(DATA, STAMP, look) == chart


def test_bands_are_straight_on_logarithmic_scales() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    (left, low_left), (right, low_right) = corners(reading, "band-2-low")
    (_, high_left), (_, high_right) = corners(reading, "band-2-high")
    # Both ends of the band grow eightyfold and keep their ratio of two.
    assert low_left - low_right == pytest.approx(high_left - high_right, abs=0.2)
    per_decade = (low_left - low_right) / log(80, 10)
    assert low_left - high_left == pytest.approx(per_decade * log(2, 10), abs=0.2)
    spot_x = reading.points("d902")[0][0]
    assert spot_x == pytest.approx(left + (right - left) * log(12) / log(80), abs=0.2)


def test_reach_of_a_regimen_is_drawn() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    (start, level), (end, same) = corners(reading, "d901-reach")
    assert level == same
    assert start < reading.points("d901")[0][0] < end
    # One weight, two amounts: an upright line with a mark at each end.
    assert len(reading.points("d903")) == 2
    assert len({x for x, _ in corners(reading, "d903-reach")}) == 1
    # One weight, one amount: a mark alone.
    assert "d902-reach" not in reading.marks()


def test_amount_per_kg_without_weights_is_marked_on_a_piece_of_its_line() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    (x0, y0), (x1, y1) = corners(reading, "d904-reach")
    ((left, low_left), (right, low_right)) = corners(reading, "band-2-low")
    assert (y0 - y1) / (x1 - x0) == pytest.approx((low_left - low_right) / (right - left), abs=0.02)
    assert x1 - x0 < (right - left) / 5
    assert "marked at one place of its line" in " ".join(reading.texts())


def test_unrecorded_weight_stands_beside_the_plot() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    right = corners(reading, "band-2-low")[-1][0]
    assert all(x > right for x, _ in reading.points("d905"))
    assert {"weight not", "recorded"} <= set(reading.texts()) or "weight not recorded" in reading.texts()
    without = replace(DATA, published=(FIXED,))
    assert "recorded" not in " ".join(Reading(draw_amount_over_weight(without, STAMP, WIDE)).texts())


def test_findings_have_shapes_of_their_own() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    shapes = set()
    for name in ("d901", "d902", "d903", "d904"):
        use = next(iter([reading.marks()[name], *reading.marks()[name].iter(f"{SVG}use")][-1:]))
        reference = use.attrib["{http://www.w3.org/1999/xlink}href"][1:]
        path = next(one for one in reading.root.iter(f"{SVG}path") if one.get("id") == reference)
        shapes.add((path.attrib["d"], use.get("fill")))
    assert len(shapes) == 4
    assert {"benefit reported", "mixed", "no benefit", "benefit not tested or not told"} <= set(reading.texts())


def test_asked_animal_is_marked_with_its_amounts() -> None:
    reading = Reading(draw_amount_over_weight(DATA, STAMP, WIDE))
    assert "20 kg: loading 400 to 800 mg, maintenance 200 to 400 mg" in reading.texts()
    # The ends of both ranges lie on the edges of their bands.
    (left, low_left), (right, low_right) = corners(reading, "band-2-low")
    x, y = max(reading.points("asked-2"), key=lambda place: place[1])
    assert y == pytest.approx(low_left + (x - left) / (right - left) * (low_right - low_left), abs=0.3)
    nobody = Reading(draw_amount_over_weight(replace(DATA, asked=None), STAMP, WIDE))
    assert "asked-1" not in nobody.marks()
    assert not any(text.startswith("20 kg") for text in nobody.texts())


def test_upper_limit_is_a_line_of_its_own() -> None:
    data = replace(DATA, limit=(point("1", "50"), point("80", "4000")))
    chart = draw_amount_over_weight(data, STAMP, WIDE)
    reading = assert_sound(chart)
    assert "upper limit" in reading.texts()
    assert reading.marks()["limit"].get("stroke-dasharray")
    assert [row[0] for row in chart.table.rows].count("upper limit") == 2


def test_single_amount_is_a_line_not_a_band() -> None:
    data = replace(DATA, bands=(PhaseBand("maintenance", (point("1", "10"), point("80", "10"))),), asked=None)
    marks = assert_sound(draw_amount_over_weight(data, STAMP, NARROW)).marks()
    assert "band-1-low" in marks
    assert "band-1" not in marks
    assert "band-1-high" not in marks


def test_step_between_bands_is_upright() -> None:
    steps = PhaseBand("maintenance", (point("1", "10"), point("25", "250"), point("25", "480"), point("80", "480")))
    reading = Reading(draw_amount_over_weight(replace(DATA, bands=(steps,), asked=None), STAMP, WIDE))
    _, (x0, y0), (x1, y1), _ = corners(reading, "band-1-low")
    assert x0 == x1
    assert y0 > y1


def test_regimens_of_one_place_share_a_label() -> None:
    alike = tuple(replace(BESIDE, regimen_id=f"d91{number}") for number in range(6))
    reading = assert_sound(draw_amount_over_weight(replace(DATA, published=alike), STAMP, WIDE))
    assert {"d910", "d911", "d912", "and 3"} <= set(reading.texts())
    assert {mark.regimen_id for mark in alike} <= set(reading.marks())


def test_table_is_what_is_drawn_and_what_could_not_be() -> None:
    chart = draw_amount_over_weight(DATA, STAMP, WIDE)
    rows = [dict(zip(chart.table.columns, row, strict=True)) for row in chart.table.rows]
    assert [row["what"] for row in rows].count("guidance") == 4
    by_id = {row["id"]: row for row in rows if row["id"]}
    assert (by_id["d901"]["from_kg"], by_id["d901"]["to_kg"], by_id["d901"]["low_mg_at_to"]) == (5, 20, 100)
    assert (by_id["d905"]["from_kg"], by_id["d905"]["weights_recorded"]) == (None, "no")
    assert (by_id["d906"]["drawn"], by_id["d906"]["why_not_drawn"]) == ("no", "stated in spoons")
    assert {name for name in by_id if by_id[name]["drawn"] == "yes"} == {
        name for name in Reading(chart).marks() if re.fullmatch("d[0-9]+", name)
    }


def test_alternative_says_the_key_numbers() -> None:
    said = draw_amount_over_weight(DATA, STAMP, WIDE).alternative
    assert "for 1 to 80 kg. Dogs. Evidence is mixed." in said
    assert "Maintenance: 10 to 20 mg at 1 kg to 800 to 1600 mg at 80 kg." in said
    assert "At 20 kg: loading 400 to 800 mg, maintenance 200 to 400 mg." in said
    assert "5 published regimens are marked. 1 regimen could not be drawn." in said


def test_notes_tell_of_the_scales() -> None:
    texts = " ".join(Reading(draw_amount_over_weight(DATA, STAMP, WIDE)).texts())
    assert "Both scales are logarithmic. An invented note." in texts
    assert "Not drawn: 1 regimen, for reasons told in the table." in texts


def test_hostile_texts_are_only_texts() -> None:
    data = replace(DATA, title=HOSTILE, subject=HOSTILE, substance=HOSTILE, notes="")
    chart = draw_amount_over_weight(data, STAMP, WIDE)
    assert_sound(chart)
    assert "<script" not in chart.svg
