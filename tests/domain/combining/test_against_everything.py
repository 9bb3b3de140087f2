"""Small cases against trying everything: the same three sets, the same units, the same costs, the same order."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal as D
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from service.domain.combining.answer import NOTHING_FITS, OPTIMAL, CombineAnswer
from service.domain.daily_limits import metabolic_weight
from service.domain.products import Product
from tests.domain.combining.cases import DOG, HCL, MSM, Rules, Tried, ask, product, target, try_everything

VITAMIN = "Vitamin D3"
# 2.6 ug per kg^0.75 (limit vitamin-d-dog-nrc), for 34 kg: 36.6 ug.
LIMIT_UG = D("2.6") * metabolic_weight(D(34))
DIVISIBLE = ("whole", "halves", "quarters")


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a label of the case says, in mg and micrograms, and what a pack costs."""

    hcl: int
    msm: int
    vitamin_ug: int
    price: int
    count: int
    divisible: str


# Few different values, so that equal costs, equal contents and exact hits are common.
drawn = st.builds(
    Drawn,
    st.sampled_from([0, 150, 200, 250, 300, 500, 700]),
    st.sampled_from([0, 200, 300, 400, 600]),
    st.sampled_from([0, 0, 0, 5, 9, 20]),
    st.sampled_from([5, 10, 10, 12, 20, 33]),
    st.sampled_from([30, 90, 100, 100]),
    st.sampled_from(DIVISIBLE),
)
several = st.lists(drawn, min_size=1, max_size=5)


def _product(place: int, one: Drawn) -> Product:
    mg: dict[str, object] = {name: amount for name, amount in ((HCL, one.hcl), (MSM, one.msm)) if amount}
    if one.vitamin_ug:
        mg[VITAMIN] = f"{one.vitamin_ug} mcg"
    return product(f"p{place}", one.price, mg=mg, unit_count=D(one.count), divisible=one.divisible)


def _found(answer: CombineAnswer) -> list[tuple[dict[str, D], D]]:
    return [
        ({part.product_id: part.units_per_day for part in one.products}, one.cost_per_day)
        for one in answer.combinations
    ]


def _expected(tried: list[Tried]) -> list[tuple[dict[str, D], D]]:
    return [(dict(one.units), round(D(one.cost.numerator) / D(one.cost.denominator), 4)) for one in tried]


@settings(max_examples=120, deadline=None)
@given(several, st.integers(1, 4), st.booleans())
def test_the_three_best_sets(labels: list[Drawn], most_products: int, narrow: bool) -> None:
    products = [_product(place, one) for place, one in enumerate(labels)]
    high = (550, 450) if narrow else (1000, 800)
    answer = ask([target(HCL, 500, high[0]), target(MSM, 400, high[1])], products, most_products=most_products)
    mg = {
        f"p{place}": {HCL: Fraction(one.hcl), MSM: Fraction(one.msm), VITAMIN: Fraction(one.vitamin_ug)}
        for place, one in enumerate(labels)
    }
    rules = Rules(
        {HCL: (Fraction(500), Fraction(high[0])), MSM: (Fraction(400), Fraction(high[1]))},
        {VITAMIN: Fraction(LIMIT_UG)},
        most_products,
    )
    useful = [one for one, label in zip(products, labels, strict=True) if label.hcl or label.msm]
    tried = try_everything(useful, mg, rules)
    assert DOG.weight_kg == D(34)
    assert [units for units, _ in _found(answer)] == [dict(one.units) for one in tried]
    assert all(
        abs(cost - expected) <= D("0.0001")
        for (_, cost), (_, expected) in zip(_found(answer), _expected(tried), strict=True)
    )
    assert answer.status == (OPTIMAL if tried else NOTHING_FITS)
    assert answer.search_complete
    assert bool(answer.blocked_by) is (not tried)
