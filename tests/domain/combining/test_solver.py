"""The solver in its own words: what it is handed, and what becomes of its answers."""

from __future__ import annotations

import math
import subprocess
import sys
from decimal import Decimal as D
from pathlib import Path
from typing import Any

import pytest
import scipy.optimize

from service.domain.combining.programme import COST as COST_ROW
from service.domain.combining.programme import RANGE, TARGET, Cut, Programme, Row
from service.domain.combining.solver import CUT_SHORT, IMPOSSIBLE, PROVEN, Objective, Outcome, minimise

# Ten are wanted: a brings 4, b brings 10.
BASE = Programme(("a", "b"), (D(1), D(1)), (D(3), D(8)), (5, 5), 2)
PAIR = BASE.with_rows(Row(TARGET, (D(4), D(10)), least=D(10), bound=D(10)))
COST = Objective((3.0, 8.0), (0.0, 0.0))


def _long() -> float:
    return 60.0


def _steps(programme: Programme, objective: Objective = COST) -> tuple[int, ...] | None:
    outcome = minimise(programme, objective, _long)
    assert outcome.status in (PROVEN, IMPOSSIBLE)
    return outcome.steps


def test_the_least_cost_with_its_bound() -> None:
    outcome = minimise(PAIR, COST, _long)
    assert (outcome.status, outcome.steps) == (PROVEN, (0, 1))
    assert outcome.bound == pytest.approx(8)


def test_without_time_nothing_is_tried() -> None:
    assert minimise(PAIR, COST, lambda: 0.0) == Outcome(CUT_SHORT, None, -math.inf)


def test_what_is_impossible() -> None:
    assert minimise(PAIR.with_rows(Row(RANGE, (D(4), D(10)), most=D(9))), COST, _long) == Outcome(IMPOSSIBLE)
    assert _steps(PAIR.with_used({0: False, 1: False})) is None


def test_what_is_fixed() -> None:
    assert _steps(PAIR.with_used({1: False})) == (3, 0)
    # Used means at least one part of it.
    assert _steps(PAIR.with_used({0: True})) == (3, 0)
    assert _steps(PAIR.with_used({0: True, 1: True})) == (1, 1)


def test_the_number_of_products() -> None:
    mixed = Row(TARGET, (D(1), D(0)), least=D(1), bound=D(1))
    assert _steps(PAIR.with_rows(mixed)) == (3, 0)
    assert _steps(PAIR.with_rows(mixed), Objective((9.0, 1.0), (0.0, 0.0))) == (1, 1)
    # Counted by products, b alone is one too, and here a dear one.
    assert _steps(PAIR, Objective((0.1, 0.0), (1.0, 3.0))) == (3, 0)


@pytest.mark.parametrize(
    ("cuts", "expected"),
    [
        ([Cut({1: 1})], (3, 0)),
        ([Cut({1: 1}), Cut({0: 1})], None),
        # Not three or more of a: then b, unless b is forbidden too.
        ([Cut({0: 3})], (0, 1)),
        ([Cut({0: 3}), Cut({0: 1, 1: 1})], (0, 1)),
        # Not b alone with nothing beside it: at least one of them exceeds its count.
        ([Cut({0: 0, 1: 1}, upward=True)], (3, 0)),
        ([Cut({0: 3, 1: 1}, upward=True), Cut({1: 1})], (4, 0)),
        # Nothing can exceed what is the most already.
        ([Cut({0: 5, 1: 5}, upward=True)], None),
    ],
)
def test_what_was_learned(cuts: list[Cut], expected: tuple[int, ...] | None) -> None:
    assert _steps(PAIR.with_cuts(cuts)) == expected


def test_a_soft_aim_counts_what_is_missing() -> None:
    # Of the first aim 4 of 8 can be reached, of the second all: the fewest shares are missing with one a.
    soft = BASE.with_rows(
        Row(TARGET, (D(4), D(0)), least=D(8), bound=D(8), soft=True),
        Row(RANGE, (D(4), D(10)), most=D(14), bound=D(14)),
        Row(TARGET, (D(0), D(10)), least=D(10), bound=D(10), soft=True),
    )
    outcome = minimise(soft, Objective((0.0, 0.0), (0.0, 0.0)), _long)
    assert outcome.steps == (1, 1)
    assert outcome.bound == pytest.approx(0.5)


