"""The search alone, on programmes made of awkward numbers: near misses, costs far apart, equals, refused choices."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal as D
from itertools import product as all_of

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.combining.programme import RANGE, TARGET, Cut, Programme, Row, Steps
from service.domain.combining.searching import Found, Search, Sets

LONG = 60.0


def programme(
    costs: Iterable[str], *rows: Row, caps: Iterable[int] = (), most_products: int = 5, steps: Iterable[str] = ()
) -> Programme:
    """Make a programme of products a, b, c, ... of which 6 parts may be given, one unit each."""
    prices = tuple(map(D, costs))
    base = Programme(
        names=tuple("abcdefgh"[: len(prices)]),
        step_sizes=tuple(map(D, steps)) or (D(1),) * len(prices),
        costs=prices,
        caps=tuple(caps) or (6,) * len(prices),
        most_products=most_products,
    )
    return base.with_rows(*rows)


def aim(least: str, *per_step: str) -> Row:
    """Make the row of an aim."""
    return Row(TARGET, tuple(map(D, per_step)), least=D(least), bound=D(least))


def top(most: str, *per_step: str, itself_too_much: bool = False) -> Row:
    """Make the row of a maximum."""
    return Row(RANGE, tuple(map(D, per_step)), most=D(most), bound=D(most), itself_too_much=itself_too_much)


def _nothing(_steps: Steps) -> Cut | None:
    return None


def search(one: Programme, refused: Callable[[Steps], Cut | None] = _nothing, seconds: float = LONG) -> Sets:
    """Search the three best sets."""
    return Search(one, refused, lambda: seconds).cheapest_sets()


def chosen(sets: Sets) -> list[Steps]:
    """Give the choices alone."""
    return [one.steps for one in sets.found]


def everything(one: Programme, stopped: Iterable[Steps] = ()) -> list[Steps]:
    """Try every choice: those that reach a stopped one in every part are refused."""
    best: dict[frozenset[int], Steps] = {}
    forbidden = list(stopped)
    for steps in all_of(*(range(cap + 1) for cap in one.caps)):
        used = frozenset(place for place, count in enumerate(steps) if count)
        if not used or len(used) > one.most_products or one.broken(steps) is not None:
            continue
        if any(all(mine >= theirs for mine, theirs in zip(steps, other, strict=True)) for other in forbidden):
            continue
        best[used] = min(best.get(used, steps), steps, key=one.key)
    found: list[frozenset[int]] = []
    for used in sorted(best, key=lambda one_: one.key(best[one_])):
        if len(found) < 3 and not any(other <= used for other in found):
            found.append(used)
    return [best[used] for used in found]


def test_a_worked_example() -> None:
    # 10 are wanted. a: 4 for 3.00 a part, so three parts, 9.00. b: 10 for 8.00. a and c: 8 and 3, 6.00 + 1.50.
    one = programme(["3", "8", "1.5"], aim("10", "4", "10", "3"), caps=[5, 5, 1])
    sets = search(one)
    assert chosen(sets) == [(2, 0, 1), (0, 1, 0), (3, 0, 0)]
    assert [found.cost for found in sets.found] == [D("7.5"), D(8), D(9)]
    assert sets.complete
    assert all(found == Found(found.steps, found.cost, True, found.cost) for found in sets.found)


def test_a_set_that_only_adds_to_a_cheaper_one_is_not_listed() -> None:
    # a alone is cheapest; a with any amount of b costs more and says nothing new; b alone does.
    one = programme(["1", "2"], aim("2", "1", "1"))
    assert chosen(search(one)) == [(2, 0), (0, 2)]


def test_a_later_set_may_be_a_part_of_a_cheaper_one() -> None:
    # One a (5 of 6) and one b (1 of 6): 5.00 + 0.10. Two a alone: 10.00.
    one = programme(["5", "0.1"], aim("6", "5", "1"), caps=[2, 1])
    assert chosen(search(one)) == [(1, 1), (2, 0)]


def test_equal_costs_go_by_products_then_units_then_names() -> None:
    # All cost 6.00 a day: a+b, c in three half units, d in six, e in three half units.
    one = programme(
        ["3", "3", "2", "1", "2"],
        aim("6", "3", "3", "2", "1", "2"),
        caps=[1, 1, 3, 6, 3],
        steps=["1", "1", "0.5", "0.5", "0.5"],
    )
    sets = search(one)
    assert chosen(sets) == [(0, 0, 3, 0, 0), (0, 0, 0, 0, 3), (0, 0, 0, 6, 0)]
    assert {found.cost for found in sets.found} == {D(6)}


def test_within_one_set_the_fewest_units_then_the_fewest_of_the_first_name() -> None:
    # a and b must both be there; (1, 3), (2, 2) and (3, 1) cost and count the same.
    one = programme(["1", "1"], aim("1", "1", "0"), aim("1", "0", "1"), aim("4", "1", "1"))
    assert chosen(search(one)) == [(1, 3)]


@pytest.mark.parametrize(
    ("mg", "parts"),
    [
        # Three of these are 500.000000001: enough. Three of the next are 499.999999998: not enough, whatever a solver
        # that computes to a millionth says.
        ("166.666666667", 3),
        ("166.666666666", 4),
        ("500", 1),
        ("499.9999995", 2),
        ("499.999999999", 2),
        ("100", 5),
    ],
)
def test_a_miss_by_a_billionth_is_a_miss(mg: str, parts: int) -> None:
    assert chosen(search(programme(["1"], aim("500", mg)))) == [(parts,)]


def test_a_third_three_times_is_the_whole() -> None:
    assert chosen(search(programme(["1"], aim("2000", str(D(2000) / 3))))) == [(3,)]


def test_too_much_by_a_billionth_is_too_much() -> None:
    below, above = "333.333333333", "333.333333334"
    one = programme(["1", "2"], aim("900", "333", "333"), top("1000", above, below))
    # Three of a are 1000.000000002. The mixture with one b is 1000.000000001, with two of them exactly 1000.
    assert chosen(search(one)) == [(1, 2), (0, 3)]


def test_an_amount_that_is_itself_too_much() -> None:
    reaches = top("300", "100", "100", itself_too_much=True)
    assert chosen(search(programme(["1", "2"], aim("200", "100", "100"), reaches))) == [(2, 0), (0, 2)]
    assert chosen(search(programme(["1"], aim("300", "100"), top("300", "100", itself_too_much=True)))) == []


def test_many_near_misses_cost_only_time() -> None:
    # Three parts of any of them, or of any mixture, are a few billionths short of 500.
    mg = [f"166.66666666{digit}" for digit in range(3)]
    one = programme([f"1.0{digit}" for digit in range(3)], aim("500", *mg))
    sets = search(one)
    assert all(sum(steps) == 4 for steps in chosen(sets))
    assert chosen(sets) == everything(one)


def test_costs_that_are_far_apart() -> None:
    # A hundred millionth a part beside ten million: both are found, to the last digit.
    one = programme(["0.00000001", "10000000", "10000000.000001"], aim("3", "1", "3", "3"))
    sets = search(one)
    assert chosen(sets) == [(3, 0, 0), (0, 1, 0), (0, 0, 1)]
    assert [found.cost for found in sets.found] == [D("3e-8"), D(10000000), D("10000000.000001")]


def test_only_a_very_dear_product_fits() -> None:
    one = programme(["0.000001", "9999999"], aim("5", "1", "5"), caps=[4, 1], most_products=1)
    assert [(found.steps, found.cost) for found in search(one).found] == [((0, 1), D(9999999))]


def test_a_cheap_product_beside_one_that_must_be_dear() -> None:
    # The second aim needs c; for the first, a is cheaper than b by a ten-millionth of the whole.
    one = programme(["1.0", "1.1", "1000000"], aim("1", "1", "1", "0"), aim("1", "0", "0", "1"))
    assert chosen(search(one)) == [(1, 0, 1), (0, 1, 1)]


def test_amounts_that_are_far_apart() -> None:
    one = programme(["1", "1"], aim("1000000", "0.000001", "250000"), caps=[10000, 6])
    assert chosen(search(one)) == [(0, 4)]
    tiny = programme(["1", "1"], aim("0.000001", "0.000001", "1000000"), top("2", "0.000001", "0.5"))
    assert chosen(search(tiny)) == [(1, 0), (0, 1)]


def test_what_is_refused_is_gone_on_from() -> None:
    refused: list[Steps] = []

    def _no_two_of_a_beside_b(steps: Steps) -> Cut | None:
        if steps[0] >= 2 and steps[1]:
            refused.append(steps)
            return Cut({0: 2, 1: 1})
        return None

    one = programme(["1", "1.5", "4"], aim("5", "2", "1", "5"), aim("1", "0", "1", "5"))
    # Two of a and one of b would be cheapest.
    sets = search(one, _no_two_of_a_beside_b)
    assert refused == [(2, 1, 0)]
    assert chosen(sets) == everything(one, [(2, 1, 0)]) == [(0, 0, 1), (1, 3, 0), (0, 5, 0)]


def test_nothing_fits() -> None:
    sets = search(programme(["1", "1"], aim("20", "1", "2"), caps=[5, 5]))
    assert sets == Sets((), True)


def test_without_time_nothing_is_settled() -> None:
    assert search(programme(["1"], aim("1", "1")), seconds=0.0) == Sets((), False)


def test_time_that_runs_out_later_leaves_what_was_proven() -> None:
    calls = iter([LONG] * 1 + [0.0] * 50)
    sets = Search(programme(["1", "2"], aim("2", "1", "1")), _nothing, lambda: next(calls)).cheapest_sets()
    assert chosen(sets) == [(2, 0)]
    assert sets.found[0].proven
    assert not sets.complete


numbers = st.sampled_from(
    ["0", "1", "2", "3", "2.5", "0.75", "1.000000001", "0.999999999", "3.333333333", "3.333333334", "0.000001"]
)
prices = st.sampled_from(["1", "1", "2", "0.5", "0.1", "0.333333", "0.000001", "1.000000001", "5000"])


@st.composite
def _programmes(draw: st.DrawFn) -> Programme:
    count = draw(st.integers(1, 4))
    rows = [aim("10", *(draw(numbers) for _ in range(count))) for _ in range(draw(st.integers(1, 2)))]
    rows += [top("10", *(draw(numbers) for _ in range(count))) for _ in range(draw(st.integers(0, 2)))]
    return programme(
        [draw(prices) for _ in range(count)],
        *rows,
        caps=[draw(st.integers(0, 6)) for _ in range(count)],
        most_products=draw(st.integers(1, 4)),
        steps=[draw(st.sampled_from(["1", "0.5", "0.25", "0.1"])) for _ in range(count)],
    )


@settings(max_examples=200, deadline=None)
@given(_programmes(), st.lists(st.lists(st.integers(0, 3), min_size=4, max_size=4), max_size=2))
def test_against_everything(one: Programme, drawn: list[list[int]]) -> None:
    count = len(one.names)
    stopped = [tuple(counts[:count]) for counts in drawn if any(counts[:count])]

    def _refused(steps: Steps) -> Cut | None:
        for other in stopped:
            if all(mine >= theirs for mine, theirs in zip(steps, other, strict=True)):
                return Cut({place: needed for place, needed in enumerate(other) if needed})
        return None

    sets = search(one, _refused)
    assert sets.complete
    assert chosen(sets) == everything(one, stopped)
