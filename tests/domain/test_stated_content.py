"""Contents that a bracket states itself. Sums are worked by hand."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.stated_content import stated_content
from service.reference.release import Reference


@pytest.mark.parametrize(
    ("ingredient", "text", "mg", "moiety"),
    [
        # 300 + 200 of the two parts make 500 of the whole.
        ("epa-dha", "EPA 300 mg, DHA 200 mg", D(500), "EPA + DHA"),
        ("epa-dha", "180 mg EPA & 120 mg DHA", D(300), "EPA + DHA"),
        ("epa-dha", "EPA 0.3 g", D(300), "EPA"),
        ("zinc", "Zn: 18 mg", D(18), "zinc"),
        ("zinc", "providing 15 mg elemental zinc", D(15), "zinc"),
        ("cannabidiol", "10 mg CBD", D(10), "cannabidiol"),
        # 100 mg of hydrochloride hold 83.0923 mg of base.
        ("glucosamine", "100 mg glucosamine HCl", D("83.0923"), "glucosamine"),
    ],
)
def test_parts_are_added(reference: Reference, ingredient: str, text: str, mg: D, moiety: str) -> None:
    found = stated_content(reference, ingredient, text)
    assert found is not None
    assert (found.low_mg, found.high_mg, found.moiety) == (mg, mg, moiety)


@pytest.mark.parametrize(
    ("text", "low", "high", "moiety"),
    [
        # A total is no further part: it bounds what the parts leave open.
        ("Total omega-3 300 mg, EPA 180 mg, DHA 100 mg", 280, 280, "EPA + DHA"),
        ("EPA 180 mg, DHA 100 mg, other omega-3 20 mg", 280, 280, "EPA + DHA"),
        ("Omega-3 300 mg, EPA 180 mg", 180, 300, "EPA + DHA"),
        ("omega-3 300 mg", 0, 300, "EPA + DHA"),
        ("EPA 180 mg, omega-6 10 mg", 180, 180, "EPA"),
        # The acid is 302.458 / 330.512 of EPA's ethyl ester: 100 mg of it are 91.512 mg.
        ("EPA (as ethyl ester) 100 mg", "91.512", 100, "EPA"),
        ("EPA as ethyl ester 100 mg", "91.512", 100, "EPA"),
    ],
)
def test_a_total_is_not_added_to_its_parts(
    reference: Reference, text: str, low: int | str, high: int, moiety: str
) -> None:
    found = stated_content(reference, "epa-dha", text)
    assert found is not None
    assert (found.low_mg, found.high_mg, found.moiety) == (D(low), D(high), moiety)


@pytest.mark.parametrize(
    ("ingredient", "text"),
    [
        # No unit, another substance, an open form, no mass, a separator that can be read two ways.
        ("epa-dha", "EPA 300, DHA 200"),
        ("epa-dha", "EPA 300 mg, vitamin E 2 mg"),
        ("zinc", "fresh 2,500 mg"),
        ("glucosamine", "100 mg glucosamine"),
        ("epa-dha", "EPA 400 IU"),
        ("zinc", "1.500 mg zinc"),
        ("zinc", "1 50 mg zinc"),
        ("zinc", ""),
        ("epa-dha", "omega-6 10 mg"),
    ],
)
def test_what_is_not_understood_states_nothing(reference: Reference, ingredient: str, text: str) -> None:
    assert stated_content(reference, ingredient, text) is None
