"""Units told with their size."""

from __future__ import annotations

import pytest

from service.domain.labels.sized_units import hyphenated, sized_per
from service.reference.release import Reference
from tests.domain.labels.reading import plain, sheet


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [("90-count", 90, "piece"), ("5-g", 5, "gram"), ("500-ml", 500, "millilitre"), ("2-chew", 2, "chew")],
)
def test_a_hyphen_joins_number_and_unit(reference: Reference, text: str, value: int, unit: str) -> None:
    cut = sheet(reference, text)
    found = hyphenated(cut, 0, len(cut.tokens))
    assert found is not None
    assert found.unit is not None
    assert plain((found.number.low, found.unit.unit)) == (value, unit)


@pytest.mark.parametrize("text", ["7-in-1", "5 - g", "90 count", "count-90", "1.000-g", "5-"])
def test_other_hyphens_join_nothing(reference: Reference, text: str) -> None:
    cut = sheet(reference, text)
    assert hyphenated(cut, 0, len(cut.tokens)) is None


@pytest.mark.parametrize(
    ("text", "kind", "count", "unit", "size"),
    [
        ("par comprim\u00e9 de 2 g", "unit", 1, "tablet", 2), ("pro Tablette \u00e0 2 g", "unit", 1, "tablet", 2),
        ("por comprimido de 2 g", "unit", 1, "tablet", 2), ("per tablet of approx. 2 g", "unit", 1, "tablet", 2),
        ("per 2 g tablet", "unit", 1, "tablet", 2), ("per 2 g-tablet", "unit", 1, "tablet", 2),
        ("per 5 ml pump", "unit", 1, "pump", 5), ("je 5-g-Portion", "serving", 1, "serving", 5),
        ("per serving of 5 g", "serving", 1, "serving", 5), ("por dosis de 5 g", "serving", 1, "serving", 5),
        ("per serving of 2 chews", "serving", 1, "serving", 2), ("(per tablet of 2 g)", "unit", 1, "tablet", 2),
        ("per 2-chew serving", "unit", 2, "chew", None), ("per 2 chew serving", "unit", 2, "chew", None),
        ("per 2 chews", "unit", 2, "chew", None), ("per kg", "product_mass", 1, "kilogram", None),
        ("per 5 ml", "volume", 5, "millilitre", None), ("per tablet of MSM", "unit", 1, "tablet", None),
    ],
)  # fmt: skip
def test_what_amounts_are_for_with_its_size(
    reference: Reference, text: str, kind: str, count: int, unit: str, size: int | None
) -> None:
    cut = sheet(reference, text)
    found = sized_per(cut, 0, len(cut.tokens))
    assert found is not None
    assert found.per.unit is not None
    assert plain((found.per.kind, found.per.count, found.per.unit.unit)) == (kind, count, unit)
    assert plain(found.size.number.low if found.size else None) == size


def test_words_that_say_nothing_of_the_kind(reference: Reference) -> None:
    cut = sheet(reference, "tablet of 2 g")
    assert sized_per(cut, 0, len(cut.tokens)) is None
