"""Daily maxima that could not be tested, and joint supplements above every recorded amount."""

from __future__ import annotations

from decimal import Decimal

from service.domain.common import Animal
from service.domain.products import Product
from service.domain.screening_answers import NotAssessed, ScreenRequest, Total
from service.domain.screening_burden import daily_facts
from service.domain.screening_limits import untested_caution, untested_limits, unusual_amounts
from service.domain.screening_subjects import read_subjects
from service.reference.release import Reference
from tests.domain.screening_requests import product

DOG = Animal("dog", Decimal(10))


def _untested(reference: Reference, label: Product) -> tuple[NotAssessed, ...]:
    subjects = read_subjects(reference, ScreenRequest(DOG, products=(label,)))
    return untested_limits(reference, subjects.mentions, daily_facts(reference, subjects.labels), "dog")


def _glucosamine(mg: int) -> Total:
    return Total("glucosamine", None, Decimal(mg), Decimal(mg), None, ("a",), None, None, None)


def test_fish_oil_without_an_amount_leaves_the_maximum_of_epa_and_dha_untested(reference: Reference) -> None:
    found = _untested(reference, product("a", other="fish oil"))
    assert {gap.a for gap in found} == {"fish-oil"}
    owners = {row.id: row.ingredient_id for row in reference.tables["limits"]}
    assert {owners[gap.b] for gap in found} == {"epa-dha"}
    (caution,) = untested_caution(reference, found)
    assert caution.code == "limit_not_tested"


def test_an_amount_can_be_tested(reference: Reference) -> None:
    assert _untested(reference, product("a", ("EPA and DHA", "100 mg"))) == ()
    assert untested_caution(reference, ()) == ()


def test_a_joint_supplement_above_all_records_is_for_the_veterinarian(reference: Reference) -> None:
    (found,) = unusual_amounts(reference, (_glucosamine(1_000_000),), DOG)
    assert (found.kind, found.level, found.subjects) == ("over_limit", "veterinarian", ("glucosamine",))
    assert unusual_amounts(reference, (_glucosamine(100),), DOG) == ()
    assert unusual_amounts(reference, (_glucosamine(1_000_000),), Animal("dog")) == ()
