"""Why nothing fits: each rule is taken away in turn, and where that helps it is told how near the rest comes to it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.combining.answer import Block
from service.domain.combining.building import MOST_MEASURED_UNITS, Case, most_units
from service.domain.combining.programme import (
    ENERGY,
    HARM,
    LIMIT,
    RANGE,
    TARGET,
    Programme,
    Row,
    Steps,
    holds,
    is_slack,
    weighted,
    without_noise,
)
from service.domain.combining.searching import Search
from service.domain.combining.solver import CUT_SHORT, Objective
from service.domain.combining.telling import told, told_apart
from service.domain.practicality import MOST_UNITS_PER_DAY
from service.domain.rounding import amount

PRODUCTS, MOST_PRODUCTS, UNITS_PER_DAY = "products", "most_products", "units_per_day"
DIVISIBILITY, SCREEN = "divisibility", "screen"
_IN_ORDER = (LIMIT, ENERGY, TARGET, RANGE)
# In parts as small as these a unit could as well be divided at will.
_FINER = 1000
_EVEN_SO = "while everything else holds"


@dataclass(frozen=True, slots=True)
class Blocking:
    """What stands in the way; ``complete`` where there was time to look at every rule."""

    blocks: tuple[Block, ...]
    complete: bool


def what_blocks(case: Case, search: Search, stopped: bool) -> Blocking:
    """Find the rules that stand in the way of any combination.

    Parameters
    ----------
    case
        The programme, which nothing fits, and what it was made from.
    search
        The search that found so, with all that it learned.
    stopped
        Whether the screen objected to sets that keep to every row.

    Returns
    -------
    Blocking
        One for each rule without which something would fit; where no single one is enough, the targets that are not
        reached where all are reached as far as possible together.
    """
    if not case.programme.names:
        return Blocking((_block(PRODUCTS, "No product may be used; `left_out` says why of each."),), True)
    missing = [row for row in case.programme.rows if row.kind == TARGET and not any(row.per_step)]
    if missing:
        return Blocking(tuple(_missing(row) for row in missing), True)
    return _Relaxing(case, search, stopped).look()


class _Relaxing:
    """Takes rules away one at a time."""

    def __init__(self, case: Case, search: Search, stopped: bool) -> None:
        self._case = case
        self._search = search
        self._stopped = stopped
        self._complete = True

    def look(self) -> Blocking:
        """Try what would have to change, the easiest first."""
        programme = self._case.programme
        # What is easiest to change comes first, also where time runs out.
        tried = [self._with_more_products(), self._with_more_units(), self._unscreened(), *self._without_harm()]
        # By the caps of its own: those of the programme hold because of the rows.
        rows = [row for kind in _IN_ORDER for row in programme.rows if row.kind == kind]
        tried += [self._without(row) for row in rows if not is_slack(row, self._case.base)]
        tried.append(self._divided_at_will())
        blocks = tuple(block for block in tried if block is not None)
        return Blocking(blocks or self._together(), self._complete)

    def _rebuilt(self, base: Programme, change: Callable[[Row], Row | None]) -> Programme:
        rows = (change(row) for row in self._case.programme.rows)
        return base.with_rows(*(row for row in rows if row is not None))

    def _solved(self, programme: Programme, objective: Objective, search: Search | None = None) -> Steps | None:
        outcome = (search or self._search).best(programme, objective)
        self._complete = self._complete and outcome.status != CUT_SHORT
        return outcome.steps

    def _without(self, row: Row) -> Block | None:
        sign = -1.0 if row.kind == TARGET else 1.0
        per_step = tuple(sign * float(mg / row.bound) if row.bound else 0.0 for mg in row.per_step)
        rest = self._rebuilt(self._case.base, lambda one: None if one is row else one)
        steps = self._solved(rest, Objective(per_step, (0.0,) * len(per_step)))
        if steps is None:
            return None
        reached = without_noise(weighted(row.per_step, steps))
        # Time may have run out on the way to an amount that would have reached it.
        return None if holds(row, reached) else _row_block(row, row.given + reached, _EVEN_SO)

    def _without_harm(self) -> list[Block]:
        """Take away the rules on hazards, all at once: one substance can count as several of them."""
        rows = [row for row in self._case.programme.rows if row.kind == HARM]
        if not rows:
            return []
        count = len(self._case.base.names)
        least = tuple(sum(float(row.per_step[place] / row.bound) for row in rows) for place in range(count))
        rest = self._rebuilt(self._case.base, lambda row: None if row.kind == HARM else row)
        # The screen would object to nothing else than these amounts, and to what is known not to go together.
        search = self._search.again(lambda _: None, self._search.seconds_left)
        steps = self._solved(rest, Objective(least, (0.0,) * count), search)
        if steps is None:
            return []
        reached = [(row, without_noise(weighted(row.per_step, steps))) for row in rows]
        return [_row_block(row, row.given + mg, _EVEN_SO) for row, mg in reached if not holds(row, mg)]

    def _with_more_products(self) -> Block | None:
        programme = self._case.programme
        count = len(programme.names)
        if programme.most_products >= count:
            return None
        steps = self._solved(replace(programme, most_products=count), Objective((0.0,) * count, (1.0,) * count))
        if steps is None:
            return None
        fewest, most = sum(map(bool, steps)), programme.most_products
        detail = f"It takes at least {fewest} products; most_products is {most}."
        return _block(MOST_PRODUCTS, detail, needed=Decimal(most), reachable=Decimal(fewest), unit="products")

    def _with_more_units(self) -> Block | None:
        base, count = self._case.base, len(self._case.base.names)
        caps = tuple(int(MOST_MEASURED_UNITS / size) for size in base.step_sizes)
        if caps == base.caps:
            return None
        units = tuple(float(size) for size in base.step_sizes)
        steps = self._solved(self._rebuilt(replace(base, caps=caps), lambda row: row), Objective(units, (0.0,) * count))
        if steps is None:
            return None
        counts = [
            (size * number, base.names[place])
            for place, (size, number) in enumerate(zip(base.step_sizes, steps, strict=True))
            if size * number > most_units(self._case.content(place))
        ]
        if not counts:
            return None
        most, name = max(counts)
        detail = f"It takes {told(most)} units a day of {name}; more than {MOST_UNITS_PER_DAY} are not kept up."
        return _block(UNITS_PER_DAY, detail, needed=MOST_UNITS_PER_DAY, reachable=most, unit="units")

    def _divided_at_will(self) -> Block | None:
        base, count = self._case.base, len(self._case.base.names)
        finer = replace(
            base,
            step_sizes=tuple(size / _FINER for size in base.step_sizes),
            costs=tuple(cost / _FINER for cost in base.costs),
            caps=tuple(cap * _FINER for cap in base.caps),
        )
        rest = self._rebuilt(finer, lambda row: replace(row, per_step=tuple(mg / _FINER for mg in row.per_step)))
        # What was learned counts whole parts.
        search = Search(rest, lambda _: None, self._search.seconds_left)
        steps = self._solved(rest, Objective((0.0,) * count, (1.0,) * count), search)
        if steps is None:
            return None
        shown = (
            f"{told(size * number)} of {name}"
            for size, number, name in zip(finer.step_sizes, steps, finer.names, strict=True)
            if number
        )
        detail = f"Only parts of units that cannot be given would fit, for example {', '.join(shown)}."
        return _block(DIVISIBILITY, detail)

    def _unscreened(self) -> Block | None:
        if not self._stopped:
            return None
        programme, count = self._case.programme, len(self._case.programme.names)
        search = Search(programme, lambda _: None, self._search.seconds_left)
        steps = self._solved(programme, Objective((0.0,) * count, (1.0,) * count), search)
        if steps is None:
            return None
        return _block(SCREEN, "What would reach the targets is stopped by the screen; see `rejected_sets`.")

    def _together(self) -> tuple[Block, ...]:
        """Reach as much of all targets as possible, each by its share."""
        count = len(self._case.base.names)
        soft = self._rebuilt(self._case.base, lambda row: replace(row, soft=row.kind == TARGET))
        steps = self._solved(soft, Objective((0.0,) * count, (0.0,) * count))
        if steps is None:
            return ()
        reached = [(row, without_noise(weighted(row.per_step, steps))) for row in self._case.programme.rows]
        return tuple(
            _row_block(row, row.given + mg, "where all targets are reached as far as possible")
            for row, mg in reached
            if row.kind == TARGET and not holds(row, mg)
        )


def _missing(row: Row) -> Block:
    detail = f"No product that may be used holds any {row.ingredient} that its label credits; see `left_out`."
    return _block(TARGET, detail, row.ingredient, needed=row.bound, reachable=row.given, unit="mg")


def _row_block(row: Row, reached: Decimal, how: str) -> Block:
    unit = "kcal" if row.kind == ENERGY else "mg"
    value, bound = told_apart(reached, row.bound)
    given = f", {told(row.given)} {unit} of it given already" if row.given else ""
    if row.kind == TARGET:
        detail = f"At most {value} mg of {row.ingredient} a day are reached {how}{given}; the aim is {bound} mg."
    else:
        of_what = f" of {row.ingredient}" if row.ingredient else ""
        detail = f"At least {value} {unit}{of_what} a day come along {how}{given}; {row.words} is {bound} {unit}."
    block = _block(row.kind, detail, row.ingredient, row.limit_id, row.bound, reached, unit)
    return replace(block, limit_origin=row.origin, source_ids=row.source_ids)


def _block(
    kind: str,
    detail: str,
    ingredient: str | None = None,
    limit_id: str | None = None,
    needed: Decimal | None = None,
    reachable: Decimal | None = None,
    unit: str | None = None,
) -> Block:
    return Block(
        kind=kind,
        ingredient=ingredient,
        limit_id=limit_id,
        needed=amount(needed) if needed is not None else None,
        reachable=amount(reachable) if reachable is not None else None,
        unit=unit,
        detail=detail,
        limit_origin=None,
        source_ids=(),
    )
