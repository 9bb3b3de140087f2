"""Finding spellings in phrases: on a few invented rows, so that each rule shows by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from service.domain.name_index import Hit, NameIndex, _Forms
from service.domain.resolving import resolver_for
from service.reference.records import Name
from service.reference.release import Reference


def _row(name: str, target: str, mode: str = "phrase") -> Name:
    return Name(
        name=name, language="en", type="common", match_mode=mode, target_kind="ingredient", target_id=target,
        false_friend_of=None, note=None, source_id="memory", more_source_ids=(), locator=None, origin="memory",
    )  # fmt: skip


class _CountingIndex(NameIndex):
    """Counts how often it looks for a spelling."""

    steps = 0

    def _longest_at(self, forms: _Forms, at: int, end: int) -> tuple[int, list[Name]]:
        self.steps += 1
        return super()._longest_at(forms, at, end)


INDEX = NameIndex(
    (
        _row("grape", "grape"),
        _row("grape seed oil", "grape-seed-oil"),
        _row("mussel powder", "mussel"),
        _row("powder mussel of the north", "northern-mussel"),
        _row("berries", "berry"),
        _row("salt", "salt", "exact_item"),
        _row("Mg", "magnesium", "exact_item"),
        _row("sweetener", "sweetener", "exact_item"),
        _row("cod liver oil", "oil"),
        _row("cod liver oil", "vitamin-a"),
    ),
    fillers=frozenset({"dried", "no", "organic", "sweetener", "of", "the"}),
)


def _found(*tokens: str) -> list[tuple[int, int, str | None]]:
    return [(hit.start, hit.end, hit.row.target_id) for hit in INDEX.scan(tokens)]


def test_the_longest_spelling_hides_the_shorter_one() -> None:
    assert _found("grape", "seed", "oil") == [(0, 3, "grape-seed-oil")]
    assert _found("grape", "seed", "flour") == [(0, 1, "grape")]


def test_a_longer_spelling_that_begins_inside_wins() -> None:
    # "mussel powder" would eat the first word of the longer name.
    assert _found("mussel", "powder", "mussel", "of", "the", "north") == [(1, 6, "northern-mussel")]


def test_a_spelling_with_several_meanings_gives_all() -> None:
    assert _found("cod", "liver", "oil") == [(0, 3, "oil"), (0, 3, "vitamin-a")]


def test_plural_and_singular() -> None:
    assert _found("grapes") == [(0, 1, "grape")]
    assert _found("berry") == [(0, 1, "berry")]
    assert _found("leaf") == []
    assert _found("grapes", "seed", "oils") == [(0, 3, "grape-seed-oil")]


@pytest.mark.parametrize(
    ("tokens", "expected"),
    [
        (("salt",), [(0, 1, "salt")]),
        (("dried", "salt"), [(1, 2, "salt")]),
        (("no", "salt"), [(1, 2, "salt")]),
        (("salt", "2g"), [(0, 1, "salt")]),
        (("100mg", "salt"), [(1, 2, "salt")]),
        # Inside an item of other words it means nothing.
        (("salt", "lake"), []),
        (("grape", "salt"), [(0, 1, "grape")]),
        # A unit after a number, an element alone.
        (("mg",), [(0, 1, "magnesium")]),
        (("50", "mg"), []),
    ],
)
def test_a_short_name_counts_only_alone(tokens: tuple[str, ...], expected: list[tuple[int, int, str]]) -> None:
    assert _found(*tokens) == expected


def test_a_filler_that_is_a_class_counts_where_nothing_else_stands() -> None:
    assert _found("organic", "sweetener") == [(1, 2, "sweetener")]
    assert _found("organic", "grape", "sweetener") == [(1, 2, "grape")]


def test_no_words_no_hits() -> None:
    assert INDEX.scan(()) == ()
    assert INDEX.scan(("organic", "dried")) == ()


def test_rows_of_exact_words() -> None:
    assert [row.target_id for row in INDEX.rows_of(("salt",))] == ["salt"]
    assert [row.target_id for row in INDEX.rows_of(("grapes",))] == ["grape"]
    assert INDEX.rows_of(("grape", "seed")) == ()


def test_core_leaves_fillers_and_amounts_out() -> None:
    assert INDEX.core_of(("dried", "grape", "500", "mg", "of", "lake"), 0, 6) == (1, 5)


@pytest.mark.parametrize("word", ["500", "500mg", "3g", "mcg", "iu", "10x", "gdu"])
def test_words_that_are_amounts(word: str) -> None:
    assert NameIndex.is_unit_like(word)


@pytest.mark.parametrize("word", ["d3", "b12", "e967", "mgo", "grape"])
def test_words_that_are_not(word: str) -> None:
    assert not NameIndex.is_unit_like(word)


def test_hits_are_compared_by_place_and_row() -> None:
    row = _row("x", "y")
    assert Hit(0, 1, row) == Hit(0, 1, row)


def test_long_items_take_steps_in_proportion() -> None:
    def steps(count: int) -> int:
        index = _CountingIndex((_row("grape", "grape"), _row("grape seed oil", "grape-seed-oil")))
        index.scan(("grape", "seed", "lake") * count)
        return index.steps

    assert steps(2_000) == 10 * steps(200)


@pytest.mark.parametrize("word", ["grapepulver", "grapepoeder", "grapegranulat", "grapeextrakt"])
def test_a_powder_written_in_one_word_is_the_thing_itself(word: str) -> None:
    assert _found(word) == [(0, 1, "grape")]


def test_other_compounds_are_not_taken_apart() -> None:
    # An oil can be another substance; a name that counts only alone is no part of a compound.
    assert _found("grapeoil") == []
    assert _found("saltpulver") == []
    assert _found("pulver") == []


HAZARDS = NameIndex(
    (
        _row("dried apricot", "fruit"),
        replace(_row("apricot seed", "kernel"), target_kind="hazard"),
        _row("silver birch", "birch"),
        _row("birch", "birch"),
        replace(_row("birch sweetener", "xylitol"), target_kind="hazard"),
        _row("sweeteners", "sweetener"),
        replace(_row("synephrine", "synephrine"), target_kind="hazard"),
        _row("Red 3", "colour", "exact_item"),
    )
)


@pytest.mark.parametrize(
    ("phrase", "expected"),
    [
        ("dried apricot seed", [(1, 3, "kernel")]),
        ("dried apricot", [(0, 2, "fruit")]),
        ("silver birch sweetener", [(1, 3, "xylitol")]),
        # "Sweeteners" is a name of its own, and the plural of another.
        ("birch sweeteners", [(0, 2, "xylitol")]),
        ("birch derived sweetener", [(0, 3, "xylitol")]),
        ("birch based", [(0, 1, "birch")]),
        ("neo synephrine", []),
        ("red 3", [(0, 2, "colour")]),
        ("red3", [(0, 1, "colour")]),
    ],
)
def test_a_hazard_is_not_lost_in_its_neighbours(phrase: str, expected: list[tuple[int, int, str]]) -> None:
    assert [(hit.start, hit.end, hit.row.target_id) for hit in HAZARDS.scan(tuple(phrase.split()))] == expected


@pytest.mark.parametrize(
    ("text", "hazards"),
    [
        ("sin gluten y con ajo", {"garlic"}),
        ("ajo molido", {"garlic"}),
        ("dientes de ajo", {"garlic"}),
        ("ail et persil", {"garlic"}),
        ("moins de 2 % d'ail", {"garlic"}),
        ("caf\u00e9 moulu", {"coffee"}),
        ("feuilles de mat\u00e9", {"yerba-mate"}),
        ("rode ui", {"allium"}),
        ("ui en knoflook", {"allium", "garlic"}),
        # A unit, and abbreviations of many things.
        ("400 UI", set()),
        ("EPA and ALA", set()),
        ("chicken and sauce", set()),
    ],
)
def test_short_names_among_other_words(reference: Reference, text: str, hazards: set[str]) -> None:
    found = resolver_for(reference).resolve(text)
    assert {one.hazard for one in found.meanings if one.hazard and not one.negated} == hazards


def test_a_kind_of_an_additive_is_the_additive(reference: Reference) -> None:
    assert resolver_for(reference).resolve("E 967 (i)").hazard == "xylitol"


@pytest.mark.parametrize("printed", ["Xylitsirup", "Xylitkristalle", "Kakaopulver"])
def test_compounds_of_what_something_comes_as(reference: Reference, printed: str) -> None:
    assert resolver_for(reference).resolve(printed).hazard in {"xylitol", "cocoa"}
