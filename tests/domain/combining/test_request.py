"""What must be reached, and how much time is left."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.combining.request import Stopwatch, needed_mg
from service.domain.compare_answer import TargetRange


@pytest.mark.parametrize(
    ("low", "high", "aim_mg", "aim", "needed"),
    [
        ("500", "1000", "500", "low", "500"),
        ("500", "1000", "750", "middle", "750"),
        # Nine tenths of the high end, a rule of ours; never below the low end.
        ("500", "1000", "1000", "high", "900"),
        ("950", "1000", "1000", "high", "950"),
        ("500", "500", "500", "high", "500"),
    ],
)
def test_what_must_be_reached(low: str, high: str, aim_mg: str, aim: str, needed: str) -> None:
    wanted = TargetRange("msm", "msm", "maintenance", D(low), D(high), D(aim_mg), "caller", ())
    assert needed_mg(wanted, aim) == D(needed)


def test_a_stopwatch_never_goes_below_zero() -> None:
    times = iter([10.0, 10.5, 12.0, 13.0])
    watch = Stopwatch(D(2), lambda: next(times))
    assert [watch.seconds_left() for _ in range(3)] == [1.5, 0.0, 0.0]
