"""The search for the cheapest sets: solve, check exactly, learn from what was wrong, go on; equals in a fixed order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.combining.programme import (
    COST,
    UNITS,
    Cut,
    Programme,
    Row,
    Steps,
    counted_cost,
    just_dearer,
    lie_of,
)
from service.domain.combining.solver import CUT_SHORT, IMPOSSIBLE, Objective, Outcome, minimise

_MOST_SETS = 3
# The solver stops where its bounds are a millionth apart: costs are scaled so that this is far below what is counted.
_LEAST_SCALED, _LARGEST_SCALED, _DEAREST_SCALED = 1e7, 1e9, 1e12
# So many names at once can be told apart by powers of two that the solver's tolerance does not blur.
_NAMES_AT_ONCE = 16


@dataclass(frozen=True, slots=True)
class Found:
    """A choice with its exact cost a day, and what no choice that was left to search comes below."""

    steps: Steps
    cost: Decimal
    proven: bool
    bound: Decimal


@dataclass(frozen=True, slots=True)
class Sets:
    """The cheapest sets, cheapest first; ``complete`` where no other belongs among them.

    Without any, ``complete`` says that none exists.
    """

    found: tuple[Found, ...]
    complete: bool


class Search:
    """Searches one programme, and remembers what it learned about it.

    Parameters
    ----------
    programme
        The rules.
    refused
        Says what is wrong with a choice that keeps to all rows; ``None`` where nothing is.
    seconds_left
        Time that may still be spent.
    """

    def __init__(
        self,
        programme: Programme,
        refused: Callable[[Steps], Cut | None],
        seconds_left: Callable[[], float],
    ) -> None:
        self.programme = programme
        self.seconds_left = seconds_left
        self._refused = refused
        # Each with the row that it follows from, without one where every choice is held to it.
        self._learned: list[tuple[Row | None, Cut]] = []
        self._floor = _lower_bound(programme)

    def again(self, refused: Callable[[Steps], Cut | None], seconds_left: Callable[[], float]) -> Search:
        """Make a search that knows what this one learned, with other checks and a time of its own.

        Parameters
        ----------
        refused
            Says what is wrong with a choice.
        seconds_left
            Time that may still be spent.

        Returns
        -------
        Search
            Over the same programme.
        """
        other = Search(self.programme, refused, seconds_left)
        other._learned = list(self._learned)
        return other

    def best(self, programme: Programme, objective: Objective) -> Outcome:
        """Search the best choice that stands up to every check.

        Parameters
        ----------
        programme
            The rules, which may differ from those of this search by some rows.
        objective
            What is to become least.

        Returns
        -------
        Outcome
            Never with a choice that breaks a row or is refused.
        """
        while True:
            outcome = minimise(programme.with_cuts(self._known_of(programme)), objective, self.seconds_left)
            if outcome.steps is None:
                return outcome
            row = programme.broken(outcome.steps)
            cut = lie_of(row, outcome.steps) if row is not None else self._refused(outcome.steps)
            if cut is None:
                return outcome
            self._learned.append((row, cut))

    def _known_of(self, programme: Programme) -> list[Cut]:
        return [cut for of, cut in self._learned if of is None or any(of is row for row in programme.rows)]

    def cheapest_sets(self) -> Sets:
        """Search the three cheapest sets, of which none only adds to a cheaper one.

        Returns
        -------
        Sets
            Each with the least cost of its products. Of choices at one cost the first by :meth:`Programme.key`.
        """
        found: list[Found] = []
        beside = self.programme
        following, complete = self._cheapest(beside)
        while following is not None and len(found) < _MOST_SETS:
            pending = following
            following, complete = self._cheapest(beside.with_cuts([_set_of(pending.steps)]))
            if following is not None and counted_cost(following.cost) <= counted_cost(pending.cost):
                pending = self._first_of_equals(beside, following if following.cost < pending.cost else pending)
                beside = beside.with_cuts([_set_of(pending.steps)])
                if len(found) + 1 < _MOST_SETS:
                    following, complete = self._cheapest(beside)
            else:
                pending = self._within_set(beside, pending)
                beside = beside.with_cuts([_set_of(pending.steps)])
            found.append(pending)
        in_order = sorted(found, key=lambda one: self.programme.key(one.steps))
        done = all(one.proven for one in found) and (complete or len(found) == _MOST_SETS)
        return Sets(tuple(in_order), done)

    def _cheapest(self, programme: Programme) -> tuple[Found | None, bool]:
        """Find the cheapest choice, and say whether the search came to its end."""
        scale = _LEAST_SCALED / self._floor
        found: Found | None = None
        while True:
            outcome = self.best(programme, _objective(programme, per_step=_scaled_costs(programme, scale)))
            if outcome.steps is None:
                return found, found is None and outcome.status == IMPOSSIBLE
            cost = programme.cost(outcome.steps)
            if outcome.status == CUT_SHORT:
                return Found(outcome.steps, cost, False, _bound(outcome, scale, cost)), False
            if float(cost) * scale <= _LARGEST_SCALED:
                self._floor = float(cost)
                return Found(outcome.steps, cost, True, cost), True
            # Beside so dear a choice the bounds of the solver are too coarse or too fine: again, on the scale of what
            # was found, and without all that costs more.
            found = Found(outcome.steps, cost, False, Decimal(0))
            programme = _no_dearer_than(programme, cost)
            scale = _LEAST_SCALED / float(cost)

    def _first_of_equals(self, programme: Programme, one: Found) -> Found:
        """Among all choices at one cost, find the one with fewest products, fewest units, first names."""
        tied = _no_dearer_than(programme, one.cost)
        fewest = self.best(tied, _objective(tied, per_use=[1.0] * len(tied.names)))
        if fewest.steps is None:
            return one
        tied = replace(tied, most_products=sum(map(bool, fewest.steps)))
        tied, least = self._with_fewest_units(tied, fewest.steps)
        for fixed in _chunks(tied):
            # The first name weighs more than all that follow.
            weights = {place: -float(2**weight) for weight, place in enumerate(reversed(fixed))}
            per_use = [weights.get(place, 0.0) for place in range(len(tied.names))]
            outcome = self.best(tied, _objective(tied, per_use=per_use))
            if outcome.steps is None:
                break
            least = outcome.steps
            tied = tied.with_used({place: bool(least[place]) for place in fixed})
        return self._within_set(programme, _instead(programme, one, least))

    def _within_set(self, programme: Programme, one: Found) -> Found:
        """Among the choices of one set at one cost, find the one with fewest units, then fewest of the first name."""
        used = {place: bool(count) for place, count in enumerate(one.steps)}
        if sum(used.values()) < 2:
            return one
        tied, steps = self._with_fewest_units(_no_dearer_than(programme, one.cost).with_used(used), one.steps)
        in_order = sorted((place for place in used if used[place]), key=lambda place: tied.names[place])
        for place in in_order[:-1]:
            outcome = self.best(tied, _objective(tied, per_step=[float(other == place) for other in used]))
            if outcome.steps is None:
                break
            steps = outcome.steps
            only = tuple(Decimal(other == place) for other in used)
            tied = tied.with_rows(Row(UNITS, only, most=Decimal(steps[place])))
        return _instead(programme, one, steps)

    def _with_fewest_units(self, tied: Programme, steps: Steps) -> tuple[Programme, Steps]:
        outcome = self.best(tied, _objective(tied, per_step=[float(size) for size in tied.step_sizes]))
        if outcome.steps is None:
            return tied, steps
        row = Row(UNITS, tied.step_sizes)
        units = sum((size * count for size, count in zip(tied.step_sizes, outcome.steps, strict=True)), Decimal(0))
        return tied.with_rows(replace(row, most=units)), outcome.steps


def _lower_bound(programme: Programme) -> float:
    """Give a cost that no choice comes below: that of the dearest aim alone, if units could be divided at will."""
    bounds = [
        min(float(cost * row.least / mg) for cost, mg in zip(programme.costs, row.per_step, strict=True) if mg)
        for row in programme.rows
        if row.least is not None and any(row.per_step)
    ]
    return max(bounds, default=1.0)


def _scaled_costs(programme: Programme, scale: float) -> list[float]:
    """Give costs as the solver takes them; what costs more than any choice that is accepted need not be told apart."""
    pairs = zip(programme.costs, programme.caps, strict=True)
    return [min(float(cost) * scale, _DEAREST_SCALED) if cap else 0.0 for cost, cap in pairs]


def _bound(outcome: Outcome, scale: float, cost: Decimal) -> Decimal:
    return min(Decimal(outcome.bound) / Decimal(scale), cost) if outcome.bound > 0 else Decimal(0)


def _objective(
    programme: Programme, per_step: list[float] | None = None, per_use: list[float] | None = None
) -> Objective:
    nothing = [0.0] * len(programme.names)
    return Objective(tuple(per_step or nothing), tuple(per_use or nothing))


def _instead(programme: Programme, one: Found, steps: Steps) -> Found:
    """Put another choice at the same cost, as costs are counted, in the place of one."""
    cost = programme.cost(steps)
    return replace(one, steps=steps, cost=cost, bound=cost if one.proven else min(one.bound, cost))


def _set_of(steps: Steps) -> Cut:
    """Forbid a set of products, and every other that only adds to it."""
    return Cut({place: 1 for place, count in enumerate(steps) if count})


def _no_dearer_than(programme: Programme, cost: Decimal) -> Programme:
    return programme.with_rows(Row(COST, programme.costs, most=just_dearer(cost), itself_too_much=True))


def _chunks(programme: Programme) -> list[list[int]]:
    in_order = sorted(range(len(programme.names)), key=lambda place: programme.names[place])
    return [in_order[start : start + _NAMES_AT_ONCE] for start in range(0, len(in_order), _NAMES_AT_ONCE)]
