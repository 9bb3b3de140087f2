"""How much of a harmful substance reaches the animal per day."""

from __future__ import annotations

from decimal import Decimal

import pytest

from service.domain.common import Animal
from service.domain.products import Product
from service.domain.screening_answers import ScreenRequest
from service.domain.screening_burden import Burden, burden_of, daily_facts, units_per_day
from service.domain.screening_subjects import ReadLabel, read_subjects
from service.reference.release import Reference
from tests.domain.screening_requests import product


def _burden(reference: Reference, *products: Product) -> Burden:
    subjects = read_subjects(reference, ScreenRequest(Animal("dog", Decimal(10)), products=products))
    return burden_of(reference, subjects.mentions, daily_facts(reference, subjects.labels), "dog")


@pytest.mark.parametrize(("given", "serving", "units"), [("3", "2", 3), (None, "2", 2), (None, None, 1)])
def test_units_per_day(given: str | None, serving: str | None, units: int) -> None:
    label = ReadLabel("product:a", product("a", units_per_day=given, serving_units=serving), ())
    assert units_per_day(label) == units


def test_sources_add_up_over_products_and_units(reference: Reference) -> None:
    found = _burden(reference, product("a", ("Xylitol", "10 mg")), product("b", ("Xylitol", "5 mg"), units_per_day="4"))
    assert found.mg_per_day["xylitol"] == 30
    assert found.not_counted == frozenset()


def test_caffeine_counts_among_the_methylxanthines(reference: Reference) -> None:
    found = _burden(reference, product("a", ("Theobromine", "10 mg"), ("Caffeine", "5 mg")))
    assert found.mg_per_day["caffeine"] == 5
    assert found.mg_per_day["methylxanthines"] == 15


def test_a_name_without_an_amount_is_not_counted(reference: Reference) -> None:
    found = _burden(reference, product("a", other="xylitol"))
    assert found.mg_per_day == {}
    assert [mention.hazard for mention in found.not_counted] == ["xylitol"]


def test_glucosamine_sulfate_with_potassium_chloride_brings_potassium(reference: Reference) -> None:
    subjects = read_subjects(
        reference,
        ScreenRequest(Animal("dog"), products=(product("a", ("Glucosamine sulfate 2KCl", "1000 mg")),)),
    )
    lines = {line.ingredient: line.high_mg for line in daily_facts(reference, subjects.labels)}
    # Two potassium (39.0983) in 605.52 g/mol.
    assert float(lines["potassium"]) == pytest.approx(1000 * 2 * 39.0983 / 605.52, rel=1e-3)


def test_a_stated_share_is_counted_once(reference: Reference) -> None:
    # 22 % of 500 mg; the plant and the substance stand on one line.
    burden = _burden(reference, product("a", ("Guarana extract (22 % caffeine)", "500 mg")))
    assert burden.mg_per_day["caffeine"] == 110
    assert not burden.not_counted
    cocoa = _burden(reference, product("a", ("Cocoa extract (10 % theobromine)", "2 g")))
    assert cocoa.mg_per_day["methylxanthines"] == 200
