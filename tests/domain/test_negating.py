"""What a negation reaches. Every phrase is our own; each has been read aloud before it was given a side."""

from __future__ import annotations

import pytest

from service.domain.label_text import words_and_breaks
from service.domain.negating import (
    Span,
    is_negated,
    negated_words,
    only_denies,
    rest_of_denial,
    states_absence,
)
from service.domain.resolving import resolver_for
from service.reference.release import Reference

PRESENT = [
    "no added sugar (contains xylitol)",
    "No GMO xylitol",
    "0% sugar xylitol",
    "no added sugar. sweetened with xylitol",
    "no sugar \u2013 sweetened with birch sugar",
    "contains no sugar. xylitol added",
    "without grain but with xylitol",
    "No fillers: xylitol",
    "no salt. raisins",
    "No salt added garlic powder",
    "ohne Zucker ges\u00fc\u00dft mit Birkenzucker",
    "nicht ohne Xylit",
    "no sugar added made with grapes",
    "no fat raisins",
    "not xylitol-free",
    "no artificial flavor made with real garlic",
    "without sugar, with xylitol or sorbitol",
    "without preservatives, with onion",
    "no corn, contains xylitol",
    "sans sucre avec xylitol",
    "sin az\u00facar pero con xilitol",
    "caffeine free guarana",
    "No. 40 raisins",
    "zuckerfrei mit Xylit",
    "suikervrij met xylitol",
    "non-dairy creamer with xylitol",
    "weder Mais noch Soja. Xylit",
    "geen suiker, met xylitol",
    "not from concentrate grape juice",
    "not only garlic",
    "no fillers & added xylitol",
    "no sugar and xylitol added",
    "free of fillers & xylitol added",
    "free of fillers & with added garlic",
    "never frozen garlic",
    "never fried onions",
    "nicht bestrahltes Knoblauchpulver",
    "no irradiado ajo",
    "no longer without xylitol",
    "no corn, garlic and parsley",
    "ohne Zucker, mit Xylit und Knoblauch",
    "ohne Zucker, Cellulose, Glucosamin und Knoblauch",
    "without added sugar, cocoa and vanilla",
    "0 g sugar xylitol",
    "sugar: none, xylitol",
    "sin gluten y con ajo",
    "sans gluten mais avec de l'ail",
]
ABSENT = [
    "no xylitol",
    "xylitol-free",
    "free from: xylitol, grapes, onion",
    "contains no xylitol, chocolate or grapes",
    "No xylitol, chocolate, grapes or onion",
    "does not contain xylitol",
    "no contiene xilitol",
    "ohne Zusatz von Xylit",
    "sans ajout de xylitol",
    "sans xylitol ajout\u00e9",
    "senza xilitolo",
    "xylitfrei",
    "no artificial colors or xylitol",
    "no garlic and onion",
    "contains neither xylitol nor chocolate",
    "no harmful xylitol",
    "kein Xylit",
    "contains no added xylitol (no birch sugar)",
    "ne contient pas de xylitol",
    "free of xylitol and grapes",
    "doesn't contain xylitol",
    "enth\u00e4lt weder Xylit noch Trauben",
    "ni xylitol ni raisins secs",
    "non contiene xilitolo",
    "privo di xilitolo",
    "senza glutine n\u00e9 xilitolo",
    "bevat geen xylitol",
    "vrij van xylitol",
    "xylitolvrij",
    "Nicht enthalten: Xylit",
    "free from: corn, soy and xylitol",
    "Free from xylitol & garlic",
    "garlic- and onion-free",
    "garlic-, onion- and soy-free",
    "ohne Zucker, Xylit und Knoblauch",
    "zonder ma\u00efs, xylitol of knoflook",
    "bevat geen ma\u00efs, xylitol en knoflook",
    "senza aggiunta di xilitolo",
    "sans aucun xylitol",
    "ohne jegliches Xylit",
    "niet gezoet met xylitol",
    "not sweetened with xylitol",
    "non dolcificato con xilitolo",
    "w/o xylitol",
    "contains 0 mg xylitol",
    "0g xylitol",
    "garlic not added",
    "xylitol is not included",
    "absence of xylitol",
    "carece de xilitol",
    "xylitol: none",
    "libre de ajo",
    "geen knoflook",
    "no frozen garlic",
]
GRAVE = {"xylitol", "grape-raisin", "garlic", "allium", "guarana", "cocoa"}


