"""Slips of hazard names: reported as possible, never accepted, and no alarm over ordinary words."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.label_text import words
from service.domain.label_wording import QUALIFIERS
from service.domain.name_index import NameIndex
from service.domain.near_misses import NearMissFinder
from service.domain.resolving import resolver_for
from service.reference.releases import load_working_tables

REFERENCE = load_working_tables()
FINDER = NearMissFinder(REFERENCE, NameIndex(REFERENCE.names).known_words | QUALIFIERS)
LETTERS = "abcdefghijklmnopqrstuvwxyz"


def _hazards(text: str, covered: set[int] | None = None) -> list[str | None]:
    return [miss.hazard for miss in FINDER.find(words(text), covered or set())]


@pytest.mark.parametrize(
    ("printed", "hazard"),
    [
        ("xylitoll", "xylitol"),
        ("xilytol", "xylitol"),
        ("xyl1tol", "xylitol"),
        ("zylitol", "xylitol"),
        ("xyl itol", "xylitol"),
        ("x y l i t o l", "xylitol"),
        ("macademia nuts", "macadamia"),
        ("paracetemol", "acetaminophen"),
        ("ibuprofin", "ibuprofen"),
        ("Birkenxylitpulver", "xylitol"),
        ("Koffeinpulver", "caffeine"),
        ("Zwiebelgranulatmischung", "allium"),
        ("cafeinne anhydrous", "caffeine"),
        # What a scanner makes of it, and what a line break leaves.
        ("rnacadarnia", "macadamia"),
        ("S-HTP", "five-htp"),
        ("E22O", "sulfites"),
        ("E9 67", "xylitol"),
        ("xyl-\nitol", "xylitol"),
        ("alpha-li-\npoic acid", "alpha-lipoic-acid"),
        # One word of several is misspelt, or a word is missing.
        ("tea treee oil", "tea-tree-oil"),
        ("alpha-lipoic", "alpha-lipoic-acid"),
        ("cream of tratar", "tartaric-acid"),
        ("St Johns wart", "st-johns-wort"),
        ("sweetened with birhc", "xylitol"),
        # Nutrients of which more than mild signs are published.
        ("cholecalcifrol", "vitamin-d3"),
        ("colecalcipherol", "vitamin-d3"),
        ("ferous sulfate", "iron"),
        ("potassium iodid", "iodine"),
        # As it sounds, and short names.
        ("zylotol", "xylitol"),
        ("xyllytol", "xylitol"),
        ("comfri", "comfrey"),
        ("sulphits", "sulfites"),
        ("alchohol", "ethanol"),
        ("onin", "allium"),
        ("5-HTTP", "five-htp"),
        ("Xylitzubereitung", "xylitol"),
    ],
)
def test_slips_are_found(printed: str, hazard: str) -> None:
    assert hazard in _hazards(printed)


@pytest.mark.parametrize(
    "printed",
    # Far from every hazard, too short to tell, ordinary nutrients and mild substances one slip away.
    [
        "zorblaxin",
        "kettlewort bloom",
        "ale",
        "iran",
        "zonc",
        "calcum",
        "sorbitoll",
        "cellulos",
        "omega three oil",
    ],
)
def test_ordinary_words_alarm_no_one(printed: str) -> None:
    assert _hazards(printed) == []


def test_two_slips_only_in_a_long_word_with_the_same_beginning() -> None:
    assert _hazards("macademiq") == ["macadamia"]
    assert _hazards("nacademia") == []
    # In seven letters two slips count where the consonants stay.
    assert _hazards("xilytol") == ["xylitol"]
    assert _hazards("calmora") == []
    # Six letters and two slips: as far from any word as from this one.
    assert "hops" not in _hazards("hopzz")


def test_words_already_understood_are_left_alone() -> None:
    assert _hazards("xylitoll", covered={0}) == []


def test_no_word_of_a_long_item_is_left_out() -> None:
    many = " ".join(f"zorblax{chr(97 + at % 26)}{chr(97 + at // 26)}" for at in range(200))
    assert _hazards(f"{many} xyl-itol") == ["xylitol"]
    assert _hazards(f"{many} xylitoll {many}") == ["xylitol"]


def test_at_most_three_best_first_one_per_hazard() -> None:
    found = FINDER.find(words("xylitoll macademia paracetemol ibuprofin"), set())
    assert len(found) == 3
    assert len({miss.hazard for miss in found}) == 3
    assert [miss.similarity for miss in found] == sorted((miss.similarity for miss in found), reverse=True)
    assert all(Decimal(0) < miss.similarity < Decimal(1) for miss in found)


def test_the_miss_names_the_spelling_and_its_owner() -> None:
    (miss,) = FINDER.find(("xylitoll",), set())
    assert (miss.name.casefold(), miss.ingredient, miss.hazard) == ("xylitol", "xylitol", "xylitol")


@settings(max_examples=150)
@given(
    st.sampled_from(["xylitol", "macadamia", "paracetamol", "ibuprofen", "theobromine", "guarana"]),
    st.integers(0, 20),
    st.sampled_from(["drop", "double", "swap", "change"]),
    st.sampled_from(LETTERS),
)
def test_any_one_slip_is_exact_or_possible_never_nothing(name: str, at: int, slip: str, letter: str) -> None:
    at %= len(name) - 1
    printed = {
        "drop": name[:at] + name[at + 1 :],
        "double": name[: at + 1] + name[at:],
        "swap": name[:at] + name[at + 1] + name[at] + name[at + 2 :],
        "change": name[:at] + letter + name[at + 1 :],
    }[slip]
    wanted = resolver_for(REFERENCE).resolve(name).hazard
    found = resolver_for(REFERENCE).resolve(printed)
    assert wanted in {found.hazard, *(miss.hazard for miss in found.possible)}


@pytest.mark.parametrize(
    ("printed", "hazard"),
    [("canabidiol", "cbd"), ("cnnabidiol", "cbd"), ("hopps", "hops"), ("hoppps", "hops"), ("birch suger", "xylitol")],
)
def test_doubled_letters_and_names_of_forms(printed: str, hazard: str) -> None:
    assert hazard in {miss.hazard for miss in FINDER.find(words(printed), set())}


@pytest.mark.parametrize("printed", ["gravy powder", "grady powder", "henna", "union of taste", "sultan", "current"])
def test_ordinary_words_are_no_slips(printed: str) -> None:
    assert FINDER.find(words(printed), set()) == ()
