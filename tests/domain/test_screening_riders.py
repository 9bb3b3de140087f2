"""What salts and brackets bring along."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from service.domain.screening import ScreenAnswer, Total
from service.reference.release import Reference
from tests.domain.screening_requests import ask, of_kind, product


def _totals(answer: ScreenAnswer) -> dict[str, Total]:
    return {total.ingredient: total for total in answer.totals}


@pytest.mark.parametrize(
    ("name", "element", "percent"),
    [
        # Shares by mass from the formulas and abridged atomic weights (IUPAC): K 39.0983, Na 22.9898, Cl 35.45.
        ("Glucosamine sulfate 2KCl", "potassium", "12.9141"),
        ("Glucosamine sulfate 2NaCl", "sodium", "8.0202"),
        ("Glucosamine sulfate 2KCl", "chloride", "11.7091"),
        ("Glucosamine sulfate 2NaCl", "chloride", "12.3671"),
        ("Glucosamine hydrochloride", "chloride", "16.4402"),
        ("Sodium ascorbate", "sodium", "11.6047"),
        ("Potassium chloride", "chloride", "47.5531"),
        ("Magnesium chloride hexahydrate", "chloride", "34.8746"),
        ("Manganese ascorbate", "manganese", "13.5593"),
    ],
)
def test_elements_of_salts(reference: Reference, name: str, element: str, percent: str) -> None:
    total = _totals(ask(reference, None, product("a", (name, "1000 mg"))))[element]
    assert float(total.high_mg_per_day) == pytest.approx(float(percent) * 10, rel=2e-4)
    assert total.parts[0].name == name


def test_the_vitamin_of_a_mineral_salt(reference: Reference) -> None:
    # 2 x 176.124 of 405.17.
    total = _totals(ask(reference, None, product("a", ("Manganese ascorbate", "100 mg"))))["vitamin-c"]
    assert float(total.high_mg_per_day) == pytest.approx(86.938, rel=1e-4)


def test_nothing_is_brought_twice(reference: Reference) -> None:
    facts = (("Glucosamine sulfate 2KCl", "1000 mg"), ("Potassium", "50 mg"))
    total = _totals(ask(reference, None, product("a", *facts)))["potassium"]
    assert total.high_mg_per_day == D("179.141")
    assert [part.name for part in total.parts] == ["Glucosamine sulfate 2KCl", "Potassium"]


def test_an_element_in_more_than_a_trace_meets_conditions(reference: Reference) -> None:
    def conditions(amount: str) -> set[tuple[str, ...]]:
        vitamin = ("Vitamin C (as sodium ascorbate)", amount)
        answer = ask(reference, None, product("a", vitamin), conditions=("weak heart",))
        return {finding.subjects for finding in of_kind(answer, "condition")}

    # 500 mg of vitamin C bring 65 mg sodium, 6.5 mg/kg; 50 mg bring 0.65 mg/kg.
    assert ("sodium", "heart-failure") in conditions("500 mg")
    assert ("sodium", "heart-failure") not in conditions("50 mg")


def test_a_trace_element_salt_is_no_source_of_potassium(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Potassium iodide", "0.1 mg")), conditions=("kidney disease",))
    assert of_kind(answer, "condition") == []
    assert "potassium" in _totals(answer)


def test_constituents_in_brackets_count(reference: Reference) -> None:
    oil = ("Cod liver oil (providing vitamin D 400 IU, vitamin A 4000 IU)", "1000 mg")
    totals = _totals(ask(reference, None, product("a", oil)))
    assert totals["vitamin-d"].high_mg_per_day == D("0.01")
    assert totals["vitamin-a"].high_mg_per_day == D("1.2")


def test_a_constituent_is_no_second_source(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Cod liver oil (providing vitamin D 400 IU)", "1000 mg")))
    assert [finding.topic for finding in of_kind(answer, "interaction")] == []
    two = ask(reference, "cod liver oil, vitamin D3")
    assert "duplication" in {finding.topic for finding in of_kind(two, "interaction")}


def test_a_constituent_without_a_known_share_counts_as_its_material(reference: Reference) -> None:
    answer = ask(reference, None, product("a", ("Fish oil (containing krill oil 100 mg)", "1000 mg")))
    assert _totals(answer)["krill-oil"].high_mg_per_day == D(100)
