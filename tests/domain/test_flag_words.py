"""Every flag that an answer carries has its meaning, and no meaning is of a flag that nothing raises."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import service.domain
from service.domain.flag_words import FLAG_WORDS, flag_table
from service.domain.labels.answer import LabelAnswer
from service.domain.labels.assembling import read_label
from service.domain.normalising import normalise
from service.domain.products import LabelFact, Product
from service.reference.release import Reference
from tests.accuracy.label_cases import cases

# Made of a bound or of what an amount is for.
_MADE_OF_PARTS = {"bound_min", "bound_max", "per_day", "per_body_weight"}
_FAR_FROM_PLAIN = (
    "Joint blend 500 mg (60 % glucosamine HCl, 40 % MSM)",
    "Give at most 2 chews daily, over 20 kg 3 chews 3 times a week",
    "Serving size 1-2 chews\nMSM 500 mg",
    "Glucosamine HCl < 5 mg\nMSM ~ 500 mg\nTaurine 5 mg/kg body weight",
    "ME 12,000 kcal/kg\nPrice 0 EUR\nSerding 1 slug",
)


@pytest.mark.parametrize("text", [*(case["text"] for case in cases()), *_FAR_FROM_PLAIN])
def test_a_flag_of_a_label_has_a_meaning(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert set(_flags(answer)) <= set(FLAG_WORDS)
    assert set(_flags(answer)) >= set(answer.flags)


def test_a_flag_of_a_normalised_label_has_a_meaning(reference: Reference) -> None:
    facts = (
        ("Joint blend", "1.5 g"),
        ("Omega 3", "ca. 500 mg"),
        ("Vitamin E", "10 IU"),
        ("MSM", "1.500 mg"),
        ("Iron", "1 gr"),
    )
    product = Product(id="p1", unit="chew", facts=tuple(LabelFact(name, amount) for name, amount in facts))
    answer = normalise(reference, product)
    assert answer.label_flags
    assert {flag for fact in answer.facts for flag in fact.flags} | set(answer.label_flags) <= set(FLAG_WORDS)


def test_flags_that_units_raise_have_a_meaning(reference: Reference) -> None:
    assert {unit.flag for unit in reference.units.values() if unit.flag} <= set(FLAG_WORDS)


def test_no_meaning_is_of_a_flag_that_nothing_raises(reference: Reference) -> None:
    raised = set(_literals(Path(service.domain.__file__).parent)) | {unit.flag for unit in reference.units.values()}
    assert set(FLAG_WORDS) - raised - _MADE_OF_PARTS == set()


def test_the_table_has_a_line_for_each() -> None:
    assert len(flag_table().splitlines()) == len(FLAG_WORDS)
    assert "- `greek_mu`: the micro sign was a Greek letter" in flag_table().splitlines()


def _flags(answer: LabelAnswer) -> Iterator[str]:
    yield from answer.flags
    for part in (answer.serving, answer.container, answer.energy, answer.price):
        yield from part.flags if part is not None else ()
    for one in (*answer.facts, *(inner for fact in answer.facts for inner in fact.constituents)):
        yield from one.flags
    for blend in answer.blends:
        yield from blend.flags
    for direction in answer.directions:
        yield from direction.flags


def _literals(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*.py"):
        if path.name != "flag_words.py":
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value
