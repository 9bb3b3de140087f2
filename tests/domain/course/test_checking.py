"""What a course is told, held against itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal as D

import pytest

from service.domain.common import Animal
from service.domain.course.checking import checked
from service.domain.course.request import PlanRequest, PriceBreak
from service.domain.errors import InvalidInput
from service.domain.products import LabelFact
from tests.domain.course.making import DOG, pack, planned, units

AGELESS = Animal("dog", D(34))


@pytest.mark.parametrize(
    ("request_", "where", "detail"),
    [
        (PlanRequest(DOG, (pack(),), loading=False, loading_days=30), "loading_days", "beside loading: false"),
        (PlanRequest(DOG, (pack(),), phases=(units("1", 5),), loading_days=30), "loading_days", "beside phases"),
        (
            PlanRequest(DOG, (pack(price=None, currency=None, price_breaks=(PriceBreak(3, D(9)),)),)),
            "product/price_breaks/0",
            "price of a single container",
        ),
        (
            PlanRequest(DOG, (pack(price_breaks=(PriceBreak(3, D(9)), PriceBreak(3, D(8)))),)),
            "product/price_breaks/1/containers",
            "3 has a price already",
        ),
        (
            PlanRequest(DOG, (pack(price_breaks=(PriceBreak(3, D(43)),)),)),
            "product/price_breaks",
            "rises with their number",
        ),
        (PlanRequest(AGELESS, (pack(),), birth_date=date(2020, 1, 1)), "start_date", "is needed"),
        (
            PlanRequest(DOG, (pack(),), birth_date=date(2020, 1, 1), start_date=date(2027, 1, 1)),
            "animal/age_years",
            "beside birth_date",
        ),
        (
            PlanRequest(AGELESS, (pack(),), birth_date=date(2028, 1, 1), start_date=date(2027, 1, 1)),
            "birth_date",
            "after the start",
        ),
    ],
)
def test_refused_with_the_place(request_: PlanRequest, where: str, detail: str) -> None:
    with pytest.raises(InvalidInput, match=detail) as caught:
        checked(request_)
    assert [issue.where for issue in caught.value.issues] == [where]


def test_the_age_follows_from_the_birth_date() -> None:
    request = PlanRequest(AGELESS, (pack(),), birth_date=date(2020, 1, 1), start_date=date(2027, 1, 1))
    # 2557 days of 365.25 a year.
    assert round(checked(request).animal.age_years or 0, 3) == D("7.001")
    assert checked(replace(request, birth_date=None)).animal.age_years is None


def test_loading_days_need_a_loading_phase() -> None:
    fish = pack(facts=(LabelFact("EPA", "180 mg"), LabelFact("DHA", "120 mg")))
    with pytest.raises(InvalidInput, match="no loading phase of epa-dha is recorded"):
        planned(fish, loading_days=28)
