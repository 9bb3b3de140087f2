"""Every character of a label, once, with how it was read."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.demo import label, products
from service.domain.labels.assembling import read_label
from service.pages.workbench.highlights import Piece, pieces
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()


def _pieces(text: str) -> tuple[Piece, ...]:
    return pieces(text, read_label(REFERENCE, text))


@pytest.mark.parametrize("product_id", [product["id"] for product in products()])
def test_the_whole_label_in_order(product_id: str) -> None:
    text = label(product_id)
    assert "".join(piece.text for piece in _pieces(text)) == text


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_any_text_in_order(text: str) -> None:
    assert "".join(piece.text for piece in _pieces(text)) == text


def test_names_amounts_packs_and_lists_are_told_apart() -> None:
    text = "Serving size: 2 tablets\nGlucosamine HCl 1000 mg\nOther ingredients: cellulose, xylitol"
    found = {piece.kind: piece.text for piece in _pieces(text) if piece.kind != "read"}
    assert found["name"] == "Glucosamine HCl"
    assert found["amount"] == "1000 mg"
    assert "2 tablets" in found["pack"]
    assert found["listed"] == "cellulose"
    assert found["hazard"] == "xylitol"


def test_what_was_not_understood_is_shown() -> None:
    found = [piece for piece in _pieces("Glucosamine HCl 500 mg\nzzqx 17 flurb") if piece.kind == "unread"]
    assert "zzqx" in "".join(piece.text for piece in found)
    assert all(piece.note.startswith("Not understood: ") for piece in found)


def test_a_denied_hazard_is_no_hazard() -> None:
    kinds = {piece.kind for piece in _pieces("Other ingredients: cellulose, no xylitol")}
    assert "hazard" not in kinds


def test_an_empty_label_has_no_pieces() -> None:
    assert _pieces("") == ()
