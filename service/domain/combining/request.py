"""What a combination is asked for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from service.domain.common import Animal
from service.domain.compare_answer import TargetRange
from service.domain.products import Product
from service.domain.targets import Target

LOW_READING, HIGH_READING = "low_reading", "high_reading"
# Hardly any set of products comes to the high end exactly; how near is near enough is a rule of ours.
_NEAR_THE_HIGH_END = Decimal("0.9")


@dataclass(frozen=True, slots=True)
class CombineRequest:
    """The animal, what it is to get of what, and the products that may be used for it.

    ``other_supplements`` are given already: they always count towards upper limits, and towards the targets only if
    ``count_other_supplements``. ``high_end_on`` says which reading of a label must stay below the high end of a
    target: ``low_reading``, as a comparison does, or ``high_reading``.
    """

    animal: Animal
    targets: tuple[Target, ...]
    products: tuple[Product, ...]
    aim: str = "low"
    most_products: int = 3
    high_end_on: str = LOW_READING
    other_supplements: tuple[Product, ...] = ()
    count_other_supplements: bool = False
    medications: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    traits: tuple[str, ...] = ()
    time_limit_seconds: Decimal = Decimal(2)


def needed_mg(wanted: TargetRange, aim: str) -> Decimal:
    """Give what a combination must reach of a target.

    Parameters
    ----------
    wanted
        The target, settled.
    aim
        ``low``, ``middle`` or ``high``.

    Returns
    -------
    Decimal
        The aim in mg per day; of the high end nine tenths, but never less than the low end.
    """
    return max(wanted.low_mg, wanted.high_mg * _NEAR_THE_HIGH_END) if aim == "high" else wanted.aim_mg


class Stopwatch:
    """How much of the time for searching is left.

    Parameters
    ----------
    seconds
        Time for the search.
    clock
        Seconds of a clock that only runs forward; the caller's, since the domain has none.
    """

    def __init__(self, seconds: Decimal, clock: Callable[[], float]) -> None:
        self._clock = clock
        self._seconds = float(seconds)
        self._end = clock() + self._seconds

    def seconds_left(self) -> float:
        """Give what is left, zero at the end.

        Returns
        -------
        float
            In seconds.
        """
        return max(0.0, self._end - self._clock())
