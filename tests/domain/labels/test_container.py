"""The size of a pack."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.reading import plain

# By the definitions of ounce and pound (source chem-s63).
OUNCE_G, POUND_G = 28.349523125, 453.59237


@pytest.mark.parametrize(
    ("text", "count", "unit", "net_g", "net_ml", "packs"),
    [
        ("90 ct", 90, "piece", None, None, None),
        ("Contents: 120 tablets", 120, "tablet", None, None, None),
        ("Inhalt: 60 Tabletten", 60, "tablet", None, None, None),
        ("2 x 60 tablets (twin pack)", 120, "tablet", None, None, 2),
        ("120 count (30 free!)", 120, "piece", None, None, None),
        ("60 + 20 free chews", 80, "chew", None, None, None),
        ("Net wt 150 g", None, None, 150, None, None),
        ("Net wt 5.3 oz (150 g)", None, None, 150, None, None),
        ("Nettogewicht: 1,5 kg", None, None, 1500, None, None),
        ("Poids net : 500 g", None, None, 500, None, None),
        ("Peso neto: 500 g", None, None, 500, None, None),
        ("Net wt 1 lb", None, None, POUND_G, None, None),
        ("Net wt 1 lb 4 oz", None, None, POUND_G + 4 * OUNCE_G, None, None),
        ("8 fl oz (236 mL)", None, None, None, 236, None),
        ("90 ct \u2022 4.2 g ea", 90, "piece", 378, None, None),
        ("120 tablets, 1.5 g each", 120, "tablet", 180, None, None),
    ],
)  # fmt: skip
def test_sizes(
    reference: Reference, text: str, count: int | None, unit: str | None, net_g: float | None, net_ml: float | None,
    packs: int | None,
) -> None:  # fmt: skip
    found = read_label(reference, text).container
    assert found is not None
    assert (found.unit_count, found.unit, found.packs) == (count, unit, packs)
    assert (None if found.net_g is None else float(found.net_g)) == (None if net_g is None else pytest.approx(net_g))
    assert (None if found.net_ml is None else float(found.net_ml)) == net_ml


@pytest.mark.parametrize(
    ("text", "flag"),
    [
        ("120 count (30 free!)", "promo_inside_count"), ("60 + 20 free chews", "promo_inside_count"),
        ("90 ct", "ct_is_count"), ("Net wt 5.3 oz (150 g)", "restated_amount"),
        ("Net wt 100 g (500 g)", "several_sizes"),
    ],
)  # fmt: skip
def test_what_a_reader_should_know(reference: Reference, text: str, flag: str) -> None:
    assert flag in read_label(reference, text).flags


@pytest.mark.parametrize(
    ("text", "count", "net_g"),
    [
        ("Joint support powder 500 g", None, 500), ("Hip tablets, 120 ct", 120, None),
        ("Hip tablets 120 ct", 120, None),
    ],
)  # fmt: skip
def test_a_title_with_its_size(reference: Reference, text: str, count: int | None, net_g: int | None) -> None:
    answer = read_label(reference, text)
    assert answer.container is not None
    assert (answer.container.unit_count, answer.container.net_g) == (count, net_g)
    assert answer.facts == ()


@pytest.mark.parametrize("text", ["400 mg", "2 chews", "MSM 500 mg"])
def test_what_is_no_pack(reference: Reference, text: str) -> None:
    assert read_label(reference, text).container is None


@pytest.mark.parametrize(
    "text",
    ["0 tablets", "Net wt 0 g", "5 x 10^9 tablets", "Serving size 1 500 ml", "Each tablet weighs 1 mcg", "5 00 \u20ac"],
)
def test_a_size_that_no_pack_has_does_not_reach_the_product(reference: Reference, text: str) -> None:
    # What `normalise` refuses: counts outside 0.001 to a million, servings above 1,000 units, masses below 0.001 g.
    product = read_label(reference, f"{text}\nMSM 500 mg").product
    assert product.unit_count is None or 0 < product.unit_count <= 1_000_000
    assert product.serving is None or 0 < product.serving.units <= 1000
    assert product.unit_mass_g is None or product.unit_mass_g >= 0.001
    assert product.price is None or product.price > 0


@pytest.mark.parametrize(
    ("text", "count", "unit_mass_g"),
    [("240g (60 x 4g)", 60, 4), ("30 sachets x 2 g (60 g)", 30, 2), ("60 capsules, 2 month supply", 60, None)],
)
def test_units_and_their_mass(reference: Reference, text: str, count: int, unit_mass_g: int | None) -> None:
    found = read_label(reference, text).container
    assert found is not None
    assert plain((found.unit_count, found.unit_mass_g)) == (count, unit_mass_g)


def test_a_price_counts_no_pieces(reference: Reference) -> None:
    assert read_label(reference, "2 for \u00a330 or \u00a317.99 each").container is None


def test_a_remark_in_brackets_leaves_the_count(reference: Reference) -> None:
    answer = read_label(reference, "60 sprinkle capsules (open and mix with food)")
    assert answer.container is not None
    assert answer.container.unit_count == 60
    assert [(one.kind, one.text) for one in answer.statements] == [("claim", "(open and mix with food)")]
    assert answer.unread == ()


def test_a_remark_that_names_a_hazard_is_heard(reference: Reference) -> None:
    assert [one.hazard for one in read_label(reference, "60 capsules (contains xylitol)").hazards] == ["xylitol"]


def test_a_pack_tells_what_one_unit_weighs(reference: Reference) -> None:
    answer = read_label(reference, "Additives per kg: Vitamin C 6,000 mg\nContents: 90 tablets (180 g)")
    assert answer.container is not None
    assert answer.container.unit_mass_g == 2
    assert "unit_mass_from_net" in answer.flags
    # 6,000 mg in a kilogram are 12 mg in 2 g.
    assert answer.facts[0].mg_per_unit == 12


@pytest.mark.parametrize(
    "text", ["90 tablets\nNet wt 5 lb", "3 x 90 chews\nNet wt 300 g", "90 chews (4 g each)\nNet wt 500 g"]
)
def test_a_pack_that_does_not_tell_it(reference: Reference, text: str) -> None:
    assert "unit_mass_from_net" not in read_label(reference, text).flags
