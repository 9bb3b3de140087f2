"""Rules and choices in exact arithmetic, before any solver sees them."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.combining.programme import (
    COST,
    RANGE,
    TARGET,
    Cut,
    Programme,
    Row,
    counted_cost,
    holds,
    is_slack,
    just_dearer,
    lie_of,
    weighted,
    without_noise,
)

PAIR = Programme(
    names=("b", "a"), step_sizes=(D("0.5"), D(1)), costs=(D("0.1"), D("0.3")), caps=(40, 20), most_products=2
)


def _row(least: str | None = None, most: str | None = None, *, itself: bool = False) -> Row:
    low, high = (D(end) if end is not None else None for end in (least, most))
    return Row(TARGET if least else RANGE, (D(100), D(250)), least=low, most=high, itself_too_much=itself)


def test_a_sum_over_a_choice() -> None:
    assert weighted((D(100), D("2.5")), (3, 2)) == D(305)
    assert weighted((D(100), D("2.5")), (0, 0)) == 0


@pytest.mark.parametrize(
    ("row", "total", "kept"),
    [
        (_row(least="500"), "500", True),
        (_row(least="500"), "499.999999999", False),
        (_row(least="500"), "501", True),
        (_row(most="500"), "500", True),
        (_row(most="500"), "500.000000001", False),
        (_row(most="500", itself=True), "500", False),
        (_row(most="500", itself=True), "499.999999999", True),
        (Row(TARGET, (), least=D(500), soft=True), "1", True),
    ],
)
def test_whether_a_sum_keeps_to_a_row(row: Row, total: str, kept: bool) -> None:
    assert holds(row, D(total)) is kept


def test_the_tail_of_a_division_is_no_difference() -> None:
    third = D(500) / 3
    assert third * 3 != D(500)
    assert without_noise(third * 3) == D(500)
    assert holds(_row(least="500"), without_noise(third * 3))


def test_rows_lower_what_can_be_given_of_one_product() -> None:
    # 1000 / 100 = 10 parts, 1000 / 250 = 4; the amount itself too much: one less.
    assert PAIR.with_rows(_row(most="1000")).caps == (10, 4)
    assert PAIR.with_rows(_row(most="1000", itself=True)).caps == (9, 3)
    assert PAIR.with_rows(_row(most="99")).caps == (0, 0)
    assert PAIR.with_rows(_row(least="1000")).caps == PAIR.caps
    # A third of the maximum fits three times, whatever the last digit.
    third = Row(RANGE, (D(2000) / 3, D(0)), most=D(2000))
    assert PAIR.with_rows(third).caps == (3, 20)


def test_the_row_that_is_broken() -> None:
    aim, top = _row(least="500"), _row(most="1000")
    both = PAIR.with_rows(aim, top)
    assert both.broken((0, 2)) is None
    assert both.broken((4, 0)) is aim
    assert both.broken((6, 2)) is top


def test_a_lie_about_an_aim_asks_for_more_of_what_counts() -> None:
    aim = Row(TARGET, (D("166.6666666"), D(0)), least=D(500))
    assert lie_of(aim, (3, 7)) == Cut({0: 3}, upward=True)


def test_a_lie_about_a_maximum_asks_for_less_of_what_is_given() -> None:
    top = Row(RANGE, (D("333.3333334"), D(5)), most=D(1000))
    assert lie_of(top, (3, 0)) == Cut({0: 3})


def test_equal_costs_are_equal_however_they_were_divided() -> None:
    thirds = Programme(("a", "b"), (D(1), D(1)), (D(10) / 3, D(10)), (9, 9), 2)
    assert thirds.cost((3, 0)) == thirds.cost((0, 1)) == D(10)


def test_costs_that_agree_to_nine_digits_count_as_equal() -> None:
    assert counted_cost(D("1.00000000049")) == counted_cost(D("0.9999999996")) == D(1)
    assert counted_cost(D("1.000000006")) == D("1.00000001")
    for cost in ("1", "0.3333333333", "9.999999999", "12345678901"):
        edge = just_dearer(D(cost))
        assert counted_cost(edge * D("1.00000000001")) > counted_cost(D(cost))
        assert counted_cost(edge * D("0.99999999999")) == counted_cost(D(cost))


def test_the_order_of_choices() -> None:
    # Cost first; the name "a" belongs to the second product.
    assert PAIR.key((3, 0)) == (D("0.3"), 1, D("1.5"), ("b",), (3,))
    assert PAIR.key((0, 1)) == (D("0.3"), 1, D(1), ("a",), (1,))
    assert PAIR.key((3, 1)) == (D("0.6"), 2, D("2.5"), ("a", "b"), (1, 3))
    assert sorted([(3, 1), (3, 0), (0, 1), (2, 0)], key=PAIR.key) == [(2, 0), (0, 1), (3, 0), (3, 1)]


def test_what_a_row_can_never_be_broken_by() -> None:
    base = PAIR.with_rows(_row(most="1000"))
    # Ten of the one and four of the other: 1000 + 1000.
    assert not is_slack(_row(most="1999"), base)
    assert is_slack(_row(most="2000"), base)
    assert is_slack(Row(RANGE, (D(1), D(1)), most=D(10)), Programme(("a", "b"), (D(1),) * 2, (D(1),) * 2, (10, 9), 1))
    assert not is_slack(_row(least="1"), base)


def test_what_is_fixed_and_learned_is_kept_beside_what_was() -> None:
    first, second = Cut({0: 1}), Cut({1: 2}, upward=True)
    changed = PAIR.with_cuts([first]).with_cuts([second]).with_used({0: True}).with_used({1: False})
    assert changed.cuts == (first, second)
    assert changed.used == {0: True, 1: False}
    assert (PAIR.cuts, PAIR.used) == ((), {})
    assert PAIR.with_rows(Row(COST, PAIR.costs, most=D("0.65"))).caps == (6, 2)
