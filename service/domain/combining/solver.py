"""The one place that speaks to the solver: HiGHS, an open solver of integer programmes, through scipy.

It computes in floating point and takes a number for whole, or a row for kept, where it is so to about a millionth:
whatever it says is checked exactly by the callers. Rows are scaled to a thousand and costs to ten thousand and more, so
that costs are compared to a billionth.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from service.domain.combining.programme import Cut, Programme, Row, Steps, is_slack

PROVEN, CUT_SHORT, IMPOSSIBLE = "proven", "cut_short", "impossible"
_ROW_SCALE = 1000.0
_ROOM = 1e-9
# The solver's own words for what became of a search.
_SOLVED, _OUT_OF_TIME, _INFEASIBLE = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Objective:
    """What is to become least: so much per smallest part of each product, and so much for each product used."""

    per_step: tuple[float, ...]
    per_use: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a search ended: ``proven`` best, ``cut_short`` by time with or without a choice, or ``impossible``.

    ``bound`` is a value of the objective that no choice comes below.
    """

    status: str
    steps: Steps | None = None
    bound: float = -math.inf


def minimise(programme: Programme, objective: Objective, seconds_left: Callable[[], float]) -> Outcome:
    """Search the choice with the least value of an objective.

    Parameters
    ----------
    programme
        The rules.
    objective
        What is to become least.
    seconds_left
        Time that may still be spent.

    Returns
    -------
    Outcome
        The choice is whole parts; whether it keeps to the rows exactly is for the caller to check.
    """
    table = _table(programme, objective)
    # Not simplified beforehand: at this size that saves nothing, on the way back from the simplified programme the
    # solver may write to standard output whatever it is told, and some of its recorded wrong answers come from there.
    status, values, bound = table.solve(seconds_left(), presolve=False)
    if status not in (_SOLVED, _OUT_OF_TIME):
        # That nothing fits is believed only if the other way comes to it too.
        status, values, bound = table.solve(seconds_left(), presolve=True)
    if status == _INFEASIBLE:
        return Outcome(IMPOSSIBLE)
    steps = tuple(round(value) for value in values[: len(programme.names)]) if values is not None else None
    return Outcome(PROVEN if status == _SOLVED else CUT_SHORT, steps, bound)


@dataclass(slots=True)
class _Table:
    """A programme in numbers, column by column: parts of each product, whether it is used, then helpers of cuts."""

    costs: list[float]
    upper: list[float]
    lower: list[float]
    entries: list[tuple[int, int, float]] = field(default_factory=list)
    least: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    divided: list[int] = field(default_factory=list)

    def add_column(self, cost: float = 0.0, *, whole: bool = True) -> int:
        """Add a helper that is 0 or 1, or anything between, and give its place."""
        self.costs.append(cost)
        self.lower.append(0.0)
        self.upper.append(1.0)
        if not whole:
            self.divided.append(len(self.costs) - 1)
        return len(self.costs) - 1

    def add_row(self, entries: Sequence[tuple[int, float]], least: float = -math.inf, most: float = math.inf) -> None:
        """Add a rule over some columns."""
        self.entries += [(len(self.least), column, value) for column, value in entries]
        self.least.append(least)
        self.most.append(most)

    def solve(self, seconds: float, *, presolve: bool) -> tuple[int, list[float] | None, float]:
        """Hand it to the solver: how it ended, what it found, and what nothing comes below."""
        if seconds <= 0:
            return _OUT_OF_TIME, None, -math.inf
        # Imported where it is needed: it takes a third of a second and 50 MB, which most workers never need.
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        rows, columns, values = zip(*self.entries, strict=True)
        matrix = csr_array((values, (rows, columns)), shape=(len(self.least), len(self.costs)))
        whole = np.ones(len(self.costs))
        whole[self.divided] = 0
        result = milp(
            np.array(self.costs),
            integrality=whole,
            bounds=Bounds(np.array(self.lower), np.array(self.upper)),
            constraints=LinearConstraint(matrix, np.array(self.least), np.array(self.most)),
            options={"mip_rel_gap": 0.0, "time_limit": seconds, "presolve": presolve},
        )
        found = [float(value) for value in result.x] if result.x is not None else None
        bound = float(result.mip_dual_bound) if result.mip_dual_bound is not None else -math.inf
        return int(result.status), found, bound


