"""The label as a whole, and the product that other endpoints take."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.labels.assembling import LONGEST_LABEL, MOST_FACTS, read_label
from service.reference.release import Reference
from tests.domain.labels.laws import sent_on
from tests.domain.labels.reading import plain

# Invented.
LABEL = """Supplement Facts
Serving Size: 2 soft chews (10 g)
Servings per container: 45
Amount Per Serving   % Daily Value
Glucosamine HCl   1,000 mg   *
MSM  400 mg  25 %
Vitamin E (as d-alpha-tocopheryl acetate) 30 IU
* Daily Value not established
Joint blend 300 mg: turmeric, yucca
Other ingredients: cellulose, xylitol, zorblax root.
Directions: Dogs up to 25 lb: 1 chew daily. 26-50 lb: 2 chews daily.
Store below 25 \u00b0C.
Net wt 450 g
$24.90"""


def test_an_ordinary_label(reference: Reference) -> None:
    answer = read_label(reference, LABEL)
    assert plain([(fact.ingredient, fact.mg_per_serving, fact.mg_per_unit) for fact in answer.facts[:2]]) == [
        ("glucosamine", 1000, 500), ("msm", 400, 200),
    ]  # fmt: skip
    assert answer.facts[2].form == "alpha-tocopheryl-acetate"
    assert [blend.mg for blend in answer.blends] == [300]
    assert [one.ingredient for one in answer.other_ingredients] == ["cellulose", "xylitol", None]
    assert [one.hazard for one in answer.hazards] == ["xylitol"]
    assert len([band for one in answer.directions for band in one.bands]) == 2
    assert answer.unread == ()
    assert {caution.code for caution in answer.cautions} >= {"hazards_on_label", "amounts_undisclosed"}


def test_the_product_of_an_ordinary_label(reference: Reference) -> None:
    product = read_label(reference, LABEL).product
    # 45 servings of two chews.
    assert plain((product.unit, product.unit_count, product.price, product.currency)) == (
        "chew",
        90,
        Decimal("24.90"),
        "USD",
    )
    assert product.serving is not None
    assert plain((product.serving.units, product.serving.mass_g)) == (2, 10)
    assert [fact.name for fact in product.facts] == [
        "Glucosamine HCl", "MSM", "Vitamin E (as d-alpha-tocopheryl acetate)", "Joint blend: turmeric, yucca",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "unit_count"),
    [
        ("90 chews", 90), ("Serving size: 2 chews\nServings per container: 45", 90),
        ("Serving size: 1 scoop (5 g)\nNet wt 500 g", 100), ("Each chew weighs 4 g\nNet wt 360 g", 90),
        ("Serving size: 1 tsp (5 ml)\n250 ml", 250), ("MSM 500 mg", None),
    ],
)  # fmt: skip
def test_units_in_the_pack(reference: Reference, text: str, unit_count: int | None) -> None:
    assert read_label(reference, text).product.unit_count == unit_count


@pytest.mark.parametrize(
    "text", ["Serving size: 5 g\nGlucosamine HCl 8000 mg/kg", "Serving size: 5 g\nGlucosamine HCl 500 mg"]
)
def test_a_serving_told_only_in_grams_is_not_lost(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    (theirs,) = sent_on(reference, answer).facts
    assert theirs.mg_per_unit == answer.facts[0].mg_per_unit
    assert "serving_not_stated" not in sent_on(reference, answer).label_flags


def test_what_is_denied_stays_denied_when_sent_on(reference: Reference) -> None:
    answer = read_label(reference, "Ingredients: cellulose. Free from: xylitol, chocolate")
    assert sent_on(reference, answer).hazards == ()


def test_a_hazard_in_what_was_not_understood_is_sent_on(reference: Reference) -> None:
    answer = read_label(reference, "Qwerty 12 xylitol zzz 9\nMSM 500 mg")
    assert "xylitol" in [one.hazard for one in answer.hazards]
    assert "xylitol" in [one.hazard for one in sent_on(reference, answer).hazards]


def test_the_language_is_given_or_found(reference: Reference) -> None:
    text = "Zus\u00e4tze je kg: Vitamin E 1.500 mg"
    assert read_label(reference, text).locale == "de"
    assert read_label(reference, text, "en").locale == "en"
    assert read_label(reference, text, "en").facts[0].value == Decimal("1.5")
    assert read_label(reference, text, "de").facts[0].value == 1500


def test_more_facts_than_a_product_takes_are_told(reference: Reference) -> None:
    answer = read_label(reference, "\n".join(f"MSM {at} mg" for at in range(1, MOST_FACTS + 11)))
    assert len(answer.product.facts) == MOST_FACTS
    assert "too_many_facts" in answer.flags
    assert "MSM 70 mg" in " ".join(one.text for one in answer.unread)


@pytest.mark.parametrize("text", ["", " ", "\n\n", "\u200b", "...", "*", "()", "\u00b9", "\u00bd", "5"])
def test_texts_that_are_no_label(reference: Reference, text: str) -> None:
    answer = read_label(reference, text)
    assert (answer.facts, answer.blends, answer.hazards) == ((), (), ())


def test_a_label_of_the_greatest_length(reference: Reference) -> None:
    text = ("MSM 500 mg\n" * 2000)[:LONGEST_LABEL]
    assert read_label(reference, text).facts[0].mg == 500


def test_flags_are_named_once(reference: Reference) -> None:
    flags = read_label(reference, "Glucosamine 500 mg\nGlucosamine 400 mg\nVitamin E 30 IU").flags
    assert len(flags) == len(set(flags))
    assert "form_not_stated" in flags
