"""Words that deny, hedge or make a taste of a substance."""

from __future__ import annotations

import pytest

from service.domain.label_wording import only_a_flavor, wording_of
from service.domain.negating import Span


@pytest.mark.parametrize(
    ("text", "start", "flavor"),
    [
        ("chocolate flavor", 0, True),
        ("artificial chocolate flavor", 1, True),
        ("natural and artificial chocolate flavor", 3, True),
        ("natural chocolate flavor", 1, False),
        ("chocolate flavor natural", 0, False),
        ("chocolate powder", 0, False),
        ("chocolate", 0, False),
    ],
)
def test_a_flavor_is_no_plant_unless_it_is_natural(text: str, start: int, flavor: bool) -> None:
    assert only_a_flavor(start, start + 1, tuple(text.split())) is flavor


def test_traces_begin_where_the_label_speaks_of_them() -> None:
    tokens = ("oats", "may", "contain", "walnut")
    assert wording_of(tokens, [Span(3, 4)], ()).traced_from == 1
    assert wording_of(("oats", "walnut"), [Span(1, 2)], ()).traced_from == 2


@pytest.mark.parametrize(
    "text",
    [
        "kann walnut enthalten",
        "kan walnut bevatten",
        "puo contenere walnut",
        "tracce di walnut",
        "traces eventuelles de walnut",
        "made on equipment that handles walnut",
    ],
)
def test_traces_in_other_words(text: str) -> None:
    tokens = tuple(text.split())
    at = tokens.index("walnut")
    assert wording_of(tokens, [Span(at, at + 1)], ()).traced_from < at


def test_a_modal_verb_alone_speaks_of_no_traces() -> None:
    tokens = tuple("kann abfuhrend wirken walnut".split())
    assert wording_of(tokens, [Span(3, 4)], ()).traced_from == len(tokens)


def test_a_denial_reaches_the_name_behind_it() -> None:
    assert 1 in wording_of(("no", "xylitol"), [Span(1, 2)], ()).negated
    assert wording_of(("xylitol",), [Span(0, 1)], ()).negated == frozenset()


@pytest.mark.parametrize(
    ("name", "phrase", "is_plant", "taste"),
    [
        ("garlic", "garlic flavor", True, True),
        ("garlic powder", "garlic powder flavor", True, False),
        ("grape juice", "grape juice flavor", True, False),
        # "Natural" may belong to the name itself.
        ("natural garlic powder", "natural garlic powder flavor", True, False),
        ("garlic powder", "artificial garlic powder flavor", True, True),
        ("xylitol", "xylitol flavor", False, False),
        ("garlic", "garlic", True, False),
    ],
)
def test_a_named_material_is_no_mere_taste(name: str, phrase: str, is_plant: bool, taste: bool) -> None:
    tokens, length = tuple(phrase.split()), len(name.split())
    start = next(at for at in range(len(tokens)) if tokens[at : at + length] == tuple(name.split()))
    assert only_a_flavor(start, start + length, tokens, is_plant=is_plant) is taste