def _table(programme: Programme, objective: Objective) -> _Table:
    count = len(programme.names)
    used = [programme.used.get(place) for place in range(count)]
    table = _Table(
        costs=[*objective.per_step, *objective.per_use],
        lower=[*[0.0] * count, *(1.0 if one else 0.0 for one in used)],
        upper=[*map(float, programme.caps), *(0.0 if one is False else 1.0 for one in used)],
    )
    aims = [row for row in programme.rows if row.least is not None and not row.soft]
    for row in programme.rows:
        if not is_slack(row, programme):
            _add(table, row, programme.caps)
    if programme.most_products <= len(aims):
        # Few products for many aims: said in products beside parts, this is proven twice as fast.
        for row in aims:
            _add_cover(table, row, programme.caps)
    table.add_row([(count + place, 1.0) for place in range(count)], most=float(programme.most_products))
    for place, cap in enumerate(programme.caps):
        # At least one part of what is used, and none of what is not.
        table.add_row([(place, 1.0), (count + place, -1.0)], least=0.0)
        table.add_row([(place, 1.0), (count + place, -float(cap))], most=0.0)
    for cut in programme.cuts:
        (_add_upward if cut.upward else _add_downward)(table, cut, programme)
    return table


def _add(table: _Table, row: Row, caps: Sequence[int]) -> None:
    end = row.least if row.least is not None else row.most
    # A maximum of nothing lets the caps alone decide.
    scale = _ROW_SCALE / float(end) if end else 1.0
    # One part that reaches an aim alone counts as that aim: more of it says no more, and such a number stays moderate.
    counted = (min(mg, row.least) if row.least is not None else mg for mg in row.per_step)
    entries = [
        (place, float(mg) * scale) for place, (mg, cap) in enumerate(zip(counted, caps, strict=True)) if mg and cap
    ]
    # A billionth of room: what meets a row exactly is at its very edge in floating point, and was taken for impossible.
    least = float(row.least) * scale * (1 - _ROOM) if row.least is not None else -math.inf
    most = float(row.most) * scale * (1 + _ROOM) if row.most is not None else math.inf
    if row.soft:
        # The share that is missing, which is the only thing that a programme with soft rows makes least.
        entries.append((table.add_column(cost=1.0, whole=False), _ROW_SCALE))
    table.add_row(entries, least, most)


def _add_cover(table: _Table, row: Row, caps: Sequence[int]) -> None:
    """Have enough products that each, at its most, could reach an aim together; follows from the row and the caps."""
    end = float(row.least or 1)
    count = len(caps)
    shares = ((place, float(mg) * cap / end) for place, (mg, cap) in enumerate(zip(row.per_step, caps, strict=True)))
    table.add_row([(count + place, min(share, 1.0)) for place, share in shares if share], least=1 - _ROOM)


def _add_downward(table: _Table, cut: Cut, programme: Programme) -> None:
    """Have at least one product stay below its count; where that is one part, it is not used."""
    count = len(programme.names)
    entries, not_used = [], 0
    for place, steps in cut.counts.items():
        if steps <= 1:
            entries.append((count + place, -1.0))
            not_used += 1
            continue
        helper = table.add_column()
        room = float(max(programme.caps[place] - steps + 1, 0))
        table.add_row([(place, 1.0), (helper, room)], most=steps - 1 + room)
        entries.append((helper, 1.0))
    table.add_row(entries, least=1.0 - not_used)


def _add_upward(table: _Table, cut: Cut, programme: Programme) -> None:
    """Have at least one product exceed its count."""
    entries = []
    for place, steps in cut.counts.items():
        if steps < programme.caps[place]:
            helper = table.add_column()
            table.add_row([(place, 1.0), (helper, -float(steps + 1))], least=0.0)
            entries.append((helper, 1.0))
    table.add_row(entries, least=1.0)
