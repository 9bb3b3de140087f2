"""Where labels go: never over one another, over a mark or a line, nor beyond the edge. Distances in pixels, y down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import NamedTuple

# How far a label may stand from its point; beyond the first ring a thin line leads to it.
_RINGS = (0.0, 9.0, 20.0, 34.0, 52.0, 74.0)
# Right first, as one reads, then left, then between; angles in eighths of a half turn, upward first.
_NEAR = (0, 8, 1, -1, 7, -7, 2, -2, 6, -6, 4, -4)
_FAR = (*_NEAR, 3, -3, 5, -5)


class Segment(NamedTuple):
    """A straight piece of a drawn line."""

    x0: float
    y0: float
    x1: float
    y1: float


class Box(NamedTuple):
    """A rectangle; ``top`` is less than ``bottom``."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Say whether the two share any area."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def lies_in(self, outer: Box) -> bool:
        """Say whether it stays within another."""
        return (
            self.left >= outer.left
            and self.top >= outer.top
            and self.right <= outer.right
            and self.bottom <= outer.bottom
        )

    def is_crossed_by(self, line: Segment) -> bool:
        """Say whether a straight line runs through it (Liang and Barsky's clipping)."""
        enter, leave = 0.0, 1.0
        dx, dy = line.x1 - line.x0, line.y1 - line.y0
        for step, room in (
            (-dx, line.x0 - self.left),
            (dx, self.right - line.x0),
            (-dy, line.y0 - self.top),
            (dy, self.bottom - line.y0),
        ):
            if step == 0:
                if room < 0:
                    return False
            elif step < 0:
                enter = max(enter, room / step)
            else:
                leave = min(leave, room / step)
        return enter < leave

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """Give the point of it that is nearest to another point."""
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)


class Placed(NamedTuple):
    """A label that has found its place; ``leader`` runs from its point to it where it stands apart."""

    box: Box
    leader: Segment | None


class Placer:
    """Finds places in the order in which labels are asked for; what matters most is to be asked for first."""

    def __init__(self, bounds: Box) -> None:
        self._bounds = bounds
        self._boxes: list[Box] = []
        self._lines: list[Segment] = []

    def occupy(self, box: Box) -> None:
        """Keep labels off an area."""
        self._boxes.append(box)

    def avoid(self, points: Sequence[tuple[float, float]]) -> None:
        """Keep labels off a line through points."""
        self._lines += [Segment(*start, *end) for start, end in pairwise(points)]

    def place(
        self, x: float, y: float, width: float, height: float, reach: float, *, near: bool = False
    ) -> Placed | None:
        """Find a place beside a point whose mark has the radius ``reach``; ``None`` where there is none.

        With ``near`` only the places that need no line to lead to them are tried.
        """
        for apart, box in _candidates(x, y, width, height, reach):
            if apart and near:
                return None
            leader = Segment(x, y, *box.nearest(x, y)) if apart else None
            if self._is_free(box) and (leader is None or self._may_lead(leader, x, y, reach)):
                self._boxes.append(box)
                if leader is not None:
                    self._lines.append(leader)
                return Placed(box, leader)
        return None

    def _is_free(self, box: Box) -> bool:
        return (
            box.lies_in(self._bounds)
            and not any(box.overlaps(taken) for taken in self._boxes)
            and not any(box.is_crossed_by(line) for line in self._lines)
        )

    def _may_lead(self, leader: Segment, x: float, y: float, reach: float) -> bool:
        own = Box(x - reach, y - reach, x + reach, y + reach)
        return not any(taken.is_crossed_by(leader) for taken in self._boxes if not taken.overlaps(own))


def _candidates(x: float, y: float, width: float, height: float, reach: float) -> Iterator[tuple[bool, Box]]:
    for ring in _RINGS:
        distance = reach + 3 + ring
        for eighth in _FAR if ring else _NEAR:
            along, up = cos(eighth * pi / 8), sin(eighth * pi / 8)
            # The side of the box that faces the point sits on the ring.
            left = x + along * distance - width * (1 - along) / 2
            top = y - up * distance - height * (1 + up) / 2
            yield ring > 0, Box(left, top, left + width, top + height)


def spread(centres: Sequence[float], gap: float, low: float, high: float) -> list[float] | None:
    """Move values apart to at least ``gap``, each as little as is needed, within bounds.

    Parameters
    ----------
    centres
        Where they would stand by themselves, in any order.
    gap
        Least distance between neighbours.
    low, high
        The bounds.

    Returns
    -------
    list of float or None
        In the given order; ``None`` where they have no room.
    """
    if gap * (len(centres) - 1) > high - low:
        return None
    order = sorted(range(len(centres)), key=lambda index: centres[index])
    places = [0.0] * len(centres)
    least = low
    for index in order:
        places[index] = least = max(centres[index], least)
        least += gap
    most = high
    for index in reversed(order):
        places[index] = most = min(places[index], most)
        most -= gap
    return places


def distance(start: tuple[float, float], end: tuple[float, float]) -> float:
    """Give the length between two points."""
    return hypot(end[0] - start[0], end[1] - start[1])
