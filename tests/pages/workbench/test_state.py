"""What the address of the workbench holds: everything, exactly, and nothing that was not put there."""

from __future__ import annotations

import base64
import json
import string
import zlib
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.pages.workbench.state import (
    LONGEST_TOKEN,
    MOST_PRODUCTS,
    BrokenToken,
    ProductTexts,
    State,
    clean,
    from_form,
    from_token,
    to_token,
    without,
)

FULL = State(
    species="dog",
    weight="34 kg",
    age_years="11",
    medications="carprofen, prednisolone",
    conditions="arthritis",
    ingredients="glucosamine",
    aim="high",
    years="2",
    products=(ProductTexts("Invented tablet", "Glucosamine HCl 500 mg\nMSM 200 mg", "14.40", "USD", "120", "halves"),),
)


def _token(members: object) -> str:
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    packed = packer.compress(json.dumps(members).encode()) + packer.flush()
    return base64.urlsafe_b64encode(packed).decode().rstrip("=")


def test_what_goes_into_an_address_comes_out() -> None:
    assert from_token(to_token(FULL)) == FULL


_TEXTS = st.text(st.characters(categories=["L", "N", "P", "S", "Zs"]), max_size=60).map(str.strip)


@given(
    st.builds(State, _TEXTS, _TEXTS, products=st.lists(st.builds(ProductTexts, _TEXTS, _TEXTS), max_size=4).map(tuple))
)
def test_any_state_comes_out_as_it_went_in(state: State) -> None:
    token = to_token(state)
    assert set(token) <= set(string.ascii_letters + string.digits + "-_")
    told = State(state.species, state.weight, products=state.told_products)
    assert from_token(token) == told


def test_a_dozen_ordinary_labels_fit_into_one_address() -> None:
    # Twelve different labels of some 600 characters; every line its own amounts.
    labels = tuple(
        ProductTexts(
            f"Invented product {number}",
            "\n".join(f"Ingredient {number * line} extract {number + line * 37} mg per tablet" for line in range(14)),
            f"{number}.95",
            "EUR",
            "90",
        )
        for number in range(1, MOST_PRODUCTS + 1)
    )
    assert len(to_token(State(weight="34 kg", products=labels))) < LONGEST_TOKEN


@pytest.mark.parametrize(
    "token",
    [
        "",
        "!",
        "AAAA",
        "é",
        to_token(FULL)[:-3],
        to_token(FULL) + "AAAA",
        _token([]),
        _token("text"),
        _token({"species": 1}),
        _token({"unknown": "x"}),
        _token({"products": {}}),
        _token({"products": ["x"]}),
        _token({"products": [{"label": None}]}),
        _token({"products": [{}] * (MOST_PRODUCTS + 1)}),
        _token({"species": "x" * 20_001}),
        _token({"products": [{"label": "x" * 300_000}]}),
    ],
)
def test_an_address_that_was_cut_or_made_up_is_told(token: str) -> None:
    with pytest.raises(BrokenToken):
        from_token(token)


def test_a_deeply_nested_token_does_no_harm() -> None:
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    packed = packer.compress(b"[" * 150_000) + packer.flush()
    with pytest.raises(BrokenToken):
        from_token(base64.urlsafe_b64encode(packed).decode().rstrip("="))


@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(token: str) -> None:
    with suppress(BrokenToken):
        assert isinstance(from_token(token), State)


def test_products_stand_in_the_order_of_their_numbers() -> None:
    form = {"weight": " 34 kg ", "p10_label": "ten", "p2_label": "two", "p2_price": "3", "utm_source": "x", "p1_x": "y"}
    state = from_form(form)
    assert state.weight == "34 kg"
    assert [product.label for product in state.products] == ["two", "ten"]
    assert state.products[0].price == "3"


def test_links_of_other_pages_name_one_ingredient() -> None:
    assert from_form({"ingredient": "msm"}).ingredients == "msm"
    assert from_form({"ingredient": "msm", "ingredients": "glucosamine"}).ingredients == "glucosamine"


def test_no_more_products_than_the_page_holds() -> None:
    assert len(from_form({f"p{number}_label": "x" for number in range(1, 60)}).products) == MOST_PRODUCTS


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("a\r\nb\rc", "a\nb\nc"),
        ("x\x00y\x1cz\ud800", "x\ufffdy\ufffdz\ufffd"),
        ("500\u202fmg\u00a0\u2009x\ty", "500\u202fmg\u00a0\u2009x\ty"),
        ("  a  ", "a"),
        ("y" * 30_000, "y" * 20_000),
    ],
)
def test_typed_text_is_kept_but_for_what_no_page_may_hold(typed: str, kept: str) -> None:
    assert clean(typed) == kept


def test_one_product_can_be_taken_away() -> None:
    three = State(products=tuple(ProductTexts(name) for name in "abc"))
    assert [product.name for product in without(three, 1).products] == ["a", "c"]
    assert without(three, 7) == three


def test_blank() -> None:
    assert State(products=(ProductTexts(),)).is_blank
    assert not FULL.is_blank
