"""Order of levels and of ways of knowing, and numbers in sentences."""

from __future__ import annotations

from decimal import Decimal

from service.domain.screening_answers import LEVELS, highest, plain, rank, weakest_origin


def test_levels_rise() -> None:
    assert [rank(level) for level in LEVELS] == [0, 1, 2, 3]
    assert highest(("watch", "avoid", "note")) == "avoid"
    assert highest(()) == "note"


def test_two_rows_are_known_no_better_than_the_weaker() -> None:
    assert weakest_origin(("read", "memory", "cited")) == "memory"
    assert weakest_origin(("read", "cited")) == "cited"


def test_numbers_without_exponent_or_tail() -> None:
    assert [plain(Decimal(text)) for text in ("1.20E+3", "0.0500", "7")] == ["1200", "0.05", "7"]
