"""A comparison as it is shown."""

from __future__ import annotations

from service.domain.products import Product
from service.pages.asked import Asked
from service.pages.workbench.comparison import ComparedRow, ComparisonView, present_comparison
from tests.pages.workbench.answers import BARE, OPEN_FORM, OTHER, REFERENCE, SWEET, TABLET, compared


def _view(*products: Product) -> ComparisonView:
    by_id = {product.id: product for product in products}
    return present_comparison(REFERENCE, compared(*products), by_id, {"p1": "ask_veterinarian"})


def _texts(row: ComparedRow) -> list[str | None]:
    return [cell.text if isinstance(cell, Asked) else cell for cell in row.cells]


def test_every_number_of_a_row() -> None:
    view = _view(TABLET)
    # 500 mg are one tablet; 14.40 for 120 are 0.12 each.
    assert _texts(view.rows[0]) == ["1 tablet", "500", "0.12 USD", "3.60 USD", "43.80 USD", "120 days"]
    assert len(view.columns) == len(view.rows[0].cells)
    assert view.targets == ("Glucosamine hydrochloride: 500 to 1000 mg a day (maintenance); counted against 500 mg",)


def test_every_number_can_be_asked() -> None:
    cells = _view(TABLET).rows[0].cells
    assert all(isinstance(cell, Asked) and cell.rule for cell in cells)
    assert len({cell.id for cell in cells if isinstance(cell, Asked)}) == len(cells)
    amount = cells[1]
    assert isinstance(amount, Asked)
    assert "trade" in amount.source_ids
    assert "100 % of the lower end" in amount.rule


def test_the_verdict_of_the_whole_screen_goes_before_that_of_the_comparison() -> None:
    assert _view(TABLET).rows[0].verdict == "ask_veterinarian"


def test_an_open_form_shows_both_readings() -> None:
    cell = _view(OPEN_FORM).rows[0].cells[1]
    assert isinstance(cell, Asked)
    assert " to " in cell.text
    assert "low and high reading" in cell.rule


def test_what_is_not_known_is_empty() -> None:
    bare = _view(BARE).rows[0]
    assert _texts(bare) == ["1 tablet", "500", None, None, None, "120 days"]
    other = _view(OTHER).rows[0]
    assert _texts(other)[:2] == [None, None]
    assert other.why_not


def test_an_objection_comes_last_with_its_reason() -> None:
    rows = _view(SWEET, TABLET).rows
    assert [row.name for row in rows] == ["Tablet", "Sweet"]
    assert rows[1].why_not
    assert not rows[1].efficient