def _hazards(reference: Reference, text: str) -> set[str]:
    items = resolver_for(reference).resolve_list(text)
    return {found.hazard for item in items for found in item.resolution.meanings if found.hazard and not found.negated}


@pytest.mark.parametrize("text", PRESENT)
def test_a_hazard_behind_a_negation_of_something_else_is_present(reference: Reference, text: str) -> None:
    assert _hazards(reference, text) & GRAVE


@pytest.mark.parametrize("text", ABSENT)
def test_a_denied_hazard_is_a_statement(reference: Reference, text: str) -> None:
    items = resolver_for(reference).resolve_list(text)
    assert not _hazards(reference, text) & GRAVE
    assert not [miss for item in items for miss in item.resolution.possible]
    assert any(found.negated for item in items for found in item.resolution.meanings)


def test_the_reach_ends_at_the_next_thing_merely_put_behind() -> None:
    tokens, breaks = words_and_breaks("no onion or garlic raisins")
    named = [Span(1, 2), Span(3, 4), Span(4, 5)]
    assert negated_words(tokens, named, breaks, ()) == {1, 2, 3}


def test_a_claim_that_is_a_name_of_its_own_denies_on_behind_an_or(reference: Reference) -> None:
    assert _hazards(reference, "senza zucchero n\u00e9 xilitolo") == {"unspecified-sweetener"}
    assert _hazards(reference, "senza zucchero, xilitolo") == {"unspecified-sweetener", "xylitol"}


def test_a_slip_of_green_denies_nothing(reference: Reference) -> None:
    assert _hazards(reference, "geen tea extract") == {"tea"}
    assert _hazards(reference, "geen coffee bean extract") == {"coffee"}
    assert _hazards(reference, "geen thee") == set()


def test_what_an_unknown_word_is_free_of_is_not_understood(reference: Reference) -> None:
    assert resolver_for(reference).resolve("suggar free").match != "exact"
    assert resolver_for(reference).resolve("zorblax-free").not_understood == ("zorblax",)
    assert resolver_for(reference).resolve("hormone-free").match == "exact"


def test_two_negations_cancel() -> None:
    tokens, breaks = words_and_breaks("nicht ohne xylit")
    assert negated_words(tokens, [Span(2, 3)], breaks, ()) == frozenset()


def test_free_behind_a_name_denies_it_but_free_base_does_not() -> None:
    tokens = ("glucosamine", "free", "base")
    assert not is_negated(tokens, Span(0, 1), ())
    assert is_negated(("glucosamine", "free"), Span(0, 1), ())
    assert not is_negated(("not", "glucosamine", "free"), Span(1, 2), (1,))


@pytest.mark.parametrize(
    "heading", ["free from", "does not contain", "ne contient pas", "frei von", "nicht enthalten", "ohne"]
)
def test_a_heading_that_only_denies(heading: str) -> None:
    assert only_denies(words_and_breaks(heading)[0])


@pytest.mark.parametrize("heading", ["no fillers", "contains", "not without", "free", "no. 40", ""])
def test_a_heading_that_says_something_else(heading: str) -> None:
    assert not only_denies(words_and_breaks(heading)[0])


@pytest.mark.parametrize(
    ("part", "states"),
    [
        ("made free from corn", True),
        ("contains no corn", True),
        ("no contiene ma\u00edz", True),
        ("no added salt", False),
        ("non-dairy creamer", False),
        ("contains corn", False),
    ],
)
def test_a_statement_of_absence_can_stand_anywhere(part: str, states: bool) -> None:
    assert states_absence(words_and_breaks(part)[0]) is states


def test_what_a_denial_is_of() -> None:
    assert rest_of_denial(("no", "garlic")) == ("garlic",)
    assert rest_of_denial(("free", "of", "cocoa")) == ("cocoa",)
