"""The course as it is shown."""

from __future__ import annotations

from service.pages.asked import Asked, Cell
from service.pages.workbench.course import courses_of, present_course
from tests.pages.workbench.answers import BARE, SMALL, TABLET, planned

NAMES = {"p1": "Tablet", "p2": "Small pack", "p5": "Bare"}


def _text(cell: Cell) -> str | None:
    return cell.text if isinstance(cell, Asked) else cell


def test_a_row_per_product_cheapest_first() -> None:
    view = present_course(planned(TABLET, SMALL), NAMES)
    assert view.days == 365
    assert view.is_priced
    # 42 days of two and 323 of one are 407 tablets: four packs of 120, 57.60; fourteen of 30, 84.00.
    assert [_text(cell) for cell in view.table.rows[0]] == [
        "Tablet",
        "loading 42 days at 2 tablets; maintenance 323 days at 1 tablet",
        "48.84 USD",
        "57.60 USD",
        "4.73 USD",
        "4",
        "73 tablets",
        "63.36 USD",
    ]
    assert _text(view.table.rows[1][3]) == "84.00 USD"


def test_sentences_say_what_is_saved_and_from_when() -> None:
    sentences = present_course(planned(TABLET, SMALL), NAMES).sentences
    assert sentences == (
        "Tablet costs 26.40 USD (31 %) less than Small pack over the course.",
        # Two tablets a day for 42 days: packs of 30 on days 1, 16 and 31 have cost 18.00 against 14.40.
        "Tablet costs more at first and less than Small pack from day 31 on.",
    )


def test_one_product_saves_nothing() -> None:
    plan = planned(TABLET)
    assert courses_of(plan) == (plan,)
    assert present_course(plan, NAMES).sentences == ()


def test_without_prices_days_and_units_are_shown() -> None:
    view = present_course(planned(BARE), NAMES)
    assert not view.is_priced
    assert "paid" not in view.table.columns
    assert _text(view.table.rows[0][0]) == "Bare"


def test_every_number_can_be_asked() -> None:
    row = present_course(planned(TABLET, SMALL), NAMES).table.rows[0]
    assert all(isinstance(cell, Asked) and cell.rule.endswith(".") for cell in row[1:])
