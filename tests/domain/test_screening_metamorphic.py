"""What must not change a screen: order, case, doubled items, an unrelated product, one product split in two."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.common import Animal
from service.domain.screening import Finding, ScreenAnswer, ScreenRequest, screen
from service.reference.release import Reference
from service.reference.releases import load_working_tables
from tests.domain.screening_requests import ask, product

REFERENCE = load_working_tables()
TEXTS = (
    "fish oil",
    "turmeric",
    "willow bark",
    "glucosamine sulfate 2KCl",
    "garlic",
    "5-HTP",
    "calcium carbonate",
    "yucca",
)
MEDICINES = (
    "aspirin",
    "Warfarin 1 mg",
    "doxycycline",
    "KBr",
    "L-thyroxine",
    "antibiotics",
    "zzinvented",
    "tramadol HCl",
)
CONDITIONS = ("weak heart", "kidney trouble", "bladder stones", "surgery next week", "zzyzx", "puppy", "collie")

_some = st.lists(st.sampled_from(TEXTS), min_size=1, max_size=4, unique=True)
_given = st.lists(st.sampled_from(MEDICINES), max_size=3, unique=True)
_has = st.lists(st.sampled_from(CONDITIONS), max_size=3, unique=True)


def _said(answer: ScreenAnswer) -> set[tuple[object, ...]]:
    """What a screen says of recorded pairs, whatever the order in which they stand."""
    kinds = ("interaction", "condition")
    found = {
        (f.kind, frozenset(f.subjects), f.topic, f.level, f.record_ids) for f in answer.findings if f.kind in kinds
    }
    found |= {
        ("overruled", frozenset(one.subjects), one.topic, one.level, (one.record_id,)) for one in answer.overruled
    }
    return found | {("unknown", one.text.casefold().strip(), None, None, ()) for one in answer.unrecognised}


@given(_some, _given, _has)
def test_order_does_not_matter(texts: list[str], medicines: list[str], conditions: list[str]) -> None:
    one = ask(REFERENCE, ", ".join(texts), medications=tuple(medicines), conditions=tuple(conditions))
    turned = ask(
        REFERENCE, ", ".join(texts[::-1]), medications=tuple(medicines[::-1]), conditions=tuple(conditions[::-1])
    )
    assert _said(one) == _said(turned)
    assert one.verdict == turned.verdict


@given(_some, _given, _has)
def test_case_and_spacing_do_not_matter(texts: list[str], medicines: list[str], conditions: list[str]) -> None:
    one = ask(REFERENCE, ", ".join(texts), medications=tuple(medicines), conditions=tuple(conditions))
    loud = ask(
        REFERENCE,
        " ,  ".join(texts).upper(),
        medications=tuple(f"  {text.upper()} " for text in medicines),
        conditions=tuple(f"  {text.upper()} " for text in conditions),
    )
    assert _said(one) == _said(loud)


@given(_some, _given, _has)
def test_saying_a_medicine_or_condition_twice_does_not_matter(
    texts: list[str], medicines: list[str], conditions: list[str]
) -> None:
    one = ask(REFERENCE, ", ".join(texts), medications=tuple(medicines), conditions=tuple(conditions))
    twice = ask(
        REFERENCE, ", ".join(texts), medications=(*medicines, *medicines), conditions=(*conditions, *conditions)
    )
    assert _said(one) == _said(twice)


@given(_some, _given, _has, st.sampled_from(("MSM", "hyaluronic acid", "zinc gluconate", "ginger", "blorb")))
def test_one_thing_more_takes_no_finding_away(
    texts: list[str], medicines: list[str], conditions: list[str], more: str
) -> None:
    def about(answer: ScreenAnswer) -> set[tuple[object, ...]]:
        return {(f.kind, f.subjects, f.topic, f.level) for f in answer.findings}

    order = ("nothing_found", "incomplete", "ask_veterinarian", "stop")
    one = ask(REFERENCE, ", ".join(texts), medications=tuple(medicines), conditions=tuple(conditions))
    with_more = ask(
        REFERENCE,
        ", ".join(texts),
        medications=tuple(medicines),
        conditions=tuple(conditions),
        supplements=(product("more", (more, "10 mg")),),
    )
    pairs = {said for said in about(one) if said[0] in ("interaction", "condition")}
    pairs_with_more = {(kind, frozenset(subjects), topic, level) for kind, subjects, topic, level in about(with_more)}  # type: ignore[call-overload]
    assert {(kind, frozenset(subjects), topic, level) for kind, subjects, topic, level in pairs} <= pairs_with_more  # type: ignore[call-overload]
    assert order.index(with_more.verdict) >= order.index(one.verdict)


FACTS = (
    ("Glucosamine HCl", "500 mg"),
    ("Chondroitin sulfate", "400 mg"),
    ("Manganese ascorbate", "20 mg"),
    ("Vitamin D3", "200 IU"),
    ("Zinc (as zinc gluconate)", "5 mg"),
    ("EPA", "180 mg"),
    ("DHA", "120 mg"),
)


@given(st.lists(st.sampled_from(FACTS), min_size=2, max_size=7, unique=True), st.integers(min_value=1, max_value=6))
def test_a_product_split_in_two_keeps_its_totals(facts: list[tuple[str, str]], cut: int) -> None:
    def totals(*products_: object) -> dict[tuple[str, str | None], tuple[object, ...]]:
        answer = ask(REFERENCE, None, *products_)  # type: ignore[arg-type]
        return {
            (total.ingredient, total.moiety): (total.low_mg_per_day, total.high_mg_per_day, total.limit_mg_per_day)
            for total in answer.totals
        }

    assert totals(product("a", *facts)) == totals(product("a", *facts[:cut]), product("b", *facts[cut:]))


@given(st.lists(st.sampled_from(FACTS), min_size=1, max_size=7, unique=True))
def test_two_a_day_are_twice_one_a_day(facts: list[tuple[str, str]]) -> None:
    once = ask(REFERENCE, None, product("a", *facts)).totals
    twice = ask(REFERENCE, None, product("a", *facts, units_per_day="2")).totals
    for one, two in zip(once, twice, strict=True):
        assert float(two.high_mg_per_day) == pytest.approx(2 * float(one.high_mg_per_day), rel=1e-5)


@pytest.mark.parametrize("where", ["ingredients_text", "products", "other_supplements"])
def test_where_a_substance_stands_does_not_matter(reference: Reference, where: str) -> None:
    label = replace(product("a"), other_ingredients="willow bark")
    wanted = ScreenRequest(
        Animal("dog"),
        ingredients_text="willow bark" if where == "ingredients_text" else None,
        products=(label,) if where == "products" else (),
        other_supplements=(label,) if where == "other_supplements" else (),
        medications=("carprofen",),
    )
    found: list[Finding] = [f for f in screen(reference, wanted).findings if f.kind == "interaction"]
    assert {(f.topic, f.level) for f in found} == {("stomach and kidney", "avoid")}
