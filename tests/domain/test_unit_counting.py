"""Counting units; each case is worked by hand in its comment."""

from __future__ import annotations

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.unit_counting import count_units


@pytest.mark.parametrize(
    ("per_unit", "wanted", "step", "units", "meets", "flags"),
    [
        # 500 wanted, 500 in a tablet: exactly one.
        ([(D(500), D(500))], [(D(500), D(1000))], D(1), D(1), True, ()),
        # 500 wanted, 400 in a tablet: two whole ones hold 800, inside 1000.
        ([(D(400), D(400))], [(D(500), D(1000))], D(1), D(2), True, ()),
        # 500 wanted, 400 in a tablet that halves: 1.5 hold 600.
        ([(D(400), D(400))], [(D(500), D(1000))], D("0.5"), D("1.5"), True, ()),
        # 2 mg chew, 500 wanted: 250 chews.
        ([(D(2), D(2))], [(D(500), D(1000))], D(1), D(250), True, ()),
        # A whole tablet of 1500 passes 1000; one is still the nearest that can be given.
        ([(D(1500), D(1500))], [(D(500), D(1000))], D(1), D(1), False, ("nearest_amount",)),
        # Open form: 300 to 500 a tablet; two reach 500 on the low reading and hold 1000 on the high one.
        ([(D(300), D(500))], [(D(500), D(1000))], D(1), D(2), True, ()),
        # 260 to 600: two hold 520 low and 1200 high; the low reading decides and the flag says so.
        ([(D(260), D(600))], [(D(500), D(1000))], D(1), D(2), True, ("high_reading_above_range",)),
        # Two targets: the second one needs three.
        ([(D(500), D(500)), (D(100), D(100))], [(D(500), D(2000)), (D(300), D(900))], D(1), D(3), True, ()),
    ],
)
def test_counts(
    per_unit: list[tuple[D, D]], wanted: list[tuple[D, D]], step: D, units: D, meets: bool, flags: tuple[str, ...]
) -> None:
    found = count_units(per_unit, wanted, step)
    assert (found.units, found.meets, found.flags) == (units, meets, flags)


def test_a_product_without_the_target_has_no_count() -> None:
    found = count_units([(D(0), D(0))], [(D(500), D(1000))], D(1))
    assert found.units is None
    assert found.flags == ("target_not_in_product",)


@given(st.integers(1, 5000), st.integers(1, 5000), st.sampled_from([D(1), D("0.5"), D("0.25"), D("0.1")]))
def test_the_count_is_the_smallest_that_reaches_the_aim(strength: int, aim: int, step: D) -> None:
    found = count_units([(D(strength), D(strength))], [(D(aim), D(10**9))], step)
    assert found.units is not None
    assert found.units * strength >= aim
    assert (found.units - step) * strength < aim
