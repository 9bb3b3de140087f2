"""The cheapest sets of products that reach several targets at once, or what stands in the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from service.domain.combining.answer import (
    BEST_FOUND,
    NOT_SETTLED,
    NOTHING_FITS,
    NOTHING_NEEDED,
    OPTIMAL,
    Block,
    Combination,
    CombineAnswer,
    LeftOut,
    RejectedSet,
)
from service.domain.combining.blocking import Blocking, what_blocks
from service.domain.combining.building import Case, build, reached_without
from service.domain.combining.cautions import cautions_of
from service.domain.combining.describing import combination, exact_cost, gap_of, rejected_set
from service.domain.combining.feasibility import faults
from service.domain.combining.intake import read_contents
from service.domain.combining.programme import Cut, Steps
from service.domain.combining.request import CombineRequest, Stopwatch
from service.domain.combining.screens import Screens, Stop
from service.domain.combining.searching import Found, Search, Sets
from service.domain.combining.upper_limits import upper_limits
from service.domain.comparing import check_products, check_targets
from service.domain.rounding import significant
from service.domain.targets import known_weight, settle_target
from service.reference.release import Reference

_SETTLED = Blocking((), True)


def combine(reference: Reference, request: CombineRequest, clock: Callable[[], float]) -> CombineAnswer:
    """Find the three cheapest sets of products that reach every target.

    Parameters
    ----------
    reference
        The release to answer from.
    request
        Animal, targets, products, and what else the animal gets.
    clock
        Seconds of a clock that only runs forward, for the time limit.

    Returns
    -------
    CombineAnswer
        At most three combinations, cheapest first, each checked anew from its labels; none of them only adds products
        to a cheaper one. Where none exists, what blocks.

    Raises
    ------
    InvalidInput
        If an amount cannot be read, prices are in several currencies, an ingredient is a target twice, or a target's
        range runs downwards.
    NoGuidance
        If a target has no amounts of its own and none is known.
    """
    known_weight(request.animal)
    check_products(request.products)
    check_targets(request.targets)
    ranges = tuple(
        settle_target(reference, request.animal, target, request.aim, f"targets/{index}")
        for index, target in enumerate(request.targets)
    )
    contents = read_contents(reference, request, ranges)
    screens = Screens(reference, request)
    limits = upper_limits(reference, contents, request.animal)
    case = build(reference, request, contents, ranges, limits, screens)
    checks = _Checks(reference, request, case, screens)
    if reached_without(request, contents, ranges):
        return _answer(request, case, checks, Sets((), True), _SETTLED, NOTHING_NEEDED)
    watch = Stopwatch(request.time_limit_seconds, clock)
    search = Search(case.programme, checks.refused, watch.seconds_left)
    sets = search.cheapest_sets() if case.programme.names else Sets((), True)
    if sets.found:
        status = OPTIMAL if sets.found[0].proven and not checks.doubted else BEST_FOUND
        return _answer(request, case, checks, sets, _SETTLED, status)
    if not sets.complete or checks.doubted:
        return _answer(request, case, checks, sets, _SETTLED, NOT_SETTLED)
    # Where the search took almost all of the time, the reasons still get half of it.
    rest = Stopwatch(max(Decimal(watch.seconds_left()), request.time_limit_seconds / 2), clock)
    blocking = what_blocks(case, search.again(checks.stopped, rest.seconds_left), bool(checks.stops))
    return _answer(request, case, checks, sets, blocking, NOTHING_FITS)


@dataclass(slots=True)
class _Checks:
    """What a choice must stand up to beside the rows; gathers what the screen stopped."""

    reference: Reference
    request: CombineRequest
    case: Case
    screens: Screens
    stops: list[Stop] = field(default_factory=list)
    doubted: bool = False

    def stopped(self, steps: Steps) -> Cut | None:
        """Say what the screen has against a choice."""
        choice = self._choice(steps)
        stop = self.screens.stop(choice) if choice else None
        if stop is None:
            return None
        if stop not in self.stops:
            self.stops.append(stop)
        places = {place: index for index, place in enumerate(self.case.places)}
        return Cut({places[place]: count for place, count in stop.choice.items()})

    def refused(self, steps: Steps) -> Cut | None:
        """Say what is wrong with a choice that is about to be answered."""
        cut = self.stopped(steps)
        if cut is not None:
            return cut
        choice = self._choice(steps)
        units = {
            self.case.contents.products[place].product.id: self.case.contents.products[place].step * count
            for place, count in choice.items()
        }
        screened = self.screens.of(choice)
        if not faults(self.reference, self.request, self.case.ranges, units, self.screens.before, screened):
            return None
        # The programme and the check from the labels disagree: never answered, and nothing is called proven after it.
        self.doubted = True
        return Cut({place: count for place, count in enumerate(steps) if count})

    def _choice(self, steps: Steps) -> dict[int, int]:
        return {self.case.places[place]: count for place, count in enumerate(steps) if count}


def _answer(
    request: CombineRequest, case: Case, checks: _Checks, sets: Sets, blocking: Blocking, status: str
) -> CombineAnswer:
    found = _as_doubted(sets.found) if checks.doubted else sets.found
    cheapest = [exact_cost(case, one) for one in found[:1]]
    combinations = tuple(
        combination(request, case, checks.screens, one, cheapest[0], rank) for rank, one in enumerate(found, start=1)
    )
    rejected = tuple(rejected_set(case, stop) for stop in checks.stops)
    return CombineAnswer(
        species=request.animal.species,
        weight_kg=significant(known_weight(request.animal), 9).normalize(),
        aim=request.aim,
        high_end_on=request.high_end_on,
        most_products=request.most_products,
        status=status,
        gap=gap_of(found[0]) if found else None,
        search_complete=sets.complete and blocking.complete and not checks.doubted,
        targets=case.ranges,
        combinations=combinations,
        left_out=case.left_out,
        rejected_sets=rejected,
        blocked_by=blocking.blocks,
        taken_as=checks.screens.before.taken_as,
        unrecognised=checks.screens.before.unrecognised,
        cautions=cautions_of(
            request, case.ranges, case.contents, checks.screens.before, status, combinations, blocking.blocks
        ),
        source_ids=_sources(case, combinations, (*case.left_out, *rejected, *blocking.blocks)),
    )


def _as_doubted(found: tuple[Found, ...]) -> tuple[Found, ...]:
    return tuple(replace(one, proven=False, bound=Decimal(0)) for one in found)


def _sources(
    case: Case, combinations: Iterable[Combination], others: Iterable[LeftOut | RejectedSet | Block]
) -> tuple[str, ...]:
    groups = [wanted.source_ids for wanted in case.ranges]
    for one in combinations:
        groups += [finding.source_ids for finding in one.findings]
        groups += [total.source_ids for total in one.totals]
    groups += [other.source_ids for other in others]
    return tuple(dict.fromkeys(id_ for ids in groups for id_ in ids))
