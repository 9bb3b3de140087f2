"""What one unit holds, and what a gram of it costs."""

from __future__ import annotations

from service.domain.normalising import normalise
from service.domain.products import Product
from service.pages.asked import Asked, Cell
from service.pages.workbench.contents import content_table
from tests.pages.workbench.answers import BARE, OPEN_FORM, REFERENCE, TABLET


def _rows(product: Product) -> list[list[str | None]]:
    table = content_table(REFERENCE, {"Shown name": normalise(REFERENCE, product)})
    return [[_text(cell) for cell in row] for row in table.rows]


def _text(cell: Cell) -> str | None:
    return cell.text if isinstance(cell, Asked) else cell


def test_a_line_for_each_line_of_the_label() -> None:
    # 500 mg of hydrochloride in a tablet are 415.5 mg of glucosamine (0.831 by the formulas); 0.12 USD buy them:
    # 0.2888 USD a gram.
    first, second = _rows(TABLET)
    assert first == ["Shown name", "Glucosamine HCl 1000 mg", "Glucosamine hydrochloride", "500", "415.5", "0.2888 USD"]
    assert second[1] == "MSM 400 mg"


def test_an_open_form_is_a_range_with_a_remark() -> None:
    row = _rows(OPEN_FORM)[0]
    assert row[2] == "Glucosamine, form not stated"
    assert " to " in (row[4] or "")
    assert row[-1] == "form not stated"


def test_without_a_price_no_gram_costs_anything() -> None:
    table = content_table(REFERENCE, {"x": normalise(REFERENCE, BARE)})
    assert "a gram of it costs" not in table.columns


def test_the_share_of_the_active_part_is_sourced() -> None:
    table = content_table(REFERENCE, {"x": normalise(REFERENCE, TABLET)})
    moiety = table.rows[0][4]
    assert isinstance(moiety, Asked)
    assert moiety.source_ids
    assert "% glucosamine by mass" in moiety.rule