def test_a_worker_that_combines_nothing_does_not_load_the_solver() -> None:
    checked = (
        "import sys, service; from service.domain.combining import combining; "
        "print(sorted({'numpy', 'scipy'} & set(sys.modules)))"
    )
    top = Path(__file__).parents[3]
    told = subprocess.run([sys.executable, "-c", checked], cwd=top, check=True, capture_output=True, text=True)
    assert told.stdout == "[]\n"


def test_the_solver_writes_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    for least in range(10, 40):
        many = Programme(
            tuple("abcdef"), (D(1),) * 6, (D(1),) * 6, (9,) * 6, 3, (Row(TARGET, tuple(map(D, range(2, 8))), D(least)),)
        )
        assert minimise(many, Objective(tuple(map(float, range(3, 9))), (0.0,) * 6), _long).status == PROVEN
    assert capfd.readouterr() == ("", "")


class _Result:
    """What scipy gives back, as far as it is read."""

    def __init__(self, status: int, x: list[float] | None) -> None:
        self.status = status
        self.x = x
        self.mip_dual_bound = 2.5 if x is not None else None


def test_time_that_runs_out_gives_what_was_found_so_far(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[dict[str, Any]] = []

    def _out_of_time(*_args: object, **told: Any) -> _Result:  # noqa: ANN401 - as scipy takes it
        seen.append(told["options"])
        return _Result(1, [2.9999999, 0.0000001, 1.0, 0.0])

    monkeypatch.setattr(scipy.optimize, "milp", _out_of_time)
    assert minimise(PAIR, COST, lambda: 1.5) == Outcome(CUT_SHORT, (3, 0), 2.5)
    assert seen == [{"mip_rel_gap": 0.0, "time_limit": 1.5, "presolve": False}]


def test_time_that_runs_out_before_anything_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scipy.optimize, "milp", lambda *_args, **_told: _Result(1, None))
    assert minimise(PAIR, COST, lambda: 1.5) == Outcome(CUT_SHORT, None, -math.inf)


@pytest.mark.parametrize("first", [2, 4])
def test_that_nothing_fits_is_asked_for_in_another_way(monkeypatch: pytest.MonkeyPatch, first: int) -> None:
    answers = iter([_Result(first, None), _Result(0, [0.0, 1.0, 0.0, 1.0])])
    asked: list[bool] = []

    def _none_at_first(*_args: object, **told: Any) -> _Result:  # noqa: ANN401 - as scipy takes it
        asked.append(told["options"]["presolve"])
        return next(answers)

    monkeypatch.setattr(scipy.optimize, "milp", _none_at_first)
    assert minimise(PAIR, COST, lambda: 1.5).steps == (0, 1)
    assert asked == [False, True]


def test_what_meets_every_row_exactly_is_not_lost() -> None:
    # Three of the first and four of the last cost 20003, which is all that may be spent: at one scale of the rows the
    # solver, told so without any room, took it for impossible.
    costs = (D(1), D(1), D("0.000001"), D(5000))
    edge = Programme(tuple("abcd"), (D(1),) * 4, costs, (4, 0, 1, 4), 2).with_rows(
        Row(TARGET, (D("0.75"), D(0), D(0), D(2)), least=D(10)), Row(COST_ROW, costs, most=D(20003))
    )
    assert _steps(edge, Objective((1.0, 0.0, 0.0, 5000.0), (0.0,) * 4)) == (3, 0, 0, 4)


def test_a_failure_is_never_taken_for_impossible(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scipy.optimize, "milp", lambda *_args, **_told: _Result(4, None))
    assert minimise(PAIR, COST, lambda: 1.5) == Outcome(CUT_SHORT, None, -math.inf)
