"""What the screen objects to: because of the products, not because of what the animal gets anyway."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal as D

from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.combining.screens import Screens, Stop
from service.domain.common import Animal
from service.domain.products import Product
from tests.domain.combining.cases import HCL, REFERENCE, product, request

PLAIN = product("plain", mg={HCL: 500})
GARLIC = product("garlic", mg={HCL: 500, "Garlic powder": 5})
METHIONINE = product("methionine", mg={HCL: 500, "Methionine": 5})
# Calcium pantothenate is 8.4 % calcium. From 1 mg per kg body weight on, 34 mg here, it counts as a source of calcium,
# which a dog with too much of it must not be given: three tablets bring 38 mg.
CALCIUM = product("calcium", mg={HCL: 200, "Calcium pantothenate": 150})


def _screens(*products: Product, **changes: object) -> Screens:
    return Screens(REFERENCE, request((), products, **changes))


def _kinds(stop: Stop | None) -> list[tuple[str, tuple[str, ...]]]:
    assert stop is not None
    return [(one.kind, one.subjects) for one in stop.findings]


def test_nothing_speaks_against_plain_products() -> None:
    screens = _screens(PLAIN, GARLIC, METHIONINE)
    for choice in ({0: 1}, {1: 2}, {2: 1}, {0: 1, 1: 1}):
        assert screens.stop(choice) is None


def test_of_several_products_those_that_do_not_go_together_are_named() -> None:
    stop = _screens(PLAIN, GARLIC, METHIONINE).stop({0: 1, 1: 4, 2: 3})
    assert stop is not None
    assert stop.choice == {1: 1, 2: 1}
    assert _kinds(stop) == [("interaction", ("garlic", "methionine"))]


def test_the_fewest_parts_that_are_too_much() -> None:
    screens = _screens(CALCIUM, PLAIN, conditions=("hypercalcaemia",))
    assert screens.stop({0: 2, 1: 5}) is None
    stop = screens.stop({0: 9, 1: 1})
    assert stop is not None
    assert stop.choice == {0: 3}
    assert _kinds(stop) == [("condition", ("calcium", "hypercalcaemia"))]


def test_what_is_objected_to_anyway_is_not_held_against_a_product() -> None:
    cat = Animal("cat", D(4), D(6))
    screens = _screens(PLAIN, animal=cat, medications=("paracetamol",))
    assert screens.before.verdict == screens.of({0: 1}).verdict == "stop"
    assert screens.stop({0: 1}) is None


def test_another_supplement_does_not_hide_the_same_objection_to_a_product() -> None:
    salt = replace(product("s", mg={"Potassium citrate": 50}), units_per_day=D(1))
    screens = _screens(
        product("p", mg={HCL: 500, "Potassium citrate": 50}),
        PLAIN,
        conditions=("addisons",),
        other_supplements=(salt,),
    )
    assert screens.before.verdict == "stop"
    assert _kinds(screens.stop({0: 1})) == [("condition", ("potassium", "addisons"))]
    assert screens.stop({1: 1}) is None


def test_a_product_that_does_not_go_with_what_is_given_already() -> None:
    beside = replace(product("s", mg={"Methionine": 5}), units_per_day=D(1))
    screens = _screens(PLAIN, GARLIC, other_supplements=(beside,))
    assert screens.before.verdict != "stop"
    assert _kinds(screens.stop({1: 1})) == [("interaction", ("garlic", "methionine"))]
    assert screens.stop({0: 1}) is None


LINES = ("Garlic powder", "Methionine", "Menadione", "Caffeine", "5-HTP", "Calcium pantothenate", "Vitamin D3", "MSM")
labels = st.dictionaries(st.sampled_from(LINES), st.sampled_from(["1 mg", "150 mg", "900 mg"]), min_size=1, max_size=3)
CONDITIONS = ("hypercalcaemia", "anaemia", "epilepsy", "heart failure")


@settings(max_examples=60, deadline=None)
@given(
    st.lists(labels, min_size=2, max_size=3),
    st.lists(st.integers(0, 4), min_size=3, max_size=3),
    st.lists(st.integers(0, 4), min_size=3, max_size=3),
    st.lists(st.sampled_from(CONDITIONS), max_size=2, unique=True),
)
def test_more_of_anything_never_lifts_an_objection(
    drawn: list[dict[str, str]], counts: list[int], more: list[int], conditions: list[str]
) -> None:
    products = [product(f"p{place}", mg={HCL: 100, **lines}) for place, lines in enumerate(drawn)]
    screens = _screens(*products, conditions=tuple(conditions))
    choice = {place: counts[place] for place in range(len(products)) if counts[place]}
    larger = {place: counts[place] + more[place] for place in range(len(products)) if counts[place] + more[place]}
    if not choice:
        return
    stop = screens.stop(choice)
    if stop is None:
        return
    assert screens.objections(larger)
    # As little as possible: one part or one product less meets no objection.
    assert screens.objections(stop.choice)
    for place, count in stop.choice.items():
        less = {**stop.choice, place: count - 1} if count > 1 else dict(stop.choice.items() - {(place, count)})
        assert not less or not screens.objections(less)
