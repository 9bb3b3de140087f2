"""Names with their amounts in one line."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.item_shapes import is_substance_amount, with_inherited
from service.domain.labels.items import read_items
from service.reference.release import Reference
from tests.domain.labels.reading import amount, plain, sheet


def _pairs(reference: Reference, text: str) -> list[tuple[str, str | None]]:
    cut = sheet(reference, text)
    return [
        (cut.text(*item.name).rstrip(" .:,-"), f"{item.quantity.number.low:f}" if item.quantity else None)
        for item in read_items(cut, 0, len(cut.tokens))
    ]


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        ("MSM 500 mg", [("MSM", "500")]),
        ("MSM: 500 mg", [("MSM", "500")]),
        ("MSM ........ 500 mg", [("MSM", "500")]),
        ("MSM - 500 mg", [("MSM", "500")]),
        ("MSM, 500 mg", [("MSM", "500")]),
        ("MSM = 500 mg", [("MSM", "500")]),
        ("500 mg MSM", [("MSM", "500")]),
        ("500 mg of MSM", [("MSM", "500")]),
        ("Moisture, max. 8 %", [("Moisture", "8")]),
        ("MSM, USP 1 g", [("MSM, USP", "1")]),
        ("Mn 5 mg, Mg 50 mg, Zn 10 mg", [("Mn", "5"), ("Mg", "50"), ("Zn", "10")]),
        ("400 mg chondroitin and 250 mg MSM", [("chondroitin", "400"), ("MSM", "250")]),
        ("Vitamin B12 500 mcg", [("Vitamin B12", "500")]),
        ("Omega 3 500 mg", [("Omega 3", "500")]),
        ("Coenzyme Q10 30 mg", [("Coenzyme Q10", "30")]),
        ("Devil's claw extract (4:1) 100 mg", [("Devil's claw extract (4:1)", "100")]),
        ("MSM (200 mg)", [("MSM", "200")]),
        ("cellulose, silica", [("cellulose", None), ("silica", None)]),
        ("Yucca ,25 g", [("Yucca", "0.25")]),
    ],
)
def test_names_and_amounts(reference: Reference, text: str, pairs: list[tuple[str, str | None]]) -> None:
    assert _pairs(reference, text) == pairs


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Vitamin D3 400 IU (10 mcg)", "restated"), ("Fish oil 1 g (EPA 180 mg)", "content"),
        ("Zinc 15 mg (as zinc oxide)", "source"), ("MSM 500 mg (equivalent to 170 mg sulfur)", "equivalent"),
        ("Yucca 25 mg (aerial parts)", "words"), ("Manganese (min) 40 ppm", "bound"),
        ("Fish oil 1 g providing EPA 180 mg", "content"), ("Yucca extract 5 mg standardised to 10 % saponins",
        "content"),
    ],
)  # fmt: skip
def test_what_stands_beside_an_amount(reference: Reference, text: str, kind: str) -> None:
    cut = sheet(reference, text)
    (item,) = read_items(cut, 0, len(cut.tokens))
    assert [aside.kind for aside in item.asides] == [kind]


def test_a_share_of_a_daily_value_is_no_amount(reference: Reference) -> None:
    cut = sheet(reference, "Vitamin C 150 mg 25 %")
    (item,) = read_items(cut, 0, len(cut.tokens))
    assert item.quantity is not None
    assert item.second is not None
    assert plain((item.quantity.number.low, item.second.number.low)) == (150, 25)


def test_marks_of_footnotes_are_kept(reference: Reference) -> None:
    cut = sheet(reference, "Yucca 25 mg\u2020")
    (item,) = read_items(cut, 0, len(cut.tokens))
    assert item.marks == ("\u2020",)


def test_two_bounds_make_one_amount(reference: Reference) -> None:
    cut = sheet(reference, "Calcium not less than 0.8 %, not more than 1.3 %")
    (item,) = read_items(cut, 0, len(cut.tokens))
    assert item.quantity is not None
    assert (item.quantity.number.low, item.quantity.number.high) == (Decimal("0.8"), Decimal("1.3"))
    assert item.quantity.bound is None


@pytest.mark.parametrize(
    ("text", "is_substance"),
    [
        ("500 mg", True),
        ("400 IU", True),
        ("5 %", True),
        ("40 ppm", True),
        ("90 tablets", False),
        ("10 kcal", False),
        ("5", False),
    ],
)
def test_what_can_be_an_amount_of_a_substance(reference: Reference, text: str, is_substance: bool) -> None:
    assert is_substance_amount(amount(reference, text)) is is_substance


def test_a_bare_number_takes_the_unit_of_its_column(reference: Reference) -> None:
    cut = sheet(reference, "EPA 300")
    (item,) = read_items(cut, 0, len(cut.tokens))
    given = with_inherited(item, reference.units["mg"])
    assert given.quantity is not None
    assert given.quantity.unit == reference.units["mg"]
    assert "unit_inherited" in given.quantity.flags
    assert with_inherited(given, reference.units["g"]) == given
