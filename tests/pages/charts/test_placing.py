"""Labels: beside their point where there is room, never over anything."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pages.charts.placing import Box, Placer, Segment, distance, spread

FIELD = Box(0, 0, 400, 300)
coordinates = st.tuples(st.floats(0, 400), st.floats(0, 300))


def test_boxes_overlap_where_they_share_area() -> None:
    one = Box(0, 0, 10, 10)
    assert one.overlaps(Box(9, 9, 20, 20))
    # Edges that touch share no area.
    assert not one.overlaps(Box(10, 0, 20, 10))
    assert one.lies_in(Box(0, 0, 10, 10))
    assert not one.lies_in(Box(1, 0, 10, 10))


@pytest.mark.parametrize(
    ("line", "crosses"),
    [
        (Segment(-5, 5, 15, 5), True),
        (Segment(2, 2, 8, 8), True),
        (Segment(-5, -5, -1, 20), False),
        # Past the corner: x + y = 25 never comes below 20.
        (Segment(25, 0, 0, 25), False),
        (Segment(15, 0, 0, 15), True),
        (Segment(0, 20, 20, 20), False),
        (Segment(5, -5, 5, 15), True),
    ],
)
def test_box_is_crossed_by_a_line(line: Segment, crosses: bool) -> None:
    assert Box(0, 0, 10, 10).is_crossed_by(line) is crosses


def test_first_label_stands_to_the_right() -> None:
    placed = Placer(FIELD).place(100, 100, 50, 12, 5)
    assert placed is not None
    assert placed.leader is None
    # Three pixels beyond the mark, in line with it.
    assert placed.box == pytest.approx(Box(108, 94, 158, 106))


def test_label_at_the_right_edge_stands_to_the_left() -> None:
    placed = Placer(FIELD).place(390, 100, 50, 12, 5)
    assert placed is not None
    assert placed.box.right == pytest.approx(382)


def test_label_that_stands_apart_is_led_to() -> None:
    placer = Placer(FIELD)
    # Everything near the point is taken, the point itself is a mark of its own.
    placer.occupy(Box(95, 95, 105, 105))
    for box in (Box(105, 80, 170, 120), Box(30, 80, 95, 120), Box(30, 105, 170, 120)):
        placer.occupy(box)
    near = placer.place(100, 100, 30, 12, 5, near=True)
    assert near is None or near.leader is None
    placed = placer.place(100, 100, 60, 12, 5)
    assert placed is not None
    assert placed.leader is not None
    assert (placed.leader.x0, placed.leader.y0) == (100, 100)
    assert distance((placed.leader.x0, placed.leader.y0), (placed.leader.x1, placed.leader.y1)) > 8


def test_no_room_is_said() -> None:
    assert Placer(Box(0, 0, 20, 20)).place(10, 10, 50, 12, 5) is None


@given(st.lists(coordinates, min_size=1, max_size=40), st.lists(coordinates, max_size=6))
def test_placed_labels_overlap_nothing(points: list[tuple[float, float]], line: list[tuple[float, float]]) -> None:
    placer = Placer(FIELD)
    marks = [Box(x - 4, y - 4, x + 4, y + 4) for x, y in points]
    for mark in marks:
        placer.occupy(mark)
    placer.avoid(line)
    found = [placed.box for x, y in points if (placed := placer.place(x, y, 45, 13, 4)) is not None]
    assert all(box.lies_in(FIELD) for box in found)
    assert not any(one.overlaps(other) for one, other in combinations(found, 2))
    assert not any(box.overlaps(mark) for box in found for mark in marks)
    segments = [Segment(*start, *end) for start, end in pairwise(line)]
    assert not any(box.is_crossed_by(segment) for box in found for segment in segments)


def test_spread_leaves_alone_what_stands_apart() -> None:
    assert spread([30, 10], 15, 0, 100) == [30, 10]


def test_spread_moves_apart_and_stays_within() -> None:
    # By hand: 95 and 96 need 20 between them and end at 100, so 80 and 100; 94 then stands at 60.
    assert spread([95, 96, 94], 20, 0, 100) == [80, 100, 60]


def test_spread_without_room() -> None:
    assert spread([1, 2, 3], 60, 0, 100) is None


@given(st.lists(st.floats(-50, 150), max_size=8))
def test_spread_keeps_order_gap_and_bounds(centres: list[float]) -> None:
    places = spread(centres, 12, 0, 100)
    assert places is not None
    ordered = [place for _, place in sorted(zip(centres, places, strict=True))]
    assert all(later - earlier >= 12 - 1e-9 for earlier, later in pairwise(sorted(places)))
    assert all(-1e-9 <= place <= 100 + 1e-9 for place in places)
    assert sorted(ordered) == pytest.approx(sorted(places))
