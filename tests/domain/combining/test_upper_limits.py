"""The limits of a combination are those by which the screen judges, for everything that the products hold."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.combining.intake import Contents, read_contents
from service.domain.combining.programme import without_noise
from service.domain.combining.upper_limits import UpperLimit, upper_limits
from service.domain.common import Animal
from service.domain.daily_limits import metabolic_weight
from service.domain.products import Product
from service.domain.screening import screen
from service.domain.screening_answers import ScreenAnswer, ScreenRequest
from tests.domain.combining.cases import DOG, HCL, REFERENCE, product, request

CAT = Animal("cat", D(4), D(6))


def _limits(*products: Product, animal: Animal = DOG, given_already: tuple[Product, ...] = ()) -> list[UpperLimit]:
    wanted = request((), products, animal=animal, other_supplements=given_already)
    return list(upper_limits(REFERENCE, read_contents(REFERENCE, wanted, ()), animal))


def _of(limits: list[UpperLimit], ingredient: str, *, hazard: bool = False) -> UpperLimit:
    (found,) = [one for one in limits if one.ingredient == ingredient and isinstance(one.counts, str) is hazard]
    return found


def test_a_published_maximum_by_metabolic_weight() -> None:
    # 2.6 ug per kg^0.75 (limit vitamin-d-dog-nrc): for 34 kg 36.6 ug.
    limit = _of(_limits(product("p", mg={"Vitamin D3": "10 mcg"})), "vitamin-d")
    assert limit.limit_id == "vitamin-d-dog-nrc"
    assert limit.most_mg == D("0.0026") * metabolic_weight(D(34))
    assert not limit.itself_too_much
    # That row was recalled, not seen.
    assert (limit.origin, limit.words) == ("memory", "the recalled maximum (vitamin-d-dog-nrc)")
    assert limit.source_ids


def test_of_what_no_limit_is_enforced_for_a_whole_day_of_food_is_the_limit() -> None:
    limit = _of(_limits(product("p", mg={"Selenium (as sodium selenite)": "10 mcg"})), "selenium")
    assert "maximum of a whole day's food" in limit.words


def test_joint_supplements_are_held_to_the_highest_amount_recorded() -> None:
    limit = _of(_limits(product("p", mg={HCL: 500})), "glucosamine")
    assert "rule of ours" in limit.words
    assert limit.most_mg > 0


def test_a_hazard_is_held_to_where_harm_begins() -> None:
    limits = _limits(product("p", mg={"Caffeine": 10}))
    limit = _of(limits, "caffeine", hazard=True)
    row = next(one for one in REFERENCE.thresholds_of["caffeine", "dog"] if one.id == limit.limit_id)
    assert row.mg_per_kg_low is not None
    assert limit.most_mg == row.mg_per_kg_low * 34
    assert limit.itself_too_much
    assert "from which harm is published" in limit.words
    # Caffeine counts in the sum with theobromine too.
    assert _of(limits, "methylxanthines", hazard=True).counts == "methylxanthines"


def test_what_has_no_limit_has_none() -> None:
    assert _limits(product("p", mg={"MSM": 500})) == []


# What labels may hold beside a target: with a limit, with a hazard, with both, as a salt, in IU, hidden.
LINES = {
    "Vitamin D3": ("mcg", 60),
    "Vitamin A": ("IU", 9000),
    "Selenium": ("mcg", 400),
    "Zinc (as zinc sulfate)": ("mg", 200),
    "Iron (as ferrous fumarate)": ("mg", 900),
    "EPA": ("mg", 4000),
    "DHA": ("mg", 4000),
    "Fish oil": ("mg", 5000),
    "Cod liver oil (providing vitamin D 400 IU)": ("mg", 3000),
    "Glucosamine sulfate 2KCl": ("mg", 3000),
    "Glucosamine": ("mg", 3000),
    "Chondroitin sulfate": ("mg", 3000),
    "Caffeine": ("mg", 800),
    "Garlic powder": ("mg", 9000),
    "Potassium iodide": ("mcg", 4000),
    "Kelp": ("mg", 2000),
    "Alpha-lipoic acid": ("mg", 900),
    "Copper": ("mg", 20),
    "Vitamin B6": ("mg", 90),
}
lines = st.dictionaries(
    st.sampled_from(sorted(LINES)),
    st.integers(1, 100),
    min_size=1,
    max_size=4,
)
animals = st.sampled_from([DOG, Animal("dog", D(5), D(6)), CAT])


def _product(id_: str, shares: Mapping[str, int]) -> Product:
    facts = {name: f"{LINES[name][1] * share / 100:g} {LINES[name][0]}" for name, share in shares.items()}
    return product(id_, mg=facts)


def _amounts(contents: Contents, limit: UpperLimit, counts: list[int]) -> D:
    parts = zip(contents.products, counts, strict=True)
    return limit.mg_of(contents.given) + sum((limit.mg_of(one.intake) * count for one, count in parts), D(0))


def _judged(screened: ScreenAnswer) -> set[str]:
    return {
        id_
        for finding in screened.findings
        if finding.kind == "over_limit" and finding.level == "veterinarian"
        for id_ in finding.subjects
    }


@settings(max_examples=150, deadline=None)
@given(animals, st.lists(lines, min_size=1, max_size=3), st.lists(st.integers(1, 6), min_size=3, max_size=3), lines)
def test_they_are_passed_where_the_screen_finds_so(
    animal: Animal, labels: list[dict[str, int]], drawn: list[int], beside: dict[str, int]
) -> None:
    products = tuple(_product(f"p{place}", shares) for place, shares in enumerate(labels))
    counts = drawn[: len(products)]
    already = (replace(_product("s", beside), units_per_day=D(2)),)
    wanted = request((), products, animal=animal, other_supplements=already)
    contents = read_contents(REFERENCE, wanted, ())
    limits = upper_limits(REFERENCE, contents, animal)
    given_units = tuple(replace(one, units_per_day=D(count)) for one, count in zip(products, counts, strict=True))
    screened = screen(REFERENCE, ScreenRequest(animal, products=given_units, other_supplements=already))
    over, harmful = set(), False
    for limit in limits:
        total, most = without_noise(_amounts(contents, limit, counts)), without_noise(limit.most_mg)
        if isinstance(limit.counts, str):
            harmful = harmful or total > most or (limit.itself_too_much and total == most)
        elif total > most:
            over.add(limit.ingredient)
    held = {key[0] for one in contents.products for key in one.intake.substances}
    assert over == _judged(screened) & held
    # Harm is a reason to stop; what else stops (an unknown amount, a pair) no limit could tell.
    assert not harmful or screened.verdict == "stop"


@pytest.mark.parametrize("reading", ["hydrochloride", "open"])
def test_an_open_form_counts_on_its_high_reading(reading: str) -> None:
    name = {"hydrochloride": HCL, "open": "Glucosamine"}[reading]
    contents = read_contents(REFERENCE, request((), (product("p", mg={name: 500}),)), ())
    limit = _of(list(upper_limits(REFERENCE, contents, DOG)), "glucosamine")
    # 500 mg of hydrochloride hold 415.5 mg of glucosamine (179.17 of 215.63, hydrogen chloride left out); "glucosamine"
    # may be all of it.
    expected = {"hydrochloride": D("415.46"), "open": D(500)}[reading]
    assert abs(limit.mg_of(contents.products[0].intake) - expected) < D("0.01")
