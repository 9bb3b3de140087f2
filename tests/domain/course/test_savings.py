"""Two pack sizes against each other, worked by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal as D

from service.domain.course.answer import Pair
from service.domain.course.request import PhaseWanted
from tests.domain.course.making import pack, planned, units

LARGE = pack("large", where="products/0")
SMALL = pack("small", where="products/1", unit_count=D(30), price=D(6))


def _pair(days: int, start_date: date | None = None) -> Pair:
    answer = planned(LARGE, SMALL, phases=(units("1", days),), start_date=start_date)
    assert answer.saving is not None
    return answer.saving.pairs[0]


def test_the_day_on_which_the_larger_pack_has_paid_off() -> None:
    # Large: 14.40 on days 1 and 121. Small: 6.00 every 30 days. After day 61 the small ones have cost 18.00.
    pair = _pair(365)
    assert (pair.product_id, pair.instead_of) == ("large", "small")
    assert (pair.break_even_day, pair.ahead_for_good_from_day) == (61, 61)
    # Four large ones 57.60, thirteen small ones 78.00; used 43.80 and 73.00.
    assert (pair.paid_saving, pair.consumed_saving) == (D("20.40"), D("29.20"))


def test_it_has_a_date_where_the_course_has_one() -> None:
    pair = _pair(365, start_date=date(2027, 1, 1))
    assert (pair.break_even_date, pair.ahead_for_good_from_date) == (date(2027, 3, 2), date(2027, 3, 2))


def test_a_short_course_never_breaks_even() -> None:
    pair = _pair(60)
    assert (pair.break_even_day, pair.ahead_for_good_from_day) == (None, None)
    assert pair.paid_saving == D("-2.40")


def test_ahead_for_a_while_only() -> None:
    # 14.40 for 120 against 4.00 for 30: equal to 16.00 from day 91 on, but on day 121 the second large one makes it
    # 28.80 against 20.00, ahead again from day 211 (32.00), and for good only if no third is opened.
    cheaper = pack("small", where="products/1", unit_count=D(30), price=D(4))
    answer = planned(LARGE, cheaper, phases=(units("1", 240),))
    assert answer.saving is not None
    pair = answer.saving.pairs[0]
    assert (pair.break_even_day, pair.ahead_for_good_from_day) == (91, 211)


def test_the_cheapest_against_the_dearest() -> None:
    middle = pack("middle", where="products/2", price=D(20))
    answer = planned(LARGE, SMALL, middle, phases=(PhaseWanted(units_per_day=D(1), days=365),))
    saving = answer.saving
    assert saving is not None
    assert (saving.cheapest_product_id, saving.dearest_product_id) == ("large", "middle")
    # 57.60 against 80.00.
    assert (saving.paid, saving.share_of_paid) == (D("22.40"), D("0.2800"))
    assert len(saving.pairs) == 3
    assert [course.product_id for course in answer.alternatives] == ["large", "small", "middle"]


def test_equal_products_save_nothing() -> None:
    twin = pack("twin", where="products/1")
    answer = planned(LARGE, twin, phases=(units("1", 365),))
    assert answer.saving is not None
    assert (answer.saving.paid, answer.saving.share_of_paid) == (D(0), D(0))
    assert answer.saving.pairs[0].break_even_day == 1


def test_what_cannot_be_recommended_does_not_count() -> None:
    unknown = pack("unknown", where="products/1", price=None, currency=None)
    assert planned(LARGE, unknown).saving is None
