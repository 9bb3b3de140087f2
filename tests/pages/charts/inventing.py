"""Invented data for charts, plain and strange."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import strategies as st

from service.pages.charts.chart import LAYOUTS, THEMES, Look
from service.pages.charts.composition import Composition, Delivered, ProductContent, Target
from service.pages.charts.cost_and_units import ComparedProduct, CostAndUnits
from service.pages.charts.cost_over_course import BreakEven, CostOverCourse, CostStep, Course
from service.reference.release import DatasetStamp

STAMP = DatasetStamp("9.9.9", "0" * 64, "2031-02-03")
WIDE, NARROW = Look(), Look("narrow")
EVERY_LOOK = [Look(layout, theme) for layout in LAYOUTS for theme in THEMES]
HOSTILE = "<script>alert(1)</script> & \"'><img src=x onerror=y> $x^2$ \x00\x1b[31m\u202egnp\ud800\ufffe]]>{{7*7}}"

names = st.one_of(
    st.text(max_size=60),
    st.sampled_from(
        [HOSTILE, "", " ", "\u0007", "\U0001f436 \U0001f468\u200d\U0001f469\u200d\U0001f467", "\u8edf\u9aa8" * 20]
    ),
    st.from_regex(r"\A[A-Z][a-z]{2,9} (tablet|chew|powder)\Z"),
)
amounts = st.one_of(
    st.none(),
    st.sampled_from([Decimal(0), Decimal("0.0001"), Decimal(1), Decimal(1), Decimal("1e15"), Decimal("1e-20")]),
    st.decimals(min_value=0, max_value=1_000_000, places=4),
)
known = st.decimals(min_value=0, max_value=1_000_000, places=2)
positive = st.decimals(min_value=Decimal("0.001"), max_value=1_000_000, places=3)
looks = st.sampled_from(EVERY_LOOK)


@st.composite
def comparisons(draw: st.DrawFn) -> CostAndUnits:
    """Compare 1 to 50 products of any kind."""
    products = draw(
        st.lists(
            st.builds(
                ComparedProduct,
                name=names,
                unit=names,
                units_per_day=amounts,
                cost_per_day=amounts,
                efficient=st.booleans(),
                objections=st.lists(names, max_size=2).map(tuple),
            ),
            min_size=1,
            max_size=50,
        )
    )
    return CostAndUnits(draw(names), draw(st.sampled_from([None, "USD", "JPY"])), tuple(products))


_steps = st.lists(st.tuples(st.integers(0, 5000), known), max_size=12).map(
    lambda pairs: tuple(CostStep(day, total) for day, total in sorted(pairs))
)


@st.composite
def courses(draw: st.DrawFn) -> CostOverCourse:
    """Invent up to nine courses, some without any cost."""
    found = draw(st.lists(st.builds(Course, name=names, paid=_steps, used=_steps), max_size=9))
    days = max([1, *(step.day for course in found for step in (*course.paid, *course.used))])
    return CostOverCourse(
        subject=draw(names),
        currency=draw(st.sampled_from([None, "USD"])),
        days=days,
        courses=tuple(found),
        start=draw(st.none() | st.dates()) if days < 1000 else None,
        break_even=tuple(draw(st.lists(st.builds(BreakEven, st.integers(0, 6000), names, names), max_size=4))),
    )


@st.composite
def compositions(draw: st.DrawFn) -> Composition:
    """Invent up to twelve products against up to five targets."""
    ends = st.tuples(positive, positive).map(sorted)
    targets = [Target(draw(names), *draw(ends)) for _ in range(draw(st.integers(1, 5)))]
    readings = st.one_of(
        st.just(Delivered(None, None)), st.tuples(known, known).map(lambda pair: Delivered(*sorted(pair)))
    )
    products = [
        ProductContent(draw(names), tuple(draw(readings) for _ in targets)) for _ in range(draw(st.integers(1, 12)))
    ]
    return Composition(draw(names), tuple(targets), tuple(products))


def plain_comparison(count: int) -> CostAndUnits:
    """Invent products whose marks stand apart."""
    products = tuple(
        ComparedProduct(
            f"Invented product {number}",
            "tablet",
            Decimal(1 + number % 7),
            Decimal(number * 37 % 101) / 50 + Decimal("0.1"),
            objections=("invented objection",) if number % 9 == 4 else (),
        )
        for number in range(1, count + 1)
    )
    kept = [one for one in products if not one.objections]
    return CostAndUnits(
        "Invented products for a dog of 34 kg",
        "USD",
        tuple(
            ComparedProduct(
                one.name,
                one.unit,
                one.units_per_day,
                one.cost_per_day,
                not one.objections and not any(_beats(other, one) for other in kept),
                one.objections,
            )
            for one in products
        ),
    )


def _beats(other: ComparedProduct, one: ComparedProduct) -> bool:
    pairs = ((other.cost_per_day, one.cost_per_day), (other.units_per_day, one.units_per_day))
    return all(less is not None and more is not None and less < more for less, more in pairs)
