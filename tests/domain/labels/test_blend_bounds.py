"""Bounds of the members of a blend.

Members stand in descending order of weight (21 CFR 101.36(c), source chem-s04). The outside check is the linear
programme "in order, not negative, sum is the total", solved by scipy's ``linprog`` for the least and the most of each.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from service.domain.labels.blend_bounds import blend_bounds
from tests.domain.labels.reading import plain

Known = Sequence[int | None]


def _bounds(total: int, disclosed: Known) -> tuple[list[tuple[Decimal, Decimal]], tuple[str, ...]]:
    found = blend_bounds(Decimal(total), [None if one is None else Decimal(one) for one in disclosed])
    return [(one.low, one.high) for one in found.members], found.flags


@pytest.mark.parametrize(
    ("total", "disclosed", "bounds"),
    [
        # Of n the k-th holds at most a k-th of the total, the first at least an n-th.
        (1200, [None, None, None], [(400, 1200), (0, 600), (0, 400)]),
        (500, [None], [(500, 500)]),
        # 70 mg are left for the first and the last; the first cannot hold less than the 50 mg after it.
        (120, [None, 50, None], [(50, 70), (50, 50), (0, 20)]),
        (300, [None, None, 150, None], None),
        (800, [500, None], [(500, 500), (300, 300)]),
        (600, [300, 200, 100], [(300, 300), (200, 200), (100, 100)]),
        (1000, [600, None, None], [(600, 600), (200, 400), (0, 200)]),
        (1000, [None, None, 200], [(400, 600), (200, 400), (200, 200)]),
    ],
)
def test_by_hand(total: int, disclosed: Known, bounds: list[tuple[int, int]] | None) -> None:
    found, flags = _bounds(total, disclosed)
    if bounds is None:
        # Two members of at least 150 mg each before it leave nothing of 300 mg: the order cannot be true.
        assert "not_in_descending_order" in flags
        return
    assert plain(found) == bounds
    assert ("descending_order" in flags) is (None in disclosed)


@pytest.mark.parametrize(
    ("total", "disclosed", "flag"),
    [
        (500, [None, None], "amounts_undisclosed"), (500, [300, None], "partly_disclosed"),
        (500, [400, 200], "label_inconsistent"), (500, [300, 100], "label_inconsistent"),
        (500, [100, 200, None], "not_in_descending_order"), (400, [600, None], "label_inconsistent"),
    ],
)  # fmt: skip
def test_what_the_bounds_rest_on(total: int, disclosed: Known, flag: str) -> None:
    assert flag in _bounds(total, disclosed)[1]


def test_without_an_order_the_rest_may_be_anywhere() -> None:
    found, _ = _bounds(500, [100, 200, None, None])
    assert plain(found) == [(100, 100), (200, 200), (0, 200), (0, 200)]


@st.composite
def blends(draw: st.DrawFn) -> tuple[int, list[int | None]]:
    """Make true weights in descending order and hide some of them."""
    weights = sorted(draw(st.lists(st.integers(1, 500), min_size=1, max_size=6)), reverse=True)
    hidden = draw(st.lists(st.booleans(), min_size=len(weights), max_size=len(weights)))
    disclosed = [None if hide else weight for weight, hide in zip(weights, hidden, strict=True)]
    return sum(weights), disclosed


@given(blends())
def test_scipy_finds_the_same_bounds(blend: tuple[int, list[int | None]]) -> None:
    total, disclosed = blend
    found, _ = _bounds(total, disclosed)
    for place, (low, high) in enumerate(found):
        assert float(low) == pytest.approx(_optimum(total, disclosed, place, 1), abs=1e-6)
        assert float(high) == pytest.approx(_optimum(total, disclosed, place, -1), abs=1e-6)


def _optimum(total: int, disclosed: Known, place: int, sign: int) -> float:
    """Give the least (``sign`` 1) or the most (-1) of one member."""
    count = len(disclosed)
    steps = [[0.0] * at + [-1.0, 1.0] + [0.0] * (count - at - 2) for at in range(count - 1)]
    solved = linprog(
        [float(sign) if at == place else 0.0 for at in range(count)],
        A_ub=steps or None,
        b_ub=[0.0] * len(steps) or None,
        A_eq=[[1.0] * count],
        b_eq=[float(total)],
        bounds=[(0, None) if one is None else (one, one) for one in disclosed],
    )
    assert solved.success, solved.message
    return float(sign * solved.fun)


@given(blends())
def test_some_true_blend_fits_between_the_bounds(blend: tuple[int, list[int | None]]) -> None:
    total, disclosed = blend
    found, _ = _bounds(total, disclosed)
    assert sum(low for low, _ in found) <= total <= sum(high for _, high in found)
    assert all(0 <= low <= high <= total for low, high in found)
